package taskdata_test

import (
	"encoding/xml"
	"fmt"
	"strconv"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/spraying/taskdata"
)

// element is any element, attributes by their letters.
type element struct {
	XMLName    xml.Name
	Attributes []xml.Attr `xml:",any,attr"`
	Children   []element  `xml:",any"`
}

func (e element) attribute(letter string) string {
	for _, a := range e.Attributes {
		if a.Name.Local == letter {
			return a.Value
		}
	}
	return ""
}

func (e element) all(name string) (out []element) {
	for _, c := range e.Children {
		if c.XMLName.Local == name {
			out = append(out, c)
		}
	}
	return out
}

// Letters by the published lists of ISO 11783-10: each attribute holds what it is for,
// with all values different.
func TestEachAttributeHoldsItsOwn(t *testing.T) {
	p := withGuidance(withGrid(prescription(4)))
	p.Customer, p.Farm, p.Mix, p.Software = "the customer", "the farm", "the mix", "9.9"
	p.Fields[1].Task = "the second task"
	p.Fields[1].Grid.CellNorth, p.Fields[1].Grid.South = 0.0031, 51.25
	files, err := p.Files()
	require.NoError(t, err)
	require.Len(t, files, 3)
	var root element
	require.NoError(t, xml.Unmarshal(files[0].Content, &root))
	one := func(e element, name string) element {
		found := e.all(name)
		require.Len(t, found, 1, name)
		return found[0]
	}
	assert.Equal(t, "the customer", one(root, "CTR").attribute("B"))
	assert.Equal(t, "the farm", one(root, "FRM").attribute("B"))
	assert.Equal(t, one(root, "CTR").attribute("A"), one(root, "FRM").attribute("I"))
	assert.Equal(t, "the mix", one(root, "PDT").attribute("B"))
	assert.Equal(t, "9.9", root.attribute("ManagementSoftwareVersion"))
	fields, tasks := root.all("PFD"), root.all("TSK")
	require.Len(t, fields, 2)
	require.Len(t, tasks, 2)
	for i, task := range tasks {
		f := fields[i]
		assert.Equal(t, one(root, "CTR").attribute("A"), f.attribute("E"))
		assert.Equal(t, one(root, "FRM").attribute("A"), f.attribute("F"))
		assert.Equal(t, one(root, "CTR").attribute("A"), task.attribute("C"))
		assert.Equal(t, one(root, "FRM").attribute("A"), task.attribute("D"))
		assert.Equal(t, f.attribute("A"), task.attribute("E"), "the task is of its own field")
		assert.Equal(t, p.Fields[i].Task, task.attribute("B"))
		for _, zone := range task.all("TZN") {
			assert.Equal(t, one(root, "PDT").attribute("A"), one(zone, "PDV").attribute("C"))
			assert.Equal(t, one(root, "VPN").attribute("A"), one(zone, "PDV").attribute("E"))
		}
		g, grid := p.Fields[i].Grid, one(task, "GRD")
		number := func(letter string) float64 {
			v, err := strconv.ParseFloat(grid.attribute(letter), 64)
			require.NoError(t, err)
			return v
		}
		assert.InDelta(t, g.South, number("A"), 1e-9, "the least latitude")
		assert.InDelta(t, g.West, number("B"), 1e-9, "the least longitude")
		assert.InDelta(t, g.CellNorth, number("C"), 1e-12)
		assert.InDelta(t, g.CellEast, number("D"), 1e-12)
		assert.Equal(t, "4", grid.attribute("E"), "columns, eastwards")
		assert.Equal(t, "5", grid.attribute("F"), "rows, northwards")
		assert.Equal(t, "20", grid.attribute("H"))
		assert.Equal(t, taskdata.Folder+"/"+grid.attribute("G")+".bin", files[i+1].Path)
		assert.Equal(t, g.Codes, files[i+1].Content)
	}
	assert.NotEqual(t, files[1].Path, files[2].Path)
	// A point has its latitude in C and its longitude in D.
	point := fields[1].all("PLN")[0].all("LSG")[0].all("PNT")[0]
	assert.Equal(t, []string{"50", "10.02"}, []string{point.attribute("C"), point.attribute("D")})
}

// Areas of a field are boundaries, those of a zone are zones; of their rings the first
// is the exterior.
func TestPolygonsAreOfTheirKind(t *testing.T) {
	p := prescription(4)
	files, err := p.Files()
	require.NoError(t, err)
	var root element
	require.NoError(t, xml.Unmarshal(files[0].Content, &root))
	kinds := func(polygons []element) (out []string) {
		for _, pln := range polygons {
			text := pln.attribute("A") + ":"
			for _, ring := range pln.all("LSG") {
				text += ring.attribute("A")
			}
			out = append(out, text)
		}
		return out
	}
	assert.Equal(t, []string{"1:12"}, kinds(root.all("PFD")[0].all("PLN")))
	assert.Equal(t, []string{"2:12", "2:1"}, kinds(root.all("TSK")[0].all("TZN")[1].all("PLN")))
	assert.Empty(t, root.all("TSK")[0].all("TZN")[0].all("PLN"))
}

// Columns and rows tell one another apart: a grid of other sides is refused only where
// the codes do not fill it.
func TestGridsAreFilledRowByRow(t *testing.T) {
	for _, c := range []struct {
		columns, rows int
		ok            bool
	}{{4, 5, true}, {5, 4, true}, {20, 1, true}, {4, 4, false}, {0, 5, false}} {
		p := prescription(4)
		p.Fields = p.Fields[1:]
		p.Fields[0].Grid = &taskdata.Grid{South: 50, West: 10.02, CellNorth: 0.002, CellEast: 0.0025, Columns: c.columns, Rows: c.rows, Codes: make([]byte, 20)}
		p.Fields[0].Boundary = orb.MultiPolygon{{ring(10.02, 50, 0.01)}}
		_, err := p.Files()
		assert.Equal(t, c.ok, err == nil, fmt.Sprint(c))
	}
}
