package assess

import (
	"maps"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/testkit"
)

const squareArea = testkit.InventedSide * testkit.InventedSide

// walked are stops at places, of nothing.
func walked(at ...orb.Point) []Stop {
	stops := make([]Stop, len(at))
	for i, p := range at {
		stops[i].XY = p
	}
	return stops
}

// netOf are n by n places over the square of tests.
func netOf(n int) (at []orb.Point) {
	const side = testkit.InventedSide
	for i := range n * n {
		at = append(at, orb.Point{side * (float64(i%n) + 0.5) / float64(n), side * (float64(i/n) + 0.5) / float64(n)})
	}
	return at
}

// roundAbout are n places so far from one.
func roundAbout(p orb.Point, n int, far float64) (at []orb.Point) {
	for i := range n {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		at = append(at, orb.Point{p[0] + far*cos, p[1] + far*sin})
	}
	return at
}

func extras(stops []Stop) (n int) {
	for _, s := range stops {
		if s.Extra {
			n++
		}
	}
	return n
}

// Two stops no farther apart than a fifth of the way to the next place are one, and five are
// a crowd at a quarter of the spacing and not beyond it, where places hold one; where each
// holds two it takes four.
func TestACrowdAtItsBounds(t *testing.T) {
	at := netOf(5)
	const spacing = testkit.InventedSide / 5
	for _, c := range []struct {
		name   string
		each   int // stops at each place
		more   int // round one
		far    float64
		wanted int // marked as extra
	}{
		{"a copy", 1, 1, 0, 1}, {"one beside", 1, 1, spacing/5 - 0.01, 1}, {"one beyond", 1, 1, spacing/5 + 0.01, 0},
		{"four", 1, 3, 1, 3}, {"copies", 1, 4, 0, 4}, {"four at a quarter", 1, 3, spacing / 4, 0},
		{"at a quarter", 1, 4, spacing / 4, 4}, {"beyond it", 1, 4, spacing/4 + 0.01, 0},
		{"three among pairs", 2, 1, 1, 0}, {"four among pairs", 2, 2, 1, 3},
		{"thirty-nine among twenties", 20, 19, 1, 0}, {"forty among twenties", 20, 20, 1, 39},
	} {
		var all []orb.Point
		for _, p := range at {
			for range c.each {
				all = append(all, p)
			}
		}
		stops := walked(append(all, roundAbout(at[12], c.more, c.far)...)...)
		together := markTogether(squareArea, math.Inf(1), stops)
		assert.Equal(t, c.wanted, extras(stops), c.name)
		if c.wanted == 0 {
			assert.Empty(t, together, c.name)
			continue
		}
		require.Len(t, together, 1, c.name)
		assert.False(t, together[0].Round)
		assert.Len(t, together[0].Others, c.wanted, c.name)
		assert.GreaterOrEqual(t, together[0].Within, c.far*(1-1e-9), c.name)
		assert.LessOrEqual(t, together[0].Within, 2*c.far*(1+1e-9), c.name)
	}
}

// Four stops round a hot one within two thirds of the spacing are a walk round it, three
// are none, nor are four round one below the level, or such as all stops have.
func TestAWalkRoundAtItsBounds(t *testing.T) {
	at := netOf(5)
	for _, c := range []struct {
		name   string
		more   int
		hot    float64
		wanted int
	}{{"three", 3, 40, 0}, {"four", 4, 40, 4}, {"below the level", 4, 39.9, 0}, {"eight", 8, 40, 8}} {
		all := append(slices.Clone(at), roundAbout(at[12], c.more, testkit.InventedSide/10)...)
		stops := walked(all...)
		stops[12].Value = c.hot
		together := markTogether(squareArea, 40, stops)
		assert.Equal(t, c.wanted, extras(stops), c.name)
		if c.wanted > 0 {
			require.Len(t, together, 1, c.name)
			assert.True(t, together[0].Round, c.name)
			assert.Equal(t, 12, together[0].At, c.name)
			assert.InDelta(t, testkit.InventedSide/10, together[0].Within, 1e-9, c.name)
		}
		const spacing = testkit.InventedSide / 5
		for i := 25; i < len(stops); i++ {
			stops[i].XY = roundAbout(at[12], c.more, roundStop*spacing+0.01)[i-25]
			stops[i].Extra = false
		}
		markTogether(squareArea, 40, stops)
		assert.Zero(t, extras(stops), "%s, too far", c.name)
	}
	// A quarter of the places may be hot, and no more.
	for hot, wanted := range map[int]int{6: 4, 8: 0} {
		stops := walked(append(slices.Clone(at), roundAbout(at[12], 4, testkit.InventedSide/10)...)...)
		for i := range hot - 1 {
			stops[i].Value = 50
		}
		stops[12].Value = 60
		markTogether(squareArea, 40, stops)
		assert.Equal(t, wanted, extras(stops), "%d hot", hot)
	}
}

// Stops that were marked stay as they were marked, and stand for no place.
func TestMarkedStopsAreNoCrowd(t *testing.T) {
	at := netOf(5)
	stops := walked(append(at, roundAbout(at[12], 6, 5)...)...)
	for i := 25; i < len(stops); i++ {
		stops[i].Extra = true
	}
	before := slices.Clone(stops)
	assert.Empty(t, markTogether(squareArea, 0, stops))
	assert.Equal(t, before, stops)
	for i := range stops {
		stops[i].Extra = true
	}
	assert.Empty(t, markTogether(squareArea, 0, stops))
	assert.Empty(t, markTogether(squareArea, 0, nil))
}

// The stop that stands for a crowd has the least count no less than the mean of it, and is
// the same in any order of the rows.
func TestWhoStandsForACrowd(t *testing.T) {
	at := netOf(5)
	rng := rand.New(rand.NewPCG(3, 5))
	for _, c := range []struct{ counts, want []float64 }{
		{[]float64{150, 0, 0, 0, 0}, []float64{150}}, {[]float64{7, 7, 7, 7, 7, 7}, []float64{7}},
		{[]float64{1, 2, 3, 4, 5}, []float64{3}}, {[]float64{0.1, 0.1, 0.1, 0.1, 0.1}, []float64{0.1}},
	} {
		stops := walked(append(at[:24:24], roundAbout(at[24], len(c.counts), 3)...)...)
		for i, v := range c.counts {
			stops[24+i].Value = v
		}
		var place orb.Point
		for k := range 20 {
			mixed := slices.Clone(stops)
			rng.Shuffle(len(mixed), func(i, j int) { mixed[i], mixed[j] = mixed[j], mixed[i] })
			together := markTogether(squareArea, math.Inf(1), mixed)
			require.Len(t, together, 1)
			assert.Equal(t, c.want[0], mixed[together[0].At].Value)
			if k > 0 {
				assert.Equal(t, place, mixed[together[0].At].XY)
			}
			place = mixed[together[0].At].XY
		}
	}
}

// Circles round a hot stop are one walk round it, though the stops on them make the spacing
// of all stops small: it goes for most stops that are left.
func TestTwoCirclesAreOneWalk(t *testing.T) {
	for _, far := range []float64{0.3, 0.4, 0.6} { // of the spacing
		at := netOf(5)
		const spacing = testkit.InventedSide / 5
		stops := walked(append(at, append(roundAbout(at[12], 8, far*spacing), roundAbout(at[12], 8, 0.6*spacing)...)...)...)
		for i := range stops {
			if i == 12 || i >= 25 {
				stops[i].Value = 150
			}
		}
		together := markTogether(squareArea, 40, stops)
		require.Len(t, together, 1, "%g", far)
		assert.Equal(t, 12, together[0].At)
		assert.True(t, together[0].Round)
		assert.Len(t, together[0].Others, 16)
		assert.InDelta(t, 0.6*spacing, together[0].Within, 1e-9)
	}
}

// A stop that was marked as planned stands for its place, whatever the others there counted
// and whatever the order of the rows; of several the present rule tells.
func TestThePlannedStopStandsForItsPlace(t *testing.T) {
	at := netOf(5)
	for _, far := range []float64{0, 12, testkit.InventedSide / 10} { // a crowd, and a walk round a hot stop
		for first := range 7 {
			stops := walked(append(slices.Clone(at), roundAbout(at[12], 6, far)...)...)
			for i, v := range []float64{603, 532, 751, 648, 712, 580} {
				stops[25+i].Value = v
			}
			for i := range 25 {
				stops[i].Value, stops[i].Planned = 20, true
			}
			stops[12].Value = 500
			stops[12], stops[24+first] = stops[24+first], stops[12]
			if first == 0 {
				stops[12], stops[24] = stops[24], stops[12]
			}
			markTogether(squareArea, 40, stops)
			for _, s := range stops {
				assert.NotEqual(t, s.Planned, s.Extra, "%g m, %d: %g", far, first, s.Value)
			}
		}
	}
	stops := walked(append(slices.Clone(at), roundAbout(at[12], 6, 12)...)...)
	for i, v := range []float64{1, 9, 3, 8, 9, 9} {
		stops[25+i].Value, stops[25+i].Planned = v, i%2 == 0
	}
	together := markTogether(squareArea, 40, stops)
	require.Len(t, together, 1)
	assert.Equal(t, 29, together[0].At, "of the planned ones 1, 3 and 9 the mean is above 3")

	// No walk round an unmarked stop takes in planned ones.
	stops = walked(append(slices.Clone(at), roundAbout(at[12], 4, testkit.InventedSide/10)...)...)
	for i := 25; i < len(stops); i++ {
		stops[i].Planned = true
	}
	stops[12].Value = 500
	assert.Empty(t, markTogether(squareArea, 40, stops))
}

// An unmarked stop near one marked as planned counts for its place, be it one; beyond it,
// where places hold two or where it was marked too it does not.
func TestAnUnmarkedStopBesideAPlannedOne(t *testing.T) {
	at := netOf(5)
	far := closePlace * 0.98 * testkit.InventedSide / 5
	for _, c := range []struct {
		name           string
		each, more     int
		far            float64
		marked, wanted int
	}{
		{"one", 1, 1, far, 1, 1}, {"three", 1, 3, 12, 1, 3}, {"beyond", 1, 3, far * 1.05, 1, 0},
		{"pairs", 2, 1, 12, 1, 0}, {"all marked", 1, 3, 12, 2, 0},
	} {
		var all []orb.Point
		for _, p := range at {
			for range c.each {
				all = append(all, p)
			}
		}
		stops := walked(append(all, roundAbout(at[12], c.more, c.far)...)...)
		for i := range stops {
			stops[i].Value, stops[i].Planned = 50, c.marked == 2 || c.marked == 1 && i < 25*c.each
		}
		together := markTogether(squareArea, 40, stops)
		assert.Equal(t, c.wanted, extras(stops), c.name)
		if c.wanted > 0 {
			require.Len(t, together, 1, c.name)
			assert.Equal(t, 12, together[0].At, c.name)
			assert.Equal(t, []int{25, 26, 27}[:c.wanted], together[0].Others, c.name)
			assert.InDelta(t, c.far, together[0].Within, 1e-9, c.name)
		}
	}
}

// Walks at random, on a grid and on a W, leaves as rows, two observers at each stop, more
// in a half of the field, a corner alone or the first stops of a walk hold no stops that
// stand together but by chance, one stop in forty, nor a walk round a hot stop.
func TestOrdinaryWalksHoldNoCrowd(t *testing.T) {
	draws := testkit.Few(testkit.Draws(200), 50) // of fewer, one in forty is chance
	rng := rand.New(rand.NewPCG(9, 9))
	walks := testkit.Walks()
	for _, name := range slices.Sorted(maps.Keys(walks)) { // by name, or each run would draw others
		walk := walks[name]
		for _, n := range []int{12, 20, 60, 250} {
			crowds, rounds := 0, 0
			for range draws {
				var at []orb.Point
				for _, p := range walk(rng, n) {
					at = append(at, orb.Point{p[0], p[1]})
				}
				stops := walked(at...)
				for range 3 {
					stops[rng.IntN(n)].Value = 100
				}
				for _, t := range markTogether(squareArea, 40, stops) {
					if t.Round {
						rounds++
					} else {
						crowds++
					}
				}
			}
			t.Logf("%s, %d stops: %d crowds, %d walks round a hot stop in %d walks", name, n, crowds, rounds, draws)
			switch name {
			case "random", "road": // of a road nothing is told but for its own ground
				assert.LessOrEqual(t, crowds, draws*n/40, "%s, %d stops", name, n) // by chance a stop beside another
				assert.LessOrEqual(t, rounds, draws/10, "%s, %d stops", name, n)
			case "W": // where its legs meet
				assert.Zero(t, crowds, "%d stops", n)
				assert.LessOrEqual(t, rounds, n/250*draws/10, "%d stops", n)
			default:
				assert.Zero(t, crowds+rounds, "%s, %d stops", name, n)
			}
		}
	}
	scatter := func(p orb.Point, metres float64) orb.Point {
		return orb.Point{p[0] + metres*rng.NormFloat64(), p[1] + metres*rng.NormFloat64()}
	}
	others := map[string]func() []orb.Point{
		"leaves as rows": func() (at []orb.Point) {
			for _, p := range netOf(4) {
				for range 20 {
					at = append(at, scatter(p, 5))
				}
			}
			return at
		},
		"two observers": func() (at []orb.Point) {
			for _, p := range netOf(6) {
				at = append(at, scatter(p, 5), scatter(p, 5))
			}
			return at
		},
		"a half walked closer": func() (at []orb.Point) {
			for range 200 {
				at = append(at, orb.Point{testkit.InventedSide * rng.Float64(), testkit.InventedSide / 2 * rng.Float64()})
			}
			return append(at, netOf(4)...)
		},
		"a corner alone": func() []orb.Point { return roundAbout(orb.Point{50, 50}, 30, 20) },
		"a walk begun": func() (at []orb.Point) {
			for i := range 8 {
				at = append(at, orb.Point{30, 30 + 20*float64(i)})
			}
			return at
		},
	}
	for _, name := range slices.Sorted(maps.Keys(others)) {
		found := 0
		for range 20 {
			found += len(markTogether(squareArea, math.Inf(1), walked(others[name]()...)))
		}
		if name == "a half walked closer" { // at random
			found -= 20 * 216 / 40
		}
		assert.LessOrEqual(t, found, 0, name)
	}
}

// Most stops are spread, and a tenth stands at one place.
func BenchmarkTogether(b *testing.B) {
	rng := rand.New(rand.NewPCG(13, 14))
	stops := make([]Stop, 100_000)
	for i := range stops {
		stops[i].XY = orb.Point{20_000 * rng.Float64(), 20_000 * rng.Float64()}
		if i%10 == 0 {
			stops[i].XY = orb.Point{5000 + 10*rng.Float64(), 5000 + 10*rng.Float64()}
		}
	}
	for b.Loop() {
		markTogether(4e8, math.Inf(1), slices.Clone(stops))
	}
}
