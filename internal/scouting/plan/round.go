package plan

import (
	"math"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
)

const (
	// leastApart is how far from a hot stop those round it stand at the least, metres: a
	// phone's fix tells no less (our choice).
	leastApart = 10.0
	directions = 16 // in which a place inside of a stop of the edge is looked for
)

// placesRound are n places round hot stops, or inside of those of the edge, in turn: half
// as far from them as stops stand apart, or as the nearest other stop does.
func (g *ground) placesRound(stops, round, beside []orb.Point, n int) []orb.Point {
	hot := len(round) + len(beside)
	var wanted []orb.Point
	for i := range n {
		at, turn := i%hot, i/hot
		if at < len(round) {
			of := (n - at + hot - 1) / hot // places round this stop
			wanted = append(wanted, offset(round[at], g.apart(stops, round[at]), 2*math.Pi*float64(turn)/float64(of)))
			continue
		}
		p := beside[at-len(round)]
		wanted = append(wanted, g.inward(p, g.apart(stops, p)*float64(1+turn)))
	}
	return g.settleOn(wanted)
}

// apart is how far from a hot stop to go.
func (g *ground) apart(stops []orb.Point, hot orb.Point) float64 {
	r := math.Sqrt(geo.Area(g.field)/float64(len(stops))) / 2
	for _, s := range stops {
		if d := distance(s, hot); d > 1 { // not itself
			r = min(r, d/2)
		}
	}
	return max(r, leastApart)
}

// offset is a place so far from another, at an angle from north clockwise in radians.
func offset(p orb.Point, apart, angle float64) orb.Point {
	return orb.Point{p[0] + float64(apart*math.Sin(angle)), p[1] + float64(apart*math.Cos(angle))}
}

// inward is the place so far from another that lies deepest inside the field.
func (g *ground) inward(p orb.Point, apart float64) orb.Point {
	best, depth := p, math.Inf(-1)
	for k := range directions {
		q := offset(p, apart, 2*math.Pi*float64(k)/directions)
		if !g.good(q) {
			continue
		}
		if d := geo.DistanceToEdge(g.field, q); d > depth {
			best, depth = q, d
		}
	}
	return best
}
