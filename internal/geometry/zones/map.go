package zones

import (
	"math"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/geometry/planar"
	"github.com/geocoris/geocoris/internal/shares"
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
	m := &Map{Area: geo.Area(field), coverage: c, Zones: make([]Zone, len(classes))}
	index := make([]*geo.Index, len(classes))
	shares.Of(len(classes), 1, func(from, to int) {
		for k := from; k < to; k++ {
			z := Zone{Class: classes[k], Polygons: c.Polygons(int(classes[k]))}
			z.Area, index[k] = geo.Area(z.Polygons), geo.NewIndex(z.Polygons)
			m.Zones[k] = z
		}
	})
	for i, k := range firstOf(index, stops) {
		if k < len(index) {
			m.Zones[k].Stops = append(m.Zones[k].Stops, i)
		}
	}
	shares.Of(len(classes), 1, func(from, to int) {
		for k := from; k < to; k++ {
			m.Zones[k].Average(s.Value, stops)
		}
	})
	return m
}

// firstOf is the number of the first ground that each stop lies in, or how many grounds
// there are for none. Worst first: a stop on the line between two zones counts for the
// worse. Stops are asked for from south to north, so that each needs the edges that the one
// before needed, which are still in the processor's memory.
func firstOf(grounds []*geo.Index, stops []interp.Sample) []int {
	first := make([]int, len(stops))
	order := fromSouth(stops)
	shares.Of(len(stops), leastShare, func(from, to int) {
		for _, i := range order[from:to] {
			k := 0
			for k < len(grounds) && !grounds[k].Contains(orb.Point{stops[i].X, stops[i].Y}) {
				k++
			}
			first[i] = k
		}
	})
	return first
}

// leastShare is how many stops or faces are worth a processor of their own.
const leastShare = 1024

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
