package plan

import (
	"math"
	"math/rand/v2"
	"slices"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/internal/sorted"
)

const (
	coverStarts = 4
	coverRounds = 60
)

// cover places the stops.
func (g *ground) cover(set Settings) []orb.Point {
	if set.Heading != nil {
		return g.settleOn(g.rows(set.Stops, *set.Heading))
	}
	random := rand.New(rand.NewPCG(set.Seed, 0x706c_616e))
	var best []orb.Point
	least := math.Inf(1)
	for range coverStarts {
		places := g.settleOn(g.kmeans(set.Stops, random))
		if reach := g.reach(places); reach < least {
			best, least = places, reach
		}
	}
	return best
}

// kmeans spreads n centres over the cells by Lloyd's rounds (Lloyd 1982, IEEE
// Trans. Inf. Theory 28:129–137), begun by distance-weighted draws (Arthur &
// Vassilvitskii 2007, SODA). Each round a centre moves to where a stop may be
// and the sum of distances is least, by one step of Weiszfeld's (1937), since
// the distance walked to the nearest stop is what counts, not its square.
func (g *ground) kmeans(n int, random *rand.Rand) []orb.Point {
	centres := g.spreadSeeds(n, random)
	g.settleCentres(centres, 0)
	return centres
}

// settleCentres moves all but the first so many, which stay, in these rounds.
func (g *ground) settleCentres(centres []orb.Point, stay int) {
	owner := make([]int, len(g.cells))
	for range coverRounds {
		moved := g.own(centres, owner)
		if g.recentre(centres, stay, owner) < g.cell/50 && moved == 0 {
			break
		}
	}
}

// spreadSeeds draws centres among the cells, each with a chance that goes with
// the squared distance to those drawn before.
func (g *ground) spreadSeeds(n int, random *rand.Rand) []orb.Point {
	centres := []orb.Point{g.cells[random.IntN(len(g.cells))]}
	far := make([]float64, len(g.cells))
	for i := range far {
		far[i] = math.Inf(1)
	}
	for len(centres) < n {
		last, sum := centres[len(centres)-1], 0.0
		for i, c := range g.cells {
			far[i] = min(far[i], apartSquared(c, last))
			sum += far[i]
		}
		pick, at := random.Float64()*sum, len(g.cells)-1
		for i, f := range far {
			if pick -= f; pick < 0 {
				at = i
				break
			}
		}
		centres = append(centres, g.cells[at])
	}
	return centres
}

// own gives each cell to its nearest centre, the first of several, and returns how many
// changed hands. It is no farther than that of before, nor than that of the cell before.
func (g *ground) own(centres []orb.Point, owner []int) (moved int) {
	near, last := g.inCells(centres), 0
	for i, c := range g.cells {
		reach := math.Sqrt(min(apartSquared(c, centres[owner[i]]), apartSquared(c, centres[last])))
		if last, _ = near.Within(c[0], c[1], reach); owner[i] != last {
			owner[i] = last
			moved++
		}
	}
	return moved
}

// recentre moves each centre but the first so many into the middle of its cells and
// returns the longest move. A centre without cells stays.
func (g *ground) recentre(centres []orb.Point, stay int, owner []int) (longest float64) {
	type sum struct{ x, y, weight float64 }
	sums := make([]sum, len(centres))
	for i, c := range g.cells {
		// A cell on the centre would weigh without bound: half a cell is the least.
		w := 1 / max(distance(c, centres[owner[i]]), g.cell/2)
		s := &sums[owner[i]]
		s.x += float64(c[0] * w)
		s.y += float64(c[1] * w)
		s.weight += w
	}
	for k, s := range sums {
		if k >= stay && s.weight > 0 {
			next := orb.Point{s.x / s.weight, s.y / s.weight}
			longest = max(longest, distance(next, centres[k]))
			centres[k] = next
		}
	}
	return longest
}

// rows lays n places in rows along a heading. The ground is cut across it into
// strips about as wide as stops are apart, each with as many stops as its share
// of the ground; a strip is cut into parts of equal ground, and the places stand
// on its middle line.
func (g *ground) rows(n int, heading float64) []orb.Point {
	sin, cos := math.Sincos(heading * math.Pi / 180)
	along := func(p orb.Point) float64 { return float64(p[0]*sin) + float64(p[1]*cos) }
	across := func(p orb.Point) float64 { return float64(p[0]*cos) - float64(p[1]*sin) }
	cells := slices.Clone(g.cells)
	sorted.Stably(cells, func(a, b orb.Point) int { return compare(across(a), across(b)) })
	width := across(cells[len(cells)-1]) - across(cells[0]) + g.cell
	apart := math.Sqrt(float64(len(cells))*float64(g.cell*g.cell)/float64(n)) + 1e-9
	strips := max(1, min(n, int(math.Round(width/apart))))
	var out []orb.Point
	for s := range strips {
		first, last := n*s/strips, n*(s+1)/strips // stops of the strip
		strip := cells[len(cells)*first/n : len(cells)*last/n]
		middle := across(strip[len(strip)/2])
		sorted.Stably(strip, func(a, b orb.Point) int { return compare(along(a), along(b)) })
		for k := range last - first {
			at := along(strip[(2*k+1)*len(strip)/(2*(last-first))])
			out = append(out, orb.Point{float64(at*sin) + float64(middle*cos), float64(at*cos) - float64(middle*sin)})
		}
	}
	return out
}

func compare(a, b float64) int {
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}
