package sampling

import (
	"math"

	"github.com/geocoris/geocoris/geo"
)

// Spread says which stops lie apart. It returns for each position, in degrees,
// the number of the cluster it belongs to, counted from 0 in the order of first
// appearance: a position nearer than apart metres to the first one of an earlier
// cluster belongs to that. Positions that are not finite lie apart from all.
func Spread(lonlat [][2]float64, apart float64) []int {
	clusters := make([]int, len(lonlat))
	s := spread{apart: apart, in: map[cube][]int{}}
	for i, p := range lonlat {
		clusters[i] = s.add(p)
	}
	return clusters
}

// spread are clusters by the cubes of space that their first positions lie in: those near a
// position lie in its own or in those round it, at any latitude and across 180 degrees.
type spread struct {
	apart float64
	first [][2]float64
	in    map[cube][]int // numbers of clusters, ascending
}

type cube [3]float64 // whole numbers

// add gives the number of the cluster of a position, a new one where there is none.
func (s *spread) add(p [2]float64) int {
	own, placed := s.cubeOf(p)
	if placed {
		if c := s.near(p, own); c >= 0 {
			return c
		}
		s.in[own] = append(s.in[own], len(s.first))
	}
	s.first = append(s.first, p)
	return len(s.first) - 1
}

// near is the earliest cluster that a position of a cube belongs to; -1 where there is none.
func (s *spread) near(p [2]float64, own cube) int {
	frame, err := geo.NewFrame(p)
	if err != nil {
		return -1
	}
	earliest := -1
	for i := range 27 {
		beside := cube{own[0] + float64(i%3-1), own[1] + float64(i/3%3-1), own[2] + float64(i/9-1)}
		for _, c := range s.in[beside] {
			if earliest >= 0 && c > earliest {
				break
			}
			if xy := frame.Forward(s.first[c]); math.Hypot(xy[0], xy[1]) < s.apart {
				earliest = c
				break
			}
		}
	}
	return earliest
}

// cubeOf is the cube that a position lies in, as on a sphere: it is farther there than on the
// ellipsoid by less than the hundredth that cubes are wider than apart. It is none where
// nothing can be nearer than that.
func (s *spread) cubeOf(p [2]float64) (c cube, placed bool) {
	const radius, wider = 6378137, 1.01
	east, north := p[0]*math.Pi/180, p[1]*math.Pi/180
	c = cube{math.Cos(north) * math.Cos(east), math.Cos(north) * math.Sin(east), math.Sin(north)}
	for axis := range c {
		c[axis] = math.Floor(radius * c[axis] / (wider * s.apart))
		if !(math.Abs(c[axis]) < 1<<52) {
			return c, false
		}
	}
	return c, true
}
