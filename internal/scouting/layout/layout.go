// Package layout says how the stops of a walk lie over their field: which share of
// the ground they speak for. It knows metres only and nothing of counts.
//
// Stops spread evenly over a field of area A lie about √(A/n) apart, and hardly any
// ground is farther than that from one of n of them. Ground that is farther, since
// the stops stand along a line or in a part of the field, has no stop that speaks
// for it.
package layout

import "math"

// How sure it is where a stop was.
const (
	// PhoneError in metres is how far a phone's fix may be off in the open, 95 % (GPS.gov,
	// after van Diggelen & Enge 2015).
	PhoneError = 4.9
	// SamePlace in metres is how near to a stop its place reaches: phones are off by about
	// as much, so that what is nearer tells of the same place. Our choice.
	SamePlace = 5.0
)

// A Lattice is a field as points on a lattice in metres, each standing for the same
// area. The zero value is no ground.
type Lattice struct {
	Points [][2]float64
	Cell   float64 // m² for each point
}

// A Layout is how stops lie over a ground. The zero value says nothing.
type Layout struct {
	Stops int
	Reach float64 // metres: what evenly spread stops would lie apart, √(A/n)
	Share float64 // 0 to 1, of the ground within Reach of a stop; NaN without ground
	Area  float64 // m² within Reach of a stop
	// Span is Share by the reach of twelve stops where there are more, so that more
	// stops never make it less.
	Span float64
	// Beyond is the largest share of the ground that lies beyond all stops in one
	// direction, of sixteen.
	Beyond float64
}

// spanStops is the number of stops whose reach tells what a walk spans: our choice.
const spanStops = 12

// Of is the layout of stops in metres. No stops speak for nothing.
func (g Lattice) Of(stops [][2]float64) Layout {
	l := Layout{Stops: len(stops), Share: math.NaN(), Span: math.NaN(), Beyond: math.NaN()}
	if len(g.Points) == 0 {
		return l
	}
	area := float64(len(g.Points)) * g.Cell
	l.Share, l.Span, l.Beyond = 0, 0, 1
	if len(stops) == 0 {
		return l
	}
	l.Reach = math.Sqrt(area / float64(len(stops)))
	l.Share = g.within(stops, l.Reach)
	l.Area = l.Share * area
	l.Span = g.within(stops, max(l.Reach, math.Sqrt(area/spanStops)))
	l.Beyond = g.beyond(stops)
	return l
}

// beyond is [Layout.Beyond] of one stop or more.
func (g Lattice) beyond(stops [][2]float64) (most float64) {
	const directions = 16
	for k := range directions {
		sin, cos := math.Sincos(2 * math.Pi * float64(k) / directions)
		along := func(p [2]float64) float64 { return float64(p[0]*cos) + float64(p[1]*sin) }
		last, ahead := math.Inf(-1), 0
		for _, s := range stops {
			last = max(last, along(s))
		}
		for _, p := range g.Points {
			if along(p) > last {
				ahead++
			}
		}
		most = max(most, float64(ahead)/float64(len(g.Points)))
	}
	return most
}

// within is the share of the ground so near to a stop.
func (g Lattice) within(stops [][2]float64, reach float64) float64 {
	near := 0
	for _, p := range g.Points {
		if nearAny(stops, p, reach) {
			near++
		}
	}
	return float64(near) / float64(len(g.Points))
}

func nearAny(stops [][2]float64, p [2]float64, reach float64) bool {
	for _, s := range stops {
		dx, dy := s[0]-p[0], s[1]-p[1]
		if float64(dx*dx)+float64(dy*dy) <= float64(reach*reach) {
			return true
		}
	}
	return false
}

// Shares of the ground that tell spread stops from others. Stops at random speak
// for 0.91 to 0.94 of it on average, whatever their number, a grid for 0.97 and
// more, 60 along a W for 0.78, as many along a road for 0.22 (TestShares). Our
// choices, no source.
const (
	evenShare   = 0.85
	littleShare = 0.60
	aheadRows   = 1.1 // rows, of as many as a square grid of so many stops has
)

// Uneven reports whether the stops stand along a line or to one side, so that a good
// part of the ground has no stop that speaks for it. Fewer than twelve lie as they may,
// unless they are [Layout.Partial].
func (l Layout) Uneven() bool {
	return l.Stops >= spanStops && l.Share < evenShare || l.Partial()
}

// Partial reports whether the stops span so little of the ground that they say
// nothing of the field as a whole.
func (l Layout) Partial() bool { return l.Stops > 0 && l.Span < littleShare }

// Crossed reports whether a walk has been everywhere: the stops are spread and no
// direction has a row's ground or more ahead of them.
func (l Layout) Crossed() bool {
	return l.Share >= evenShare && l.Beyond <= aheadRows/math.Sqrt(float64(l.Stops))
}
