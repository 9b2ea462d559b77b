package boundary

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
)

// closedBefore makes a ring of a line that goes on past where it began, as a track does
// that is stopped a while after the round: it ends where the line first comes back to its
// start, to the gap, once it is [aloneFrom] long. past is how long the rest is, m, which is
// no longer than the round, so that a start that is passed on the way out and back closes
// nothing, and neither does ground that is narrower than the gap is wide. Of any other line
// it makes nil.
func closedBefore(line orb.LineString) (ring orb.Ring, past float64) {
	frame, err := geo.NewFrame(line[0])
	if err != nil {
		return nil, 0
	}
	xy := make([]orb.Point, len(line))
	total := 0.0
	for i, p := range line {
		xy[i] = frame.Forward(p)
		if i > 0 {
			total += apart(xy[i-1], xy[i])
		}
	}
	walked, at, nearest := 0.0, 0, math.Inf(1)
	for i := 1; i < len(xy); i++ {
		foot := footOf(xy[i-1], xy[i])
		to := walked + apart(xy[i-1], foot)
		off := apart(foot, orb.Point{})
		walked += apart(xy[i-1], xy[i])
		switch {
		case off <= gap && to >= aloneFrom && total-to <= to:
			if off < nearest {
				at, nearest, past = i, off, total-to
			}
		case at > 0: // it leaves the start again
			i = len(xy)
		}
	}
	if at < 3 {
		return nil, 0
	}
	ring = append(append(orb.Ring{}, line[:at]...), line[0])
	if ground := geo.Area(orb.MultiPolygon{{append(append(orb.Ring{}, xy[:at]...), xy[0])}}); math.Abs(ground) < gap*(total-past)/4 {
		return nil, 0
	}
	return ring, past
}

// footOf is the place between two that lies nearest to the origin.
func footOf(a, b orb.Point) orb.Point {
	dx, dy := b[0]-a[0], b[1]-a[1]
	square := float64(dx*dx) + float64(dy*dy)
	if square == 0 {
		return a
	}
	t := min(max(-(float64(a[0]*dx)+float64(a[1]*dy))/square, 0), 1)
	return orb.Point{a[0] + float64(t*dx), a[1] + float64(t*dy)}
}

func apart(a, b orb.Point) float64 { return math.Hypot(a[0]-b[0], a[1]-b[1]) }

// wentOn says which lines go on past where they began; "" for none.
func (l leftOut) wentOn() string {
	if len(l.past) == 0 {
		return ""
	}
	return fmt.Sprintf("a line goes on past where it began: closed there, and its last %s are left out", listedGaps(l.past))
}
