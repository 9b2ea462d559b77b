package handoff

import (
	"slices"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/spraying/spray"
)

// Figures are areas of a job in m², of what its files switch on, see [Job.Swaths].
type Figures struct {
	Ground     float64 // spray ground
	Treatable  float64 // of it, what can be sprayed
	Sprayed    float64 // what leaves the nozzles, overlaps counted twice
	Overlap    float64 // sprayed twice
	Missed     float64 // treatable and not sprayed: 0
	Beyond     float64 // sprayed beside the spray ground
	OutOfField float64 // of that, past the field's outer edge
	Left       float64 // spray ground that is not sprayed
}

// Ratio is the sprayed area over the treatable.
func (f Figures) Ratio() float64 { return f.Sprayed / f.Treatable }

// Figures are the job's.
func (j *Job) Figures() Figures {
	switch {
	case j.Grid != nil:
		return j.Grid.Figures
	case j.Simplified():
		return j.Fewer.Figures
	}
	c := j.Plan.Cover
	return Figures{
		Ground: c.Treatable + c.Left, Treatable: c.Treatable, Sprayed: c.Sprayed, Overlap: c.Overlap, Missed: c.Missed,
		Beyond: c.Beyond, OutOfField: c.OutOfField, Left: c.Left,
	}
}

// Simplified tells whether what is sprayed was drawn with fewer points than it has.
func (j *Job) Simplified() bool {
	return j.Fewer != nil && j.Fewer.Points.After < j.Fewer.Points.Before
}

// figuresOf are those of ground that is sprayed, once, and the spray ground beside it.
func (j *Job) figuresOf(on orb.MultiPolygon) (f Figures, left orb.MultiPolygon, err error) {
	if left, err = spray.Less(j.Ground.Spray, on); err != nil {
		return f, nil, err
	}
	outside, err := spray.Less(on, j.Ground.Field)
	if err != nil {
		return f, nil, err
	}
	f = Figures{Ground: geo.Area(j.Ground.Spray), Left: geo.Area(left), Sprayed: geo.Area(on), OutOfField: geo.Area(outside)}
	f.Treatable = f.Ground - f.Left
	f.Beyond = max(0, f.Sprayed-f.Treatable)
	return f, left, nil
}

// Swaths is the ground that is sprayed, in metres, as all files have it: the cells that are
// on where the task data are a grid, else the swaths of the sections, with as many points as
// were asked for.
func (j *Job) Swaths() orb.MultiPolygon {
	switch {
	case j.Grid != nil:
		return j.Frame.ForwardPolygons(j.Grid.Outline)
	case j.Simplified():
		return j.Fewer.Rates.On
	}
	return j.Plan.Cover.Swaths
}

// ByHand is what the sections spray, m², where they are switched at the places of the passes
// and not by a file of the console: whole sections are on wherever they reach over what is
// sprayed.
func (j *Job) ByHand() float64 { return j.Plan.Cover.Sprayed }

// Places are the pieces of spray ground that stay unsprayed and can be shown as places:
// those that no section can do. What lies beside cells, or beside simplified outlines, is
// all along them.
func (j *Job) Places() []spray.Remnant {
	switch {
	case j.Grid != nil:
		return nil
	case j.Simplified():
		return slices.DeleteFunc(slices.Clone(j.Plan.Cover.Untreatable), func(r spray.Remnant) bool { return geo.Contains(j.Fewer.Rates.On, r.Point) })
	}
	return j.Plan.Cover.Untreatable
}
