package taskdata

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
)

// A Prescription is one set of task data.
type Prescription struct {
	Version        int      // 4 or 3; 0 means 4
	GridType       int      // of grids, 1 or 2; 0 means 1: codes of zones, in place of a rate for each cell
	Software       string   // the program's version
	Products       []string // what is sprayed, as the person calls it; the rate is of their mix
	GallonsPerAcre bool     // show rates in gal/ac rather than L/ha
	Fields         []Field
}

// A Field is one field with its task. Some terminals hide what has no customer and no
// farm: "" becomes "-".
type Field struct {
	Name           string
	Customer, Farm string
	// Task is what the task is besides that of its field, such as its day, and Warning what
	// must be read before that; see [Prescription.Designators].
	Task, Warning string
	Boundary      orb.MultiPolygon // holes are not field
	Area          float64          // m²
	Treat         orb.MultiPolygon // within the boundary; its parts apart
	Rate          float64          // L/ha, above 0
	Grid          *Grid            // in place of the polygons of Treat, where given
	AB            *ABLine          // along which the passes run; nil, or version 3, for none
}

// An ABLine is the middle of one pass; the others lie beside it, a swath apart.
type ABLine struct {
	Name string
	A, B orb.Point // apart by more than seven decimals of a degree
}

// A Grid is zone codes for cells of equal degrees: row by row from the south,
// each from the west.
type Grid struct {
	South, West         float64 // of the south-west corner
	CellNorth, CellEast float64 // degrees, above 0 and below 1
	Columns, Rows       int
	Codes               []byte // [Off] or [Treat]
}

// Zone codes of a task.
const (
	Off   = 0
	Treat = 1
)

// stepsPerLitreHectare is the data dictionary's: 1 L/ha = 100 mm³/m².
const stepsPerLitreHectare = 10000

// MostRate is what a setpoint can hold in whole litres, L/ha.
const MostRate = math.MaxInt32 / stepsPerLitreHectare

// setpoint is the number that stands for a rate.
func setpoint(rate float64) (int32, error) {
	v := math.Round(rate * stepsPerLitreHectare)
	if !(v >= 1 && v <= math.MaxInt32) {
		return 0, fmt.Errorf("taskdata: a rate of %v L/ha: want above 0 and at most %d", rate, MostRate)
	}
	return int32(v), nil
}

// validate refuses what would be read wrongly.
func (p Prescription) validate() error {
	if p.Version != 0 && p.Version != 3 && p.Version != 4 {
		return fmt.Errorf("taskdata: version %d: want 3 or 4", p.Version)
	}
	if p.GridType < 0 || p.GridType > 2 {
		return fmt.Errorf("taskdata: grid type %d: want 1 or 2", p.GridType)
	}
	if len(p.Fields) == 0 {
		return fmt.Errorf("taskdata: no field")
	}
	for _, f := range p.Fields {
		if len(f.Boundary) == 0 || len(f.Treat) == 0 {
			return fmt.Errorf("taskdata: field %q: no boundary or nothing to treat", f.Name)
		}
		if !(f.Area >= 0 && f.Area <= math.MaxUint32-1) {
			return fmt.Errorf("taskdata: field %q: an area of %v m²", f.Name, f.Area)
		}
		if f.AB != nil && newPoint(f.AB.A) == newPoint(f.AB.B) {
			return fmt.Errorf("taskdata: field %q: A and B of its line are one place", f.Name)
		}
		if g := f.Grid; g != nil {
			if err := g.validate(); err != nil {
				return fmt.Errorf("taskdata: field %q: %w", f.Name, err)
			}
		}
	}
	return nil
}

func (g Grid) validate() error {
	if !(g.CellNorth > 0 && g.CellNorth <= 1 && g.CellEast > 0 && g.CellEast <= 1) {
		return fmt.Errorf("cells of %v by %v degrees: want above 0 and at most 1", g.CellNorth, g.CellEast)
	}
	if g.Columns < 1 || g.Rows < 1 || len(g.Codes) != g.Columns*g.Rows {
		return fmt.Errorf("%d codes for %d by %d cells", len(g.Codes), g.Columns, g.Rows)
	}
	for _, c := range g.Codes {
		if c != Off && c != Treat {
			return fmt.Errorf("a cell of zone %d, which the task does not define", c)
		}
	}
	return nil
}

// ring is a closed ring of seven decimals without repeated points; ok is false
// where rounding left none.
func ring(r orb.Ring) (points []pnt, ok bool) {
	distinct := map[pnt]bool{}
	for _, p := range r {
		q := newPoint(p)
		if n := len(points); n > 0 && points[n-1] == q {
			continue
		}
		points = append(points, q)
		distinct[q] = true
	}
	if len(points) > 0 && points[0] != points[len(points)-1] {
		points = append(points, points[0])
	}
	return points, len(distinct) >= 3
}

// plainArea is the whole square metres of polygons in degrees, in a frame of
// their own.
func plainArea(mp orb.MultiPolygon) (uint32, error) {
	frame, err := geo.FrameOf(mp)
	if err != nil {
		return 0, err
	}
	return wholeArea(geo.Area(frame.ForwardPolygons(mp))), nil
}

// wholeArea is an area in m² as every element writes it: to the nearest whole
// one, so that a field and a polygon of the same ground have the same number.
func wholeArea(m2 float64) uint32 { return uint32(math.Round(m2)) }
