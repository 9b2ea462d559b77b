package taskdata_test

import (
	"encoding/binary"
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
	p.Products, p.Software = []string{"product A", "product B"}, "9.9"
	p.Fields[0].Name, p.Fields[0].Customer, p.Fields[0].Farm = "the first", "the customer", "the farm"
	p.Fields[1].Name, p.Fields[1].Customer, p.Fields[1].Farm = "the second", "another", "the farm"
	p.Fields[0].Warning, p.Fields[1].Task = "NOT ADVISED", "its task"
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
	customers, farms, products := root.all("CTR"), root.all("FRM"), root.all("PDT")
	require.Len(t, customers, 2)
	require.Len(t, farms, 2, "farms of one name are two customers'")
	require.Len(t, products, 3)
	for i, customer := range []string{"the customer", "another"} {
		assert.Equal(t, customer, customers[i].attribute("B"))
		assert.Equal(t, "the farm", farms[i].attribute("B"))
		assert.Equal(t, customers[i].attribute("A"), farms[i].attribute("I"))
	}
	for i, product := range []string{"mix: product A, product B", "product A", "product B"} {
		assert.Equal(t, product, products[i].attribute("B"))
	}
	assert.Equal(t, "9.9", root.attribute("ManagementSoftwareVersion"))
	fields, tasks := root.all("PFD"), root.all("TSK")
	require.Len(t, fields, 2)
	require.Len(t, tasks, 2)
	for i, task := range tasks {
		f := fields[i]
		assert.Equal(t, customers[i].attribute("A"), f.attribute("E"))
		assert.Equal(t, farms[i].attribute("A"), f.attribute("F"))
		assert.Equal(t, customers[i].attribute("A"), task.attribute("C"))
		assert.Equal(t, farms[i].attribute("A"), task.attribute("D"))
		assert.Equal(t, f.attribute("A"), task.attribute("E"), "the task is of its own field")
		assert.Equal(t, p.Fields[i].Name, f.attribute("C"))
		assert.Equal(t, []string{"NOT ADVISED, the first", "the second, its task"}[i], task.attribute("B"))
		for _, zone := range task.all("TZN") {
			assert.Equal(t, products[0].attribute("A"), one(zone, "PDV").attribute("C"), "the rate is of the mix")
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

// A terminal lists tasks by their designators alone, of 32 characters at the most.
func TestTasksAreToldApart(t *testing.T) {
	long := "North field with a name that is much too long"
	for name, c := range map[string]struct {
		fields []taskdata.Field
		want   []string
	}{
		"short":            {[]taskdata.Field{{Name: "Pivot", Task: "spray 2026-07-17"}, {Name: "Creek", Task: "spray 2026-07-17"}}, []string{"Pivot, spray 2026-07-17", "Creek, spray 2026-07-17"}},
		"differ at an end": {[]taskdata.Field{{Name: long + " 1", Task: "spray 2026-07-17"}, {Name: long + " 2", Task: "spray 2026-07-17"}}, []string{"North fi..ng 1, spray 2026-07-17", "North fi..ng 2, spray 2026-07-17"}},
		"differ within":    {[]taskdata.Field{{Name: "North field of the old river pasture by the road, east", Task: "spray 2026-07-17"}, {Name: "North field of the new river pasture by the road, east", Task: "spray 2026-07-17"}}, []string{"North fi..east, spray 2026-07-17", "North f..ast~2, spray 2026-07-17"}},
		"but for case":     {[]taskdata.Field{{Name: "Pivot"}, {Name: "PIVOT"}, {Name: "pivot"}}, []string{"Pivot", "PIVOT~2", "pivot~3"}},
		"without a name":   {[]taskdata.Field{{}, {Name: " "}}, []string{"field 1", "field 2"}},
		"against advice":   {[]taskdata.Field{{Name: long, Warning: "NOT ADVISED"}}, []string{"NOT ADVISED, North field .. long"}},
		"32 just fit":      {[]taskdata.Field{{Name: "0123456789abcdefghijklmnopqrstuv"}, {Name: "0123456789abcdefghijklmnopqrstuvw"}}, []string{"0123456789abcdefghijklmnopqrstuv", "0123456789abcdefghij..nopqrstuvw"}},
		"a long task":      {[]taskdata.Field{{Name: "Pivot number nine", Warning: "a warning that is too long by far", Task: "and a task"}}, []string{"a warning that is too , Pivo..ne"}},
		"letters":          {[]taskdata.Field{{Name: "Łąka żółć ęśą ćńó ŁĄKA ŻÓŁĆ ĘŚĄ ĆŃÓ łąka"}}, []string{"Łąka żółć ęśą ćńó ŁĄ..Ą ĆŃÓ łąka"}},
	} {
		got := taskdata.Prescription{Fields: c.fields}.Designators()
		assert.Equal(t, c.want, got, name)
		for _, one := range got {
			assert.LessOrEqual(t, len([]rune(one)), 32, one)
		}
	}
}

// A grid of type 2 holds the rate of each cell as four bytes, the least first, and names
// the zone that tells what the cells are of.
func TestAGridOfRates(t *testing.T) {
	p := withGrid(prescription(4))
	p.GridType = 2
	files, err := p.Files()
	require.NoError(t, err)
	var root element
	require.NoError(t, xml.Unmarshal(files[0].Content, &root))
	for i, task := range root.all("TSK") {
		grid := task.all("GRD")[0]
		assert.Equal(t, []string{"2", "1", "80"}, []string{grid.attribute("I"), grid.attribute("J"), grid.attribute("H")})
		content := files[i+1].Content
		require.Len(t, content, 80)
		for cell, code := range p.Fields[i].Grid.Codes {
			assert.Equal(t, uint32(code)*1400000, binary.LittleEndian.Uint32(content[4*cell:]), "cell %d: 140 L/ha, or none", cell)
		}
		for _, zone := range task.all("TZN") {
			assert.Equal(t, "0", zone.all("PDV")[0].attribute("B"), "no zone has a rate of its own")
		}
	}
	p.GridType = 1
	files, err = p.Files()
	require.NoError(t, err)
	assert.NotContains(t, string(files[0].Content), ` J="1"`, "type 1 names none")
	p.GridType = 3
	_, err = p.Files()
	assert.EqualError(t, err, "taskdata: grid type 3: want 1 or 2")
}
