package verdict_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/mapping/verdict"
	"github.com/geocoris/geocoris/internal/testkit"
)

// off are places as a phone has them, so many metres off at the most.
func off(r *rand.Rand, metres float64, stops [][3]float64) [][3]float64 {
	out := slices.Clone(stops)
	for i := range out {
		angle, far := 2*math.Pi*r.Float64(), metres*math.Sqrt(r.Float64())
		out[i][0], out[i][1] = out[i][0]+far*math.Cos(angle), out[i][1]+far*math.Sin(angle)
	}
	return out
}

// A walk round a hot stop half the way to the next, typed in with or without its kind and a
// phone's error, is asked for once and answers alike.
func TestAWalkRoundIsKnownWithoutItsKind(t *testing.T) {
	for seed := range uint64(testkit.Few(12, 3)) {
		r := rand.New(rand.NewPCG(seed, 8))
		side := 4 + r.IntN(3)
		stops := grid(side * side)
		at := side*(1+r.IntN(side-2)) + 1 + r.IntN(side-2)
		stops[at][2] = 150
		stops = off(r, 3, stops)
		name := fmt.Sprintf("seed %d, %d stops", seed, len(stops))
		before := withExtra(t, stops, nil)
		require.Equal(t, []string{fmt.Sprint(at + 1)}, before.Round, name)
		for _, value := range []float64{0, 150} {
			walk := off(r, 4, ring(stops[at], 250/float64(side), value))
			marked, typed := withExtra(t, stops, walk), withExtra(t, append(slices.Clone(stops), walk...), nil)
			assert.Empty(t, marked.Round, name)
			assert.NotEqual(t, verdict.Undecided, marked.Kind, name)
			assert.Equal(t, []any{marked.Kind, marked.Line, marked.Stats.Mean, marked.TreatArea, len(marked.Round)},
				[]any{typed.Kind, typed.Line, typed.Stats.Mean, typed.TreatArea, len(typed.Round)}, name)
		}
	}
}

// A crowd says as much as one stop, however many stand in it: k copies of one, or a walk of
// k round one, all with its count. Whether the rule is reached does not depend on k.
func TestACrowdIsOnePlace(t *testing.T) {
	for _, hot := range []float64{150, 2, 30}[:testkit.Few(3, 1)] {
		stops := grid(25)
		for i := range stops {
			stops[i][2] = float64(i % 3)
		}
		stops[12][2] = hot
		alone := withExtra(t, stops, nil)
		var copies verdict.Verdict
		for _, k := range []int{4, 5, 20, 60} {
			name := fmt.Sprintf("%g, %d more", hot, k)
			crowd, close := slices.Clone(stops), slices.Clone(stops)
			for i := range k {
				crowd = append(crowd, stops[12])
				angle := 2 * math.Pi * float64(i) / float64(k)
				close = append(close, [3]float64{stops[12][0] + 20*math.Cos(angle), stops[12][1] + 20*math.Sin(angle), hot})
			}
			v := withExtra(t, crowd, nil)
			assert.Equal(t, alone.Stats.Mean, v.Stats.Mean, name)
			assert.Equal(t, alone.Stats.Interval, v.Stats.Interval, name)
			assert.Equal(t, []any{alone.Kind, alone.Skill, alone.More, alone.Round}, []any{v.Kind, v.Skill, v.More, v.Round}, name)
			if k > 4 {
				assert.Equal(t, copies.Sums.Best(), v.Sums.Best(), name)
			}
			copies = v
			v = withExtra(t, close, nil)
			assert.Equal(t, alone.Stats.Mean, v.Stats.Mean, name)
			assert.Equal(t, alone.Stats.Interval, v.Stats.Interval, name)
			assert.Empty(t, v.Round, name)
		}
	}
}

// A cold crowd makes no mean lower than its hot stop does, and does not hide it.
func TestAColdCrowdHidesNothing(t *testing.T) {
	stops := grid(25)
	for i := range stops {
		stops[i][2] = 20
	}
	stops[7][2] = 600
	alone := withExtra(t, stops, nil)
	require.GreaterOrEqual(t, alone.Stats.Mean, 40.0)
	crowd := slices.Clone(stops)
	for i := range 60 {
		crowd = append(crowd, [3]float64{stops[16][0] + float64(i%8), stops[16][1] + float64(i/8), 0})
	}
	v := withExtra(t, crowd, nil)
	assert.GreaterOrEqual(t, v.Stats.Mean, 39.2)
	assert.Equal(t, []string{"8"}, v.Round)
}

// However many stops nobody marked stand at a hot place, copies of it, some beside it or
// circles round it, the mean is that of the walk without them. Some of the copies have the place
// of the stop before them, and are not used at all.
func TestTheMeanIsOfThePlannedWalk(t *testing.T) {
	circle := func(at [3]float64, n int, far float64) (round [][3]float64) {
		for i := range n {
			sin, cos := math.Sincos(0.4 + 2*math.Pi*float64(i)/float64(n))
			round = append(round, [3]float64{at[0] + far*cos, at[1] + far*sin, at[2]})
		}
		return round
	}
	type walk func(at [3]float64) [][3]float64
	walks := map[string]walk{
		"two circles": func(at [3]float64) [][3]float64 { return append(circle(at, 8, 30), circle(at, 8, 60)...) },
		"one, off":    func(at [3]float64) [][3]float64 { return circle(at, 6, 55) },
	}
	for k := 1; k <= testkit.Few(8, 2); k++ {
		walks[fmt.Sprint(k, " copies")] = func(at [3]float64) [][3]float64 { return circle(at, k, 0) }
		walks[fmt.Sprint(k, " at 12 m")] = func(at [3]float64) [][3]float64 { return circle(at, k, 12) }
	}
	for name, walk := range walks {
		for _, hot := range [][]int{{12}, {6, 18}, {6, 13, 22}} {
			if name == "two circles" && len(hot) > 1 { // more stops than the walk itself
				continue
			}
			stops := grid(25)
			for i := range stops {
				stops[i][2] = float64(i % 4)
			}
			for i, at := range hot {
				stops[at][2] = 150 + 20*float64(i)
			}
			more := slices.Clone(stops)
			for _, at := range hot {
				more = append(more, walk(stops[at])...)
			}
			alone, with := withExtra(t, stops, nil), withExtra(t, more, nil)
			assert.Equal(t, alone.Stats.Mean, with.Stats.Mean, "%s, %d hot", name, len(hot))
			assert.Equal(t, alone.Stats.Interval, with.Stats.Interval, "%s, %d hot", name, len(hot))
			assert.Equal(t, len(more)-len(stops), with.Stats.Extra+len(with.Unread), "%s, %d hot", name, len(hot))
		}
	}
}

// A second scout at the same places makes no more of them: too few stay too few, whatever is
// found, and the range of the mean no narrower.
func TestASecondScoutMakesNoMorePlaces(t *testing.T) {
	for _, n := range []int{6, 9, 10, 16} {
		for _, hot := range []float64{0, 150} {
			name := fmt.Sprintf("%d places, %g", n, hot)
			stops := grid(n)
			for i := range stops {
				stops[i][2] = float64(i%3) / 10
			}
			stops[n/2][2] = hot
			twice := slices.Clone(stops)
			for _, s := range stops {
				twice = append(twice, [3]float64{s[0] + 1, s[1] - 1, s[2]})
			}
			one, two := withExtra(t, stops, nil), withExtra(t, twice, nil)
			assert.Equal(t, []int{n, 0, 2 * n, n}, []int{one.Stats.Stops, one.Stats.Doubled, two.Stats.Stops, two.Stats.Doubled}, name)
			assert.InDelta(t, one.Stats.Interval.Low, two.Stats.Interval.Low, 1e-9, name)
			assert.InDelta(t, one.Stats.Interval.High, two.Stats.Interval.High, 1e-9, name)
			if hot == 0 {
				assert.Equal(t, []any{one.Kind, one.Line, one.More}, []any{two.Kind, two.Line, two.More}, name)
				assert.Equal(t, n < assess.LeastStops, two.Kind != verdict.NoSpray, name)
			}
		}
	}
}
