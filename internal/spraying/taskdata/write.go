package taskdata

import (
	"archive/zip"
	"bytes"
	"encoding/xml"
	"fmt"
	"io"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/files/archive"
)

// A File is one file of a set, by its path with the folder TASKDATA.
type File struct {
	Path    string
	Content []byte
}

// Folder is what the folder must be called.
const Folder = "TASKDATA"

// Files renders the folder: TASKDATA.XML, and a file for each grid.
func (p Prescription) Files() ([]File, error) {
	if err := p.validate(); err != nil {
		return nil, err
	}
	r := p.head()
	files := []File{{}}
	for i, f := range p.Fields {
		field, task, err := p.field(i, f)
		if err != nil {
			return nil, err
		}
		if f.Grid != nil {
			files = append(files, File{Folder + "/" + task.Grid.G + ".bin", f.Grid.Codes})
		}
		r.Fields, r.Tasks = append(r.Fields, field), append(r.Tasks, task)
	}
	var b bytes.Buffer
	b.WriteString(xml.Header)
	e := xml.NewEncoder(&b)
	e.Indent("", " ")
	if err := e.Encode(r); err != nil {
		return nil, err
	}
	b.WriteByte('\n')
	files[0] = File{Folder + "/TASKDATA.XML", b.Bytes()}
	return files, nil
}

// WriteZip writes the folder as a zip archive, byte-equal on every run.
func (p Prescription) WriteZip(w io.Writer) error {
	files, err := p.Files()
	if err != nil {
		return err
	}
	z := zip.NewWriter(w)
	for _, f := range files {
		entry, err := archive.Add(z, f.Path)
		if err != nil {
			return err
		}
		if _, err := entry.Write(f.Content); err != nil {
			return err
		}
	}
	return z.Close()
}

const (
	customerID, farmID, productID, valueID = "CTR1", "FRM1", "PDT1", "VPN1"
	volumePerArea                          = "0001" // data dictionary entity 1
)

func (p Prescription) head() root {
	r := root{
		Major: 4, Minor: 3, Manufacturer: "geocoris", Software: text(p.Software, "unknown"), Origin: 1,
		Customers: []ctr{{customerID, text(p.Customer, "-")}},
		Farms:     []frm{{farmID, text(p.Farm, "-"), customerID}},
		Products:  []pdt{{productID, text(p.Mix, "spray mix")}},
		Values:    []vpn{{A: valueID, C: "0.0001", D: 1, E: "L/ha"}},
	}
	if p.Version == 3 {
		r.Major, r.Minor = 3, 3
	}
	if p.GallonsPerAcre {
		r.Values[0].C, r.Values[0].E = decimal(1/(geo.LitresHaPerGallonAc*stepsPerLitreHectare), 16), "gal/ac"
	}
	return r
}

// field renders one field and its task.
func (p Prescription) field(i int, f Field) (pfd, tsk, error) {
	rate, err := setpoint(f.Rate)
	if err != nil {
		return pfd{}, tsk{}, err
	}
	id := fmt.Sprint(i + 1)
	field := pfd{A: "PFD" + id, C: text(f.Name, "field "+id), D: wholeArea(f.Area), E: customerID, F: farmID}
	if field.Areas, err = p.polygons(f.Boundary, 1); err != nil {
		return pfd{}, tsk{}, err
	}
	if f.AB != nil && p.Version != 3 {
		field.Lines = []ggp{f.AB.element(id)}
	}
	value := func(v int32) []pdv { return []pdv{{volumePerArea, v, productID, valueID}} }
	task := tsk{
		A: "TSK" + id, B: text(f.Task, "spray "+f.Name), C: customerID, D: farmID, E: field.A, G: 1, H: Off, I: Off, J: Off,
		Zones: []tzn{
			{A: Off, B: "no spray", Colour: 7, Values: value(0)},
			{A: Treat, B: "treat", Colour: 12, Values: value(rate)},
		},
	}
	if f.Grid != nil {
		task.Grid = f.Grid.element(i)
		return field, task, nil
	}
	task.Zones[Treat].Areas, err = p.polygons(f.Treat, 2)
	return field, task, err
}

func (l ABLine) element(id string) ggp {
	from, to := newPoint(l.A), newPoint(l.B)
	from.A, to.A = 6, 7
	name := text(l.Name, "A-B")
	return ggp{A: "GGP" + id, B: name, Patterns: []gpn{{A: "GPN" + id, B: name, C: 1, E: 1, F: 1, Line: lsg{A: 5, Points: []pnt{from, to}}}}}
}

func (g Grid) element(i int) *grd {
	return &grd{
		A: decimal(g.South, 9), B: decimal(g.West, 9),
		C: decimal(g.CellNorth, 12), D: decimal(g.CellEast, 12),
		E: g.Columns, F: g.Rows, G: fmt.Sprintf("GRD%05d", i), H: len(g.Codes), I: 1,
	}
}

// polygons renders areas: in version 4 a PLN has one exterior, in version 3 one
// PLN holds all rings.
func (p Prescription) polygons(mp orb.MultiPolygon, kind int) ([]pln, error) {
	var out []pln
	for _, polygon := range mp {
		one := pln{A: kind}
		for i, r := range polygon {
			points, ok := ring(r)
			if !ok && i == 0 {
				break
			}
			if ok {
				one.Lines = append(one.Lines, lsg{A: 1 + min(i, 1), Points: points})
			}
		}
		if len(one.Lines) == 0 {
			continue
		}
		area, err := plainArea(orb.MultiPolygon{polygon})
		if err != nil {
			return nil, fmt.Errorf("taskdata: %w", err)
		}
		one.C = area
		out = append(out, one)
	}
	if len(out) == 0 {
		return nil, fmt.Errorf("taskdata: no polygon is left after rounding to seven decimals")
	}
	if p.Version == 3 {
		for _, more := range out[1:] {
			out[0].Lines, out[0].C = append(out[0].Lines, more.Lines...), out[0].C+more.C
		}
		out = out[:1]
	}
	return out, nil
}
