package handoff

import (
	"fmt"
	"math"
	"strings"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/internal/spray"
	"github.com/geocoris/geocoris/internal/taskdata"
)

// maxCells keeps a grid to what a terminal can take.
const maxCells = 250_000

// TaskForm says in which form jobs are put as task data.
type TaskForm struct {
	Version  int     // of ISO 11783-10, 4 or 3
	Cell     float64 // side of grid cells in metres, or 0 for polygons
	Guidance bool    // with the A–B lines, in version 4
}

// Prescription is the jobs as task data, at the carrier rate that was typed in;
// without one there is none.
func (r *Result) Prescription(m Mix, form TaskForm) (*taskdata.Prescription, error) {
	if m.Rate == nil {
		return nil, nil
	}
	p := &taskdata.Prescription{Version: form.Version, GallonsPerAcre: m.Rate.Unit == "gal/ac"}
	for _, j := range r.Jobs {
		f := taskdata.Field{
			Name: j.Field, Task: j.task(), Boundary: j.lonlat(j.Ground.Field), Area: j.Area,
			Treat: j.lonlat(j.Ground.Spray), Rate: m.Rate.Base,
		}
		if form.Guidance {
			f.AB = &taskdata.ABLine{Name: fmt.Sprintf("A-B %.1f deg", j.Plan.Heading), A: j.place(j.Plan.A), B: j.place(j.Plan.B)}
		}
		if form.Cell > 0 {
			grid, err := j.grid(form.Cell)
			if err != nil {
				return nil, fmt.Errorf("%s: %w", j.Field, err)
			}
			f.Grid = grid
		}
		p.Fields = append(p.Fields, f)
	}
	return p, nil
}

// task is the name under which a terminal shows the job, 32 letters at the most: the
// planned day, or else the first day of the count; and that the map advised
// otherwise, where it did.
func (j *Job) task() string {
	counted, _, _ := strings.Cut(j.Date, "/")
	switch {
	case j.Advice.Against():
		return strings.TrimSuffix("NOT ADVISED, counted "+counted, ", counted ")
	case j.SprayOn != "":
		return "spray on " + j.SprayOn
	}
	return strings.TrimSuffix("spray, counted "+counted, ", counted ")
}

// grid puts the spray ground on cells of equal degrees, square at the middle of
// the field. A cell is sprayed where spray ground lies in it and no closed ground.
func (j *Job) grid(cell float64) (*taskdata.Grid, error) {
	box := j.lonlat(j.Ground.Field).Bound()
	middle := box.Center()
	step := j.step(middle, cell)
	g := &taskdata.Grid{South: floor(box.Min[1], 1e-9), West: floor(box.Min[0], 1e-9), CellNorth: step[1], CellEast: step[0]}
	g.Columns = int(math.Ceil((box.Max[0] - g.West) / g.CellEast))
	g.Rows = int(math.Ceil((box.Max[1] - g.South) / g.CellNorth))
	if g.Columns*g.Rows > maxCells {
		return nil, fmt.Errorf("%d by %d cells: choose cells above %.3g m", g.Columns, g.Rows, cell)
	}
	toCell := func(xy orb.Point) orb.Point {
		p := j.Frame.Inverse(xy)
		return orb.Point{(p[0] - g.West) / g.CellEast, (p[1] - g.South) / g.CellNorth}
	}
	for _, on := range j.Ground.Raster(spray.Lattice{Cell: toCell, Columns: g.Columns, Rows: g.Rows}) {
		code := byte(taskdata.Off)
		if on {
			code = taskdata.Treat
		}
		g.Codes = append(g.Codes, code)
	}
	return g, nil
}

// step is a cell's side in degrees east and north, to 12 decimals.
func (j *Job) step(middle orb.Point, cell float64) orb.Point {
	xy := j.Frame.Forward(middle)
	corner := j.Frame.Inverse(orb.Point{xy[0] + cell, xy[1] + cell})
	return orb.Point{rounded(corner[0]-middle[0], 12), rounded(corner[1]-middle[1], 12)}
}

func floor(v, step float64) float64 { return math.Floor(v/step) * step }
