package handoff

import (
	"cmp"
	"fmt"
	"math"
	"strings"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/spraying/spray"
	"github.com/geocoris/geocoris/internal/spraying/taskdata"
)

// maxCells keeps a grid to what a terminal can take.
const maxCells = 250_000

// TaskForm says in which form jobs are put as task data, and whose fields these are.
type TaskForm struct {
	Version        int    // of ISO 11783-10, 4 or 3
	Guidance       bool   // with the A–B lines, in version 4
	GridType       int    // of grids, 1 or 2
	Customer, Farm string // of all jobs; "" for what the zones say
}

// Prescription is the jobs as task data, at the carrier rate that was typed in;
// without one there is none.
func (r *Result) Prescription(m Mix, form TaskForm) (*taskdata.Prescription, error) {
	if m.Rate == nil {
		return nil, nil
	}
	p := &taskdata.Prescription{Version: form.Version, GridType: form.GridType, GallonsPerAcre: m.Rate.Unit == "gal/ac"}
	for _, product := range m.Products {
		p.Products = append(p.Products, product.Name)
	}
	for _, j := range r.Jobs {
		f := taskdata.Field{
			Name: j.Field, Customer: cmp.Or(form.Customer, j.Customer), Farm: cmp.Or(form.Farm, j.Farm), Boundary: j.lonlat(j.Ground.Field), Area: geo.Area(j.Ground.Field),
			Rate: m.Rate.Base,
		}
		treat, err := j.treatable()
		if err != nil {
			return nil, fmt.Errorf("%s: %w", j.Field, err)
		}
		f.Treat = j.lonlat(treat)
		f.Warning, f.Task = j.task()
		if form.Guidance {
			f.AB = &taskdata.ABLine{Name: fmt.Sprintf("A-B %.1f deg", j.Plan.Heading), A: j.place(j.Plan.A), B: j.place(j.Plan.B)}
		}
		if j.Grid != nil {
			f.Grid = &j.Grid.Codes
		}
		p.Fields = append(p.Fields, f)
	}
	return p, nil
}

// treatable is the spray ground without the places that no section can do: a console that
// came there would spray over what closes them. Where few points were asked for it is what
// the rates spray of the field.
func (j *Job) treatable() (orb.MultiPolygon, error) {
	if j.Simplified() {
		return j.Fewer.Within, nil
	}
	var without []orb.MultiPolygon
	for _, rest := range j.Plan.Cover.Untreatable {
		without = append(without, orb.MultiPolygon{rest.Ground})
	}
	if len(without) == 0 || j.Grid != nil {
		return j.Ground.Spray, nil
	}
	together, err := spray.Together(without)
	if err != nil {
		return nil, err
	}
	return j.Ground.Treatable(together)
}

// task is what a terminal shows of the job beside its field's name, of which room is left
// for little: that the map advised otherwise, before the name, or that its zones were
// edited, and the planned day, or else the first day of the count.
func (j *Job) task() (warning, task string) {
	counted, _, _ := strings.Cut(j.Date, "/")
	switch {
	case j.Advice.Against() && !j.Fallback:
		return "NOT ADVISED", ""
	case j.Advice.Edited() && j.SprayOn != "":
		return "", "by hand " + j.SprayOn
	case j.Advice.Edited():
		return "", "by hand"
	case j.SprayOn != "":
		return "", "spray " + j.SprayOn
	case counted != "":
		return "", "counted " + counted
	}
	return "", "spray"
}

// A Grid is the spray ground on cells of equal degrees, square at the middle of the
// field, and what they switch on.
type Grid struct {
	Cell    float64          // m
	On      int              // cells
	Outline orb.MultiPolygon // degrees, of the cells that are on
	Left    orb.MultiPolygon // metres: the spray ground beside them
	Codes   taskdata.Grid
	Figures Figures
}

// mostRounds bounds how often cells are turned off that no section can spray: each time
// fewer of them need a pass, and so lanes may lie otherwise.
const mostRounds = 20

// leastBarred is the share of a cell that sections must have to let be for it to be off.
const leastBarred = 1e-4

// gridded puts the spray ground on cells, by the rule of [spray.Target.Raster], and lays the
// passes over those that are on. A console switches sections by its cells, whatever else
// they reach: so a cell is off, too, where sections could not spray all of it without
// reaching closed ground, or past a limit at the edge.
func (j *Job) gridded(cell float64, set spray.Settings) error {
	g, lattice, err := j.lattice(cell)
	if err != nil {
		return err
	}
	cells, err := j.Ground.Raster(lattice)
	if err != nil {
		return err
	}
	for range mostRounds {
		if j.Grid, err = j.onCells(cell, g, cells); err != nil {
			return err
		}
		over := *j.Ground
		over.Spray = j.Frame.ForwardPolygons(j.Grid.Outline)
		if j.Plan, err = spray.NewPlan(&over, set); err != nil {
			return err
		}
		off := 0
		for i, share := range lattice.Shares(j.Plan.Cover.Unsprayed) {
			if cells.On[i] && share > leastBarred {
				cells.On[i] = false
				off++
			}
		}
		if off == 0 {
			j.Grid.Left, err = spray.Less(j.Ground.Spray, over.Spray)
			return err
		}
	}
	return fmt.Errorf("cells of %.3g m and these sections do not go together: choose larger cells, or more --sections", cell)
}

// lattice is cells of a size over the field.
func (j *Job) lattice(cell float64) (g taskdata.Grid, l spray.Lattice, err error) {
	box := j.lonlat(j.Ground.Field).Bound()
	step := j.step(box.Center(), cell)
	// From inside the field, to the decimals of the file: a field along the cells'
	// lines fills the first of them.
	g = taskdata.Grid{South: ceil(box.Min[1], 1e9), West: ceil(box.Min[0], 1e9), CellNorth: step[1], CellEast: step[0]}
	columns, rows := math.Ceil((box.Max[0]-g.West)/g.CellEast), math.Ceil((box.Max[1]-g.South)/g.CellNorth)
	if !(columns*rows <= maxCells) {
		return g, l, fmt.Errorf("%.0f by %.0f cells: choose cells above %.3g m", columns, rows, cell)
	}
	g.Columns, g.Rows = max(1, int(columns)), max(1, int(rows))
	toCell := func(xy orb.Point) orb.Point {
		p := j.Frame.Inverse(xy)
		return orb.Point{math.Remainder(p[0]-g.West, 360) / g.CellEast, (p[1] - g.South) / g.CellNorth}
	}
	return g, spray.Lattice{Cell: toCell, Columns: g.Columns, Rows: g.Rows}, nil
}

// onCells is the grid of the cells that are on, of a size in metres.
func (j *Job) onCells(cell float64, g taskdata.Grid, cells spray.Cells) (*Grid, error) {
	out := &Grid{Cell: cell}
	g.Codes = nil
	for _, on := range cells.On {
		code := byte(taskdata.Off)
		if on {
			code = taskdata.Treat
			out.On++
		}
		g.Codes = append(g.Codes, code)
	}
	if out.On == 0 {
		return nil, fmt.Errorf("no cell of %.3g m is at least half spray ground, off all closed ground and within the field, with room for its sections: choose smaller cells, or more --sections", cell)
	}
	out.Codes, out.Figures = g, j.ofCells(g, cells)
	var err error
	out.Outline, err = outline(g)
	return out, err
}

// ofCells adds up the cells that are on, row by row: those of one row are alike.
func (j *Job) ofCells(g taskdata.Grid, cells spray.Cells) Figures {
	f := Figures{Ground: geo.Area(j.Ground.Spray)}
	for row := range g.Rows {
		west, south := g.West, g.South+float64(float64(row)*g.CellNorth)
		cell := orb.Bound{Min: orb.Point{west, south}, Max: orb.Point{west + g.CellEast, south + g.CellNorth}}
		area := geo.Area(j.Frame.ForwardPolygons(orb.MultiPolygon{cell.ToPolygon()}))
		for i := row * g.Columns; i < (row+1)*g.Columns; i++ {
			if cells.On[i] {
				f.Sprayed += area
				f.Treatable += float64(area * cells.Spray[i])
			}
		}
	}
	f.Treatable = min(f.Treatable, f.Ground)
	f.Beyond, f.Left = f.Sprayed-f.Treatable, f.Ground-f.Treatable
	return f
}

// step is a cell's side in degrees east and north, to 12 decimals.
func (j *Job) step(middle orb.Point, cell float64) orb.Point {
	xy := j.Frame.Forward(middle)
	corner := j.Frame.Inverse(orb.Point{xy[0] + cell, xy[1] + cell})
	return orb.Point{rounded(corner[0]-middle[0], 12), rounded(corner[1]-middle[1], 12)}
}

// ceil is the next of so many steps to one.
func ceil(v, steps float64) float64 { return math.Ceil(v*steps) / steps }
