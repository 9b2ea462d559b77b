package planar

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"
)

// latticeBits is how many bits the largest coordinate has on the lattice that
// lines are noded on. They are few enough that differences, halves of them too,
// are exact, and many enough that in a field of a kilometre steps are a tenth of
// a nanometre.
const latticeBits = 43

// leastExponent keeps steps apart from 0.
const leastExponent = -1000

// latticeFor returns the step of the lattice for lines; a coordinate that is not
// finite is an error.
func latticeFor(lines []orb.LineString) (step float64, err error) {
	largest := 0.0
	for _, line := range lines {
		for _, p := range line {
			if !finite(p) {
				return 0, fmt.Errorf("planar: a coordinate is not a finite number")
			}
			largest = max(largest, math.Abs(p[0]), math.Abs(p[1]))
		}
	}
	_, exponent := math.Frexp(largest)
	return math.Ldexp(1, max(exponent-latticeBits, leastExponent)), nil
}

func finite(p orb.Point) bool {
	return !math.IsNaN(p[0]+p[1]) && !math.IsInf(p[0], 0) && !math.IsInf(p[1], 0)
}

// nodeOn moves lines to the lattice of a step, a power of two, and splits them
// wherever they meet there. It returns arcs that have no point in common but their
// ends. Doubled pieces become one, lines without length none.
func nodeOn(lines []orb.LineString, step float64) []orb.LineString {
	pieces := snapRounded(segmentsOn(lines, step))
	arcs, room := make([]orb.LineString, len(pieces)), make(orb.LineString, 2*len(pieces))
	for i, s := range pieces {
		arcs[i], room = room[:2:2], room[2:]
		arcs[i][0], arcs[i][1] = orb.Point{s.a[0] * step, s.a[1] * step}, orb.Point{s.b[0] * step, s.b[1] * step}
	}
	arcs, _ = chain(arcs, make([][2]int, len(arcs)))
	return arcs
}

// segmentsOn are the segments of lines in whole steps of a lattice.
func segmentsOn(lines []orb.LineString, step float64) (segments []segment) {
	points := 0
	for _, line := range lines {
		points += len(line)
	}
	segments = make([]segment, 0, points)
	for _, line := range lines {
		var last orb.Point
		for i, p := range line {
			at := orb.Point{math.Floor(p[0]/step + 0.5), math.Floor(p[1]/step + 0.5)}
			if i > 0 && at != last {
				segments = append(segments, newSegment(last, at))
			}
			last = at
		}
	}
	return segments
}
