package assess

import (
	"math"
	"sync"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/scouting/layout"
	"github.com/geocoris/geocoris/internal/scouting/survey"
	"github.com/geocoris/geocoris/internal/shares"
)

// nearField is how far outside a field in metres a stop may lie and still be
// its own: three times what a phone is off by under open sky.
const nearField = 15

// leastOutside is how far outside a field in metres a stop has to lie to be outside: rounded
// degrees put one on the edge either side of it.
const leastOutside = 0.1

// site is a field with what is needed to find its stops.
type site struct {
	field geo.Field
	frame geo.Frame
	xy    orb.MultiPolygon     // metres
	holds func(orb.Point) bool // a place in metres
	bound orb.Bound            // degrees, wider than the field by nearField, and over ±180 where that is
}

func newSite(f geo.Field) (site, error) {
	frame, err := geo.FrameOf(f.Boundary)
	if err != nil {
		return site{}, err
	}
	s := site{field: f, frame: frame, xy: frame.ForwardPolygons(f.Boundary)}
	edges := sync.OnceValue(func() *geo.Index { return geo.NewIndex(s.xy) }) // few fields of a region are asked
	s.holds = func(p orb.Point) bool { return edges().Contains(p) }
	b := geo.Bound(s.xy)
	// The corners of the box in metres bound it in degrees but for the bulge of
	// its sides, well under a metre.
	const clearance = nearField + 1
	s.bound = orb.Bound{Min: orb.Point{math.Inf(1), math.Inf(1)}, Max: orb.Point{math.Inf(-1), math.Inf(-1)}}
	for _, x := range []float64{b.Min[0] - clearance, 0, b.Max[0] + clearance} {
		for _, y := range []float64{b.Min[1] - clearance, 0, b.Max[1] + clearance} {
			s.bound = s.bound.Extend(beside(frame.Centre(), frame.Inverse(orb.Point{x, y})))
		}
	}
	return s, nil
}

// beside is a place with a longitude within half a turn of another's, past ±180 where need be.
func beside(centre, lonlat orb.Point) orb.Point {
	switch d := lonlat[0] - centre[0]; {
	case d > 180:
		lonlat[0] -= 360
	case d < -180:
		lonlat[0] += 360
	}
	return lonlat
}

// outside is how far in metres a place lies outside the field, 0 inside.
func (s site) outside(lonlat orb.Point) float64 {
	xy := s.frame.Forward(lonlat)
	if s.holds(xy) {
		return 0
	}
	return geo.DistanceToEdge(s.xy, xy)
}

// index finds the fields near a place without looking at all of them: each is
// entered in every tile of a coarse net of degrees that its bound meets.
type index struct {
	sites []site
	tiles map[[2]int][]int
}

// tile is the width of an index tile in degrees, about two kilometres.
const tile = 0.02

func newIndex(sites []site) index {
	ix := index{sites: sites, tiles: map[[2]int][]int{}}
	for i, s := range sites {
		low, high := tileOf(s.bound.Min), tileOf(s.bound.Max)
		for x := low[0]; x <= high[0]; x++ {
			for y := low[1]; y <= high[1]; y++ {
				ix.tiles[[2]int{x, y}] = append(ix.tiles[[2]int{x, y}], i)
			}
		}
	}
	return ix
}

func tileOf(p orb.Point) [2]int {
	return [2]int{int(math.Floor(p[0] / tile)), int(math.Floor(p[1] / tile))}
}

// place is where a stop belongs: a field's number, or none where field is −1.
type place struct {
	field   int
	outside float64 // metres outside that field; of no meaning without one
	also    int     // another field that the stop lies in too, or −1
	beside  int     // another field on whose edge it stands, or −1
}

// find gives a stop to the field it lies in, the first of several that overlap,
// or to the nearest one within reach of a poor fix.
func (ix index) find(lonlat orb.Point) place {
	best := ix.findBeside(lonlat, place{field: -1, outside: math.Inf(1), also: -1, beside: -1})
	if 180-math.Abs(lonlat[0]) > tile {
		return best
	}
	// Fields on the other side of longitude 180 may lie beside it.
	return ix.findBeside(orb.Point{lonlat[0] - math.Copysign(360, lonlat[0]), lonlat[1]}, best)
}

func (ix index) findBeside(lonlat orb.Point, best place) place {
	for _, i := range ix.tiles[tileOf(lonlat)] {
		s := ix.sites[i]
		if !s.bound.Contains(lonlat) {
			continue
		}
		switch d := s.outside(lonlat); {
		case d > nearField:
		case d == 0 && best.outside == 0:
			best.also = i
		case d < best.outside:
			if best.outside <= layout.SamePlace {
				best.beside = best.field
			}
			best.field, best.outside = i, d
		case d <= layout.SamePlace:
			best.beside = i
		}
	}
	return best
}

// findAll finds the places of n stops.
func (ix index) findAll(n int, stop func(i int) *survey.Stop) []place {
	found := make([]place, n)
	shares.Of(n, leastShare, func(from, to int) {
		for i := from; i < to; i++ {
			found[i] = ix.find(orb.Point{stop(i).Longitude, stop(i).Latitude})
			if found[i].outside < leastOutside {
				found[i].outside = 0
			}
		}
	})
	return found
}
