package survey

import (
	"cmp"
	"math"
	"slices"
)

// apart is how far in metres rows of one stop may lie from one another: more is
// another place under the same name. It is three times what two phones may
// disagree by.
const apart = 30

// radius of the sphere on which distances are taken, in metres: good to half a
// per cent, enough to tell one place from another.
const radius = 6371e3

// point is a position on the sphere in metres from its centre.
type point [3]float64

func pointOf(r *Record) point {
	sinLon, cosLon := math.Sincos(r.Longitude * math.Pi / 180)
	sinLat, cosLat := math.Sincos(r.Latitude * math.Pi / 180)
	return point{radius * cosLat * cosLon, radius * cosLat * sinLon, radius * sinLat}
}

// distance is straight through the sphere, without trouble at the poles or the
// date line.
func (p point) distance(q point) float64 {
	return math.Hypot(math.Hypot(p[0]-q[0], p[1]-q[1]), p[2]-q[2])
}

// places numbers the places that the given rows, all of one name and day, lie at.
// From south to north and west to east, a row joins the first place within reach
// or founds one: so the order of the rows in the file does not matter. Founders
// are sought in cubes as wide as the reach, so that many rows cost little.
func places(records []Record, rows []int) map[int]int {
	order := slices.Clone(rows)
	slices.SortFunc(order, func(i, j int) int { return southWest(&records[i], &records[j]) })
	at := make(map[int]int, len(rows))
	var founders []point
	cubes := map[[3]int][]int{}
	for _, i := range order {
		p := pointOf(&records[i])
		n, found := nearby(p, founders, cubes)
		if !found {
			n = len(founders)
			founders = append(founders, p)
			cubes[cubeOf(p)] = append(cubes[cubeOf(p)], n)
		}
		at[i] = n
	}
	return at
}

func southWest(a, b *Record) int {
	return cmp.Or(cmp.Compare(a.Latitude, b.Latitude), cmp.Compare(a.Longitude, b.Longitude))
}

// onePlace reports whether all the given rows lie within reach of the first of
// them that founds a place, as nearly all do: then [places] finds no other.
func onePlace(records []Record, rows []int) bool {
	founder := &records[rows[0]]
	for _, i := range rows[1:] {
		if southWest(&records[i], founder) < 0 {
			founder = &records[i]
		}
	}
	for _, i := range rows {
		r := &records[i]
		if r.Longitude == founder.Longitude && r.Latitude == founder.Latitude {
			continue
		}
		if !(pointOf(founder).distance(pointOf(r)) <= apart) {
			return false
		}
	}
	return true
}

func cubeOf(p point) (c [3]int) {
	for k := range c {
		c[k] = int(math.Floor(p[k] / apart))
	}
	return c
}

// nearby finds the first founder within reach.
func nearby(p point, founders []point, cubes map[[3]int][]int) (n int, found bool) {
	c := cubeOf(p)
	for k := range 27 {
		cube := [3]int{c[0] + k%3 - 1, c[1] + k/3%3 - 1, c[2] + k/9 - 1}
		for _, f := range cubes[cube] {
			if founders[f].distance(p) <= apart && (!found || f < n) {
				n, found = f, true
			}
		}
	}
	return n, found
}
