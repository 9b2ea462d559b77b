package plan

import (
	"math"
	"slices"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/scouting/layout"
)

const (
	// leastApart is how far from a hot stop those round it stand at the least, metres, so
	// that neither is at the place of the other (our choice).
	leastApart = 2 * layout.SamePlace
	directions = 16 // in which a place inside of a stop of the edge is looked for
)

// placesRound are n places round hot stops, or inside of those of the edge, in turn: half
// as far from them as planned stops stand apart, or as the nearest other one does. Where
// extra stops were counted round a hot one already, those that are still to be walked
// stand where they leave most room, and never at a place that was counted.
func (g *ground) placesRound(planned, extra, round, beside []orb.Point, n int) []orb.Point {
	hot := len(round) + len(beside)
	var wanted []orb.Point
	for i := range n {
		at, turn := i%hot, i/hot
		if at < len(round) {
			of := (n - at + hot - 1) / hot // places round this stop
			r := g.apart(planned, round[at])
			if met := nearTo(extra, round[at], roundAsFar*r); len(met) > 0 {
				wanted = append(wanted, g.roomiest(round[at], r, slices.Concat(met, nearTo(wanted, round[at], roundAsFar*r))))
				continue
			}
			wanted = append(wanted, offset(round[at], r, 2*math.Pi*float64(turn)/float64(of)))
			continue
		}
		p := beside[at-len(round)]
		wanted = append(wanted, g.inward(p, g.apart(planned, p)*float64(1+turn), extra))
	}
	return g.settleOn(wanted)
}

// roundAsFar is how many times as far as a walk round a stop goes a stop may have been
// counted to be of it.
const roundAsFar = 1.5

// nearTo are the places so near to one.
func nearTo(places []orb.Point, p orb.Point, reach float64) (near []orb.Point) {
	for _, q := range places {
		if distance(p, q) <= reach {
			near = append(near, q)
		}
	}
	return near
}

// roomiest is the place so far from a stop that lies farthest from those counted, where
// one may stop if there is any such.
func (g *ground) roomiest(p orb.Point, apart float64, counted []orb.Point) orb.Point {
	best, room := p, math.Inf(-1)
	for k := range directions {
		q, nearest := offset(p, apart, 2*math.Pi*float64(k)/directions), math.Inf(1)
		for _, c := range counted {
			nearest = min(nearest, distance(q, c))
		}
		if !g.good(q) {
			nearest -= 4 * apart // after all good ones
		}
		if nearest > room+1e-6 { // metres, so that rounding does not choose
			best, room = q, nearest
		}
	}
	return best
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

// inward is the place so far from another that lies deepest inside the field and was not
// counted.
func (g *ground) inward(p orb.Point, apart float64, counted []orb.Point) orb.Point {
	best, depth := p, math.Inf(-1)
	for k := range directions {
		q := offset(p, apart, 2*math.Pi*float64(k)/directions)
		if !g.good(q) || crowded(counted, q, layout.SamePlace) {
			continue
		}
		if d := g.edges.Distance(q); d > depth {
			best, depth = q, d
		}
	}
	return best
}
