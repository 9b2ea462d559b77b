package handoff

import (
	"fmt"
	"math"
	"strings"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/geometry/planar"
	"github.com/geocoris/geocoris/internal/spraying/spray"
	"github.com/geocoris/geocoris/internal/spraying/taskdata"
)

// Rates are the jobs as rates on the ground: what is sprayed with the carrier rate that
// was typed in, and the rest of each field with 0. The rate is the only number, so that a
// console has nothing to mix it up with; rate × ground adds up to the carrier of the job.
// Without a rate on is 1 and 0. What is sprayed is what [Job.Figures] tell of: swaths, or
// the cells that are on where the task data are a grid.
func (r *Result) Rates(m Mix) (out []geo.Feature, err error) {
	for _, j := range r.Jobs {
		parted, err := j.parted()
		if err != nil {
			return nil, fmt.Errorf("%s: %w", j.Field, err)
		}
		for _, part := range []struct {
			kind   string
			ground orb.MultiPolygon
			share  float64
		}{{"treat", parted.On, 1}, {"rest", parted.Rest, 0}} {
			if len(part.ground) > 0 {
				out = append(out, geo.Feature{Geometry: j.lonlat(part.ground), Properties: append(m.rate(part.share), j.properties(part.kind)...)})
			}
		}
	}
	return out, nil
}

// rate is the column that a console reads, and what it is in.
func (m Mix) rate(share float64) geo.Properties {
	if m.Rate == nil {
		return geo.Properties{{Name: "on", Value: int64(share)}}
	}
	return geo.Properties{{Name: "rate", Value: share * m.Rate.Value}, {Name: "unit", Value: m.Rate.Unit}}
}

// RateName is what the rates are called, with their unit: rate_l_ha, rate_gal_ac, on_off.
func (m Mix) RateName() string {
	if m.Rate == nil {
		return "on_off"
	}
	return "rate_" + strings.ToLower(strings.ReplaceAll(m.Rate.Unit, "/", "_"))
}

// parted is the field parted by what is sprayed, with as many points as were asked for.
func (j *Job) parted() (spray.Parted, error) {
	if j.Fewer != nil {
		return j.Fewer.Rates, nil
	}
	if j.Grid != nil {
		if err := j.Grid.check(); err != nil {
			return spray.Parted{}, err
		}
	}
	return j.Ground.Part(j.Swaths())
}

// Fewer is what is sprayed and the rest of the field where they were to have no more than so
// many points.
type Fewer struct {
	Rates   spray.Parted     // of swaths, simplified, or of cells, as they are
	Within  orb.MultiPolygon // what of the field is sprayed by them; nil of cells
	Points  Points           // of the rates
	Figures Figures
	Left    orb.MultiPolygon // spray ground beside it; of cells see [Grid]
}

// fewer simplifies what is sprayed to a number of points. Cells stay as they are: their
// grid is beside them in the same folder.
func (j *Job) fewer(most int) (*Fewer, error) {
	whole, err := j.Ground.Part(j.Swaths())
	if err != nil {
		return nil, err
	}
	f := &Fewer{Rates: whole, Points: Points{Before: whole.Points(), After: whole.Points()}}
	if j.Grid != nil { // so that nothing is simplified
		return f, whole.Fits(most)
	}
	if f.Rates, f.Within, err = j.Ground.PartedFewerIn(whole, most); err != nil {
		return nil, err
	}
	f.Points.After = f.Rates.Points()
	f.Figures, f.Left, err = j.figuresOf(f.Rates.On)
	return f, err
}

// check counts the cells of the outline again: ground that got lost would have the rate 0
// in silence.
func (g *Grid) check() error {
	area := geo.Area(g.Outline) / (g.Codes.CellNorth * g.Codes.CellEast)
	if math.Abs(area-float64(g.On)) > 0.5 {
		return fmt.Errorf("the outline of the cells that are on has the ground of %.0f, and %d are on", area, g.On)
	}
	return nil
}

// outline is the cells that are on as polygons in degrees.
func outline(c taskdata.Grid) (orb.MultiPolygon, error) {
	on := func(col, row int) bool {
		return col >= 0 && row >= 0 && col < c.Columns && row < c.Rows && c.Codes[row*c.Columns+col] != 0
	}
	var edges []orb.LineString
	edge := func(x0, y0, x1, y1 int) {
		edges = append(edges, orb.LineString{{float64(x0), float64(y0)}, {float64(x1), float64(y1)}})
	}
	for row := range c.Rows + 1 {
		for col := range c.Columns + 1 {
			if on(col, row) != on(col, row-1) {
				edge(col, row, col+1, row)
			}
			if on(col, row) != on(col-1, row) {
				edge(col, row, col, row+1)
			}
		}
	}
	a, err := planar.Arrange(edges)
	if err != nil {
		return nil, err
	}
	labels := make([]int, len(a.Faces))
	for i, f := range a.Faces {
		if on(int(f.Point[0]), int(f.Point[1])) {
			labels[i] = 1
		}
	}
	out := a.Dissolve(labels).Polygons(1)
	for _, polygon := range out {
		for _, ring := range polygon {
			for i, p := range ring {
				ring[i] = orb.Point{c.West + float64(p[0]*c.CellEast), c.South + float64(p[1]*c.CellNorth)}
			}
		}
	}
	return out, nil
}
