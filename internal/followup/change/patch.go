package change

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/geometry/zones"
)

// leastOverlap is the share of the smaller of two patches that must be common
// ground for them to be one hotspot: less is a touch of outlines.
const leastOverlap = 0.01

// A Patch is one treat polygon of one visit.
type Patch struct {
	ID       int // of the hotspot, from 1, the same through all visits
	Visit    int
	Polygon  orb.Polygon // metres
	Area     float64     // m²
	Centroid orb.Point   // metres
	Mean     float64     // of the surface inside; NaN where no node lies in it
}

func areasOf(m *zones.Map) []float64 {
	var out []float64
	for _, p := range m.Zone(zones.Treat).Polygons {
		out = append(out, geo.Area(orb.MultiPolygon{p}))
	}
	return out
}

func patchesOf(visit int, v Visit) []Patch {
	var out []Patch
	for _, polygon := range v.Map.Zone(zones.Treat).Polygons {
		centroid, _ := planar.CentroidArea(polygon)
		mp := orb.MultiPolygon{polygon}
		out = append(out, Patch{
			Visit: visit, Polygon: polygon, Area: geo.Area(mp), Centroid: centroid, Mean: Mean(v.Surface.Value, mp),
		})
	}
	return out
}

// link is common ground of a patch before and one after.
type link struct {
	from, to int
	area     float64
}

// linked are the links of two visits, most common ground first, then in the
// order of the patches.
func linked(overlap [][]float64, from, to []float64) (links []link) {
	for i, row := range overlap {
		for j, area := range row {
			if area > 0 && area >= leastOverlap*min(from[i], to[j]) {
				links = append(links, link{i, j, area})
			}
		}
	}
	slices.SortStableFunc(links, func(a, b link) int { return cmp.Compare(b.area, a.area) })
	return links
}

// Bearing is the direction from one place to another in degrees clockwise from
// north, 0 to 360; NaN between equal places.
func Bearing(from, to orb.Point) float64 {
	dx, dy := to[0]-from[0], to[1]-from[1]
	if dx == 0 && dy == 0 {
		return math.NaN()
	}
	return math.Mod(math.Atan2(dx, dy)*180/math.Pi+360, 360)
}
