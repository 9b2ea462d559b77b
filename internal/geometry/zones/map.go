package zones

import (
	"math"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/geometry/planar"
	"github.com/geocoris/geocoris/interp"
)

// A Zone is all ground of one class in a field.
type Zone struct {
	Class    Class
	Polygons orb.MultiPolygon // metres; empty where the class does not occur
	Area     float64          // m²
	Mean     float64          // of the surface over the nodes inside; NaN without any
	Max      float64          // of the surface's nodes and the stops inside; NaN without any
	Stops    []int            // indexes of the stops inside; none is in two zones
}

// A Map is a field parted into zones.
type Map struct {
	Zones []Zone  // worst class first, one for each of [Classes]
	Area  float64 // m² of the field
	// Unscouted is the ground in m² that would be clear but for lying beyond
	// reach of every stop; it is watch.
	Unscouted float64
	coverage  *planar.Coverage
	forgotten bool
}

// Forget lets go of the ground, which takes most of the memory. Figures stay, and of each
// zone how many polygons there were, which are empty then.
func (m *Map) Forget() {
	m.coverage, m.forgotten = nil, true
	for i, z := range m.Zones {
		m.Zones[i].Polygons = make(orb.MultiPolygon, len(z.Polygons))
	}
}

// Forgotten reports whether the ground was let go.
func (m *Map) Forgotten() bool { return m.forgotten }

// Zone returns the zone of a class.
func (m *Map) Zone(c Class) Zone {
	for _, z := range m.Zones {
		if z.Class == c {
			return z
		}
	}
	return Zone{Class: c, Mean: math.NaN(), Max: math.NaN()}
}

// Share returns a zone's part of the field, 0 to 1.
func (m *Map) Share(c Class) float64 { return m.Zone(c).Area / m.Area }

func newMap(c *planar.Coverage, field orb.MultiPolygon, s Surface, stops []interp.Sample) *Map {
	m := &Map{Area: geo.Area(field), coverage: c}
	taken := make([]bool, len(stops))
	for _, class := range Classes() {
		z := Zone{Class: class, Polygons: c.Polygons(int(class))}
		z.Area = geo.Area(z.Polygons)
		index := geo.NewIndex(z.Polygons)
		for i, stop := range stops {
			// Worst first: a stop on the line between two zones counts for the worse.
			if !taken[i] && index.Contains(orb.Point{stop.X, stop.Y}) {
				taken[i] = true
				z.Stops = append(z.Stops, i)
			}
		}
		z.Average(s.Value, stops)
		m.Zones = append(m.Zones, z)
	}
	return m
}

// cautious reports whether every stop lies in ground as bad as its own value.
func (m *Map) cautious(stops []interp.Sample, levels Levels) bool {
	for _, z := range m.Zones {
		for _, i := range z.Stops {
			if v := stops[i].Value; v >= levels.TreatAt && z.Class != Treat || v >= levels.WatchAt && z.Class == Clear {
				return false
			}
		}
	}
	return true
}

func larger(a, b float64) float64 {
	if math.IsNaN(a) || b > a {
		return b
	}
	return a
}

// Average sets Mean and Max by a surface's nodes inside the zone, and Max by its
// stops too.
func (z *Zone) Average(surface interp.Grid, stops []interp.Sample) {
	var sum float64
	n := 0
	z.Mean, z.Max = math.NaN(), math.NaN()
	for col, row := range geo.NodesInside(z.Polygons, geo.Lattice(surface.Lattice)) {
		if v := surface.At(col, row); !math.IsNaN(v) {
			sum += v
			n++
			z.Max = larger(z.Max, v)
		}
	}
	if n > 0 {
		z.Mean = sum / float64(n)
	}
	for _, i := range z.Stops {
		z.Max = larger(z.Max, stops[i].Value)
	}
}

// LonLat returns each zone's ground in degrees with seven decimals, as
// [InDegrees] does.
func (m *Map) LonLat(frame geo.Frame) map[Class]orb.MultiPolygon {
	area := InDegrees(m.coverage, frame)
	out := map[Class]orb.MultiPolygon{}
	for _, class := range Classes() {
		out[class] = area(int(class))
	}
	return out
}
