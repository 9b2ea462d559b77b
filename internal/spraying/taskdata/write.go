package taskdata

import (
	"archive/zip"
	"bytes"
	"encoding/binary"
	"encoding/xml"
	"fmt"
	"io"
	"slices"
	"strings"

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
	r, owners := p.head()
	names, designators := p.fieldNames(), p.Designators()
	files := []File{{}}
	for i, f := range p.Fields {
		field, task, err := p.field(i, f)
		if err != nil {
			return nil, err
		}
		field.C, task.B = names[i], designators[i]
		field.E, field.F = owners[i].I, owners[i].A
		task.C, task.D = owners[i].I, owners[i].A
		if f.Grid != nil {
			files = append(files, File{Folder + "/" + task.Grid.G + ".bin", p.cells(f)})
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
	productID, valueID = "PDT1", "VPN1"
	volumePerArea      = "0001" // data dictionary entity 1
)

// owners are the customers and farms of the fields, each once, and the farm of each field.
func (p Prescription) owners() (customers []ctr, farms, of []frm) {
	for _, f := range p.Fields {
		customer, farm := text(f.Customer, "-"), text(f.Farm, "-")
		at := slices.IndexFunc(customers, func(c ctr) bool { return c.B == customer })
		if at < 0 {
			at = len(customers)
			customers = append(customers, ctr{fmt.Sprintf("CTR%d", at+1), customer})
		}
		i := slices.IndexFunc(farms, func(f frm) bool { return f.B == farm && f.I == customers[at].A })
		if i < 0 {
			i = len(farms)
			farms = append(farms, frm{fmt.Sprintf("FRM%d", i+1), farm, customers[at].A})
		}
		of = append(of, farms[i])
	}
	return customers, farms, of
}

// products are the mix, which the rate is of, and what is in it by the names that were
// given. The mix never goes by the name of a product alone: its rate is not that of one.
func (p Prescription) products() []pdt {
	mix := "spray mix"
	if len(p.Products) > 0 {
		mix = "mix: " + strings.Join(p.Products, ", ")
	}
	all := []pdt{{productID, text(mix, mix)}}
	for i, name := range p.Products {
		all = append(all, pdt{fmt.Sprintf("PDT%d", i+2), text(name, "-")})
	}
	return all
}

// head is all but the fields and tasks, with the farm of each field.
func (p Prescription) head() (root, []frm) {
	customers, farms, of := p.owners()
	r := root{
		Major: 4, Minor: 3, Manufacturer: "geocoris", Software: text(p.Software, "unknown"), Origin: 1,
		Customers: customers, Farms: farms, Products: p.products(),
		Values: []vpn{{A: valueID, C: "0.0001", D: 1, E: "L/ha"}},
	}
	if p.Version == 3 {
		r.Major, r.Minor = 3, 3
	}
	if p.GallonsPerAcre {
		r.Values[0].C, r.Values[0].E = decimal(1/(geo.LitresHaPerGallonAc*stepsPerLitreHectare), 16), "gal/ac"
	}
	return r, of
}

// field renders one field and its task, but for their names and whose they are.
func (p Prescription) field(i int, f Field) (pfd, tsk, error) {
	rate, err := setpoint(f.Rate)
	if err != nil {
		return pfd{}, tsk{}, err
	}
	id := fmt.Sprint(i + 1)
	field := pfd{A: "PFD" + id, D: wholeArea(f.Area)}
	if field.Areas, err = p.polygons(f.Boundary, 1); err != nil {
		return pfd{}, tsk{}, err
	}
	if f.AB != nil && p.Version != 3 {
		field.Lines = []ggp{f.AB.element(id)}
	}
	value := func(v int32) []pdv { return []pdv{{volumePerArea, v, productID, valueID}} }
	task := tsk{
		A: "TSK" + id, E: field.A, G: 1, H: Off, I: Off, J: Off,
		Zones: []tzn{
			{A: Off, B: "no spray", Colour: 7, Values: value(0)},
			{A: Treat, B: "treat", Colour: 12, Values: value(rate)},
		},
	}
	if f.Grid != nil {
		task.Grid = f.Grid.element(i, p.cellBytes())
		if p.GridType == 2 { // the zone tells what the cells are of; its own rate is not used
			treat := Treat
			task.Grid.I, task.Grid.J = 2, &treat
			task.Zones[Treat] = tzn{A: Treat, B: "rate of each cell", Colour: 12, Values: value(0)}
		}
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

// cellBytes is the length of each cell in the file of a grid.
func (p Prescription) cellBytes() int {
	if p.GridType == 2 {
		return 4
	}
	return 1
}

// cells are the file of a grid: a code for each, or the rate as four bytes, the least first.
func (p Prescription) cells(f Field) []byte {
	if p.GridType != 2 {
		return f.Grid.Codes
	}
	rate, _ := setpoint(f.Rate) // which [Prescription.field] looks at
	out := make([]byte, 0, p.cellBytes()*len(f.Grid.Codes))
	for _, code := range f.Grid.Codes {
		v := int32(0)
		if code == Treat {
			v = rate
		}
		out = binary.LittleEndian.AppendUint32(out, uint32(v))
	}
	return out
}

func (g Grid) element(i, cellBytes int) *grd {
	return &grd{
		A: decimal(g.South, 9), B: decimal(g.West, 9),
		C: decimal(g.CellNorth, 12), D: decimal(g.CellEast, 12),
		E: g.Columns, F: g.Rows, G: fmt.Sprintf("GRD%05d", i), H: cellBytes * len(g.Codes), I: 1,
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
