package paired_test

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/geocoris/geocoris/internal/followup/paired"
	"github.com/geocoris/geocoris/internal/testkit"
)

func TestByDistance(t *testing.T) {
	a := []paired.Place{{Name: "1", X: 0}, {Name: "2", X: 10}, {Name: "3", X: 50}}
	for _, c := range []struct {
		name   string
		b      []paired.Place
		within float64
		want   []paired.Pair
	}{
		{"closest first, each once", []paired.Place{{X: 9}, {X: 11.5}}, 15, []paired.Pair{{0, 1, 11.5}, {1, 0, 1}}},
		{"beyond reach", []paired.Place{{X: 25}}, 14.9, nil},
		{"just in reach", []paired.Place{{X: 25}}, 15, []paired.Pair{{1, 0, 15}}},
		{"the name decides between equals", []paired.Place{{Name: "x", X: 49}, {Name: " 3 ", X: 51}}, 5, []paired.Pair{{2, 1, 1}}},
		{"nothing to pair", nil, 15, nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			assert.Equal(t, c.want, paired.ByDistance(a, c.b, c.within))
		})
	}
}

func TestByName(t *testing.T) {
	a := []paired.Place{{Name: "North"}, {Name: ""}, {Name: "gate", X: 3}}
	b := []paired.Place{{Name: "GATE", X: 50}, {Name: "gate ", X: 7}, {Name: ""}, {Name: "north", Y: 300}}
	assert.Equal(t, []paired.Pair{{0, 3, 300}, {2, 1, 4}}, paired.ByName(a, b))
}

func TestPairsUseEachStopOnce(t *testing.T) {
	testkit.Property(t, func(t *rapid.T) {
		place := rapid.Custom(func(t *rapid.T) paired.Place {
			return paired.Place{X: rapid.Float64Range(0, 50).Draw(t, "x"), Y: rapid.Float64Range(0, 50).Draw(t, "y")}
		})
		a, b := rapid.SliceOfN(place, 0, 12).Draw(t, "a"), rapid.SliceOfN(place, 0, 12).Draw(t, "b")
		seenA, seenB := map[int]bool{}, map[int]bool{}
		for _, p := range paired.ByDistance(a, b, 20) {
			assert.False(t, seenA[p.A] || seenB[p.B])
			seenA[p.A], seenB[p.B] = true, true
			assert.LessOrEqual(t, p.Metres, 20.0)
		}
	})
}

// 50 to 500 per leaf in 14 days, Texas extension: r = ln 10 / 14 = 0.164 a day,
// doubling in 4.2 days.
func TestGrowthOfThePublishedCase(t *testing.T) {
	c, err := paired.Compare(paired.Visits{A: []float64{40, 60}, B: []float64{450, 550}, Matched: true, Days: 14, Least: 0.05}, paired.Settings{})
	require.NoError(t, err)
	assert.InDelta(t, 0.164, c.Rate, 0.0005)
	assert.InDelta(t, 4.2, paired.DoublingDays(c.Rate), 0.05)
	assert.False(t, c.Guarded)
	assert.Equal(t, 1, c.Grew())
	assert.True(t, math.IsNaN(c.Interval.Low), "two stops tell no spread")
}

// By hand: all of n differences of one sign have p = 2/2ⁿ; the signs of
// differences 1, 1, −1 (in logs) reach |sum| ≥ 1 in all eight cases.
func TestExactSwaps(t *testing.T) {
	e := math.E
	for _, c := range []struct {
		name string
		a, b []float64
		want float64
	}{
		{"five up", []float64{1, 1, 1, 1, 1}, []float64{2, 3, 4, 5, 6}, 2.0 / 32},
		{"five down", []float64{2, 3, 4, 5, 6}, []float64{1, 1, 1, 1, 1}, 2.0 / 32},
		{"two up, one down", []float64{1, 1, e}, []float64{e, e, 1}, 1},
		{"no change", []float64{3, 4}, []float64{3, 4}, 1},
		{"one of three as large", []float64{1, 1, 1}, []float64{2, 4, 16}, 2.0 / 8},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, err := paired.Compare(paired.Visits{A: c.a, B: c.b, Matched: true, Days: 7, Least: 1e-9}, paired.Settings{})
			require.NoError(t, err)
			assert.True(t, got.Exact)
			assert.Equal(t, c.want, got.P)
		})
	}
}

func TestDrawnSwapsAgreeWithTheNormalApproximation(t *testing.T) {
	// Twenty differences of ±1 with 15 up: P(|X − 10| ≥ 5) for X of B(20, ½) is
	// 0.04139 (binomial tables).
	var v paired.Visits
	for i := range 20 {
		a, b := 1.0, math.E
		if i < 5 {
			a, b = b, a
		}
		v.A, v.B = append(v.A, a), append(v.B, b)
	}
	v.Matched, v.Days, v.Least = true, 7, 1e-12
	c, err := paired.Compare(v, paired.Settings{Seed: 7})
	require.NoError(t, err)
	assert.False(t, c.Exact)
	assert.InDelta(t, 0.04139, c.P, 0.006) // three standard errors of 9999 draws
	again, err := paired.Compare(v, paired.Settings{Seed: 7})
	require.NoError(t, err)
	assert.Equal(t, c, again, "a seed gives the same figures")
}

func TestNothingFound(t *testing.T) {
	none, some := make([]float64, 8), []float64{1, 2, 3, 4, 5, 6, 7, 8}
	c, err := paired.Compare(paired.Visits{A: none, B: none, Matched: true, Days: 7, Least: 0.05}, paired.Settings{})
	require.NoError(t, err)
	assert.True(t, math.IsNaN(c.Rate), "nothing twice is no growth of 0")
	assert.Equal(t, 1.0, c.P)
	assert.False(t, c.StandsOut)
	c, err = paired.Compare(paired.Visits{A: none, B: some, Matched: true, Days: 7, Least: 0.05}, paired.Settings{})
	require.NoError(t, err)
	assert.True(t, c.Guarded)
	assert.InDelta(t, math.Log(4.5/0.05)/7, c.Rate, 1e-12)
	assert.True(t, c.StandsOut)
}

// By hand: odds of 20 % are 1/4, of 50 % 1, of 80 % 4: ln 4 from one to the next.
// Shares of ten leaves: half of one is 5 %, its odds 1/19.
func TestSharesGrowByTheirOdds(t *testing.T) {
	tenLeaves := paired.Scale{Least: 5, Whole: 100}
	for _, c := range []struct{ a, b, want float64 }{
		{20, 50, math.Log(4)}, {50, 80, math.Log(4)}, {80, 20, -math.Log(16)}, {50, 50, 0},
		{0, 50, math.Log(19)}, {50, 100, math.Log(19)}, {0, 100, 2 * math.Log(19)}, {100, 2, -2 * math.Log(19)},
		{0, 4, math.NaN()}, {96, 100, math.NaN()},
	} {
		if got := tenLeaves.Rate(c.a, c.b); math.IsNaN(c.want) {
			assert.True(t, math.IsNaN(got), "%g to %g: nothing is known", c.a, c.b)
		} else {
			assert.InDelta(t, c.want, got, 1e-12, "%g to %g", c.a, c.b)
		}
	}
	v := paired.Visits{A: []float64{10, 20, 30, 20, 10, 30}, B: []float64{40, 50, 60, 50, 60, 40}, Matched: true, Days: 7, Least: 5, Whole: 100}
	c, err := paired.Compare(v, paired.Settings{})
	require.NoError(t, err)
	assert.True(t, c.Odds)
	assert.InDelta(t, math.Log(4)/7, c.Rate, 1e-12)
	assert.Less(t, c.Interval.Low, c.Rate)
	assert.Greater(t, c.Interval.High, c.Rate)
	assert.False(t, c.Guarded)
	// What is not over the tally grows the other way, as fast.
	mirror := v
	mirror.A, mirror.B = nil, nil
	for i := range v.A {
		mirror.A, mirror.B = append(mirror.A, 100-v.A[i]), append(mirror.B, 100-v.B[i])
	}
	m, err := paired.Compare(mirror, paired.Settings{})
	require.NoError(t, err)
	assert.InDelta(t, -c.Rate, m.Rate, 1e-12)
	assert.InDelta(t, -c.Interval.High, m.Interval.Low, 1e-12)
	assert.Equal(t, c.P, m.P)

	all := []float64{100, 100, 100, 100, 100, 100}
	c, err = paired.Compare(paired.Visits{A: all, B: all, Matched: true, Days: 7, Least: 5, Whole: 100}, paired.Settings{})
	require.NoError(t, err)
	assert.True(t, math.IsNaN(c.Rate), "all twice is no growth of 0")
	c, err = paired.Compare(paired.Visits{A: v.A, B: all, Matched: true, Days: 7, Least: 5, Whole: 100}, paired.Settings{})
	require.NoError(t, err)
	assert.True(t, c.Guarded)
	for _, bad := range []paired.Visits{
		{A: v.A, B: []float64{1, 2, 3, 4, 5, 101}, Days: 7, Least: 5, Whole: 100},
		{A: v.A, B: v.B, Days: 7, Least: 50, Whole: 100},
	} {
		_, err = paired.Compare(bad, paired.Settings{})
		assert.Error(t, err)
	}
}

func TestSharesStayShares(t *testing.T) {
	s := paired.Scale{Least: 5, Whole: 100}
	testkit.Property(t, func(t *rapid.T) {
		v, x := rapid.Float64Range(0, 100).Draw(t, "share"), rapid.Float64Range(-2000, 2000).Draw(t, "log factor")
		got := s.Grown(v, x)
		assert.True(t, got >= 0 && got <= 100, "%g", got)
		if math.Abs(x) < 5 {
			assert.InDelta(t, v, s.Grown(got, -x), 1e-6, "and back")
		}
	})
	assert.Equal(t, 0.0, s.Grown(0, 3))
	assert.Equal(t, 100.0, s.Grown(4.7e-307, 2000), "next to nothing, grown beyond any number")
	assert.Equal(t, 0.0, paired.Scale{Least: 1}.Grown(0, 2000), "nothing grows to nothing")
	assert.Equal(t, 100.0, s.Grown(100, -3))
}

func TestOneHotStopDoesNotSpeakForAll(t *testing.T) {
	v := paired.Visits{Matched: true, Days: 7, Least: 0.05}
	for i := range 12 {
		v.A, v.B = append(v.A, 8+float64(i)), append(v.B, 4+float64(i)/2)
	}
	v.B[0] = 400
	c, err := paired.Compare(v, paired.Settings{})
	require.NoError(t, err)
	assert.Greater(t, c.Rate, 0.0, "the mean rose")
	assert.Less(t, c.Typical, 0.0, "the typical stop fell")
	assert.False(t, c.Agrees())
}

func TestCompareRefuses(t *testing.T) {
	good := paired.Visits{A: []float64{1, 2}, B: []float64{2, 3}, Matched: true, Days: 7, Least: 0.1}
	for _, c := range []struct {
		name   string
		change func(*paired.Visits, *paired.Settings)
	}{
		{"no stops", func(v *paired.Visits, _ *paired.Settings) { v.A = nil }},
		{"unequal pairs", func(v *paired.Visits, _ *paired.Settings) { v.A = v.A[:1] }},
		{"same day", func(v *paired.Visits, _ *paired.Settings) { v.Days = 0 }},
		{"days not a number", func(v *paired.Visits, _ *paired.Settings) { v.Days = math.NaN() }},
		{"value not a number", func(v *paired.Visits, _ *paired.Settings) { v.B = []float64{1, math.NaN()} }},
		{"negative value", func(v *paired.Visits, _ *paired.Settings) { v.B = []float64{1, -1} }},
		{"no least", func(v *paired.Visits, _ *paired.Settings) { v.Least = 0 }},
		{"few draws", func(_ *paired.Visits, s *paired.Settings) { s.Permutations = 10 }},
		{"odd level", func(_ *paired.Visits, s *paired.Settings) { s.Level = 1 }},
	} {
		t.Run(c.name, func(t *testing.T) {
			v, s := good, paired.Settings{}
			c.change(&v, &s)
			_, err := paired.Compare(v, s)
			assert.Error(t, err)
		})
	}
}

// By hand, from the formulas of Henderson & Tilton 1955 and Abbott 1925 (both from
// memory): 100·(1 − 20·180/(200·240)) = 92.5 and 100·(1 − 10/100) = 90.
func TestEfficacyByHand(t *testing.T) {
	e, err := paired.Worked(paired.Groups{
		TreatedBefore: []float64{150, 250, 200}, TreatedAfter: []float64{10, 30, 20},
		CheckBefore: []float64{180, 170, 190}, CheckAfter: []float64{240, 230, 250},
	}, paired.Settings{})
	require.NoError(t, err)
	assert.Equal(t, "Henderson–Tilton", e.Formula)
	assert.InDelta(t, 92.5, e.Percent, 1e-9)
	assert.Less(t, e.Interval.Low, 92.5)
	assert.Greater(t, e.Interval.High, 92.5)

	e, err = paired.Worked(paired.Groups{TreatedAfter: []float64{10, 10, 10, 5, 15, 10, 10, 10}, CheckAfter: []float64{80, 120, 80, 120, 80, 120, 80, 120}}, paired.Settings{})
	require.NoError(t, err)
	assert.Equal(t, "Abbott", e.Formula)
	assert.InDelta(t, 90, e.Percent, 1e-9)

	_, err = paired.Worked(paired.Groups{TreatedAfter: []float64{10, 10, 10, 5, 15, 10, 10, 10}, CheckAfter: make([]float64, 8)}, paired.Settings{})
	assert.ErrorContains(t, err, "nothing was found")
	_, err = paired.Worked(paired.Groups{TreatedAfter: []float64{10}}, paired.Settings{})
	assert.ErrorContains(t, err, "inside and outside")
}

// One stop or a few tell no efficacy: three of each group do with a count before, eight of each
// side without.
func TestTooFewStopsTellNoEfficacy(t *testing.T) {
	some := func(n int) []float64 { return slices.Repeat([]float64{8, 12}, 10)[:n] }
	for _, c := range []struct {
		tb, ta, cb, ca int
		says           string // "" where it can be told
	}{
		{0, 8, 0, 8, ""},
		{0, 7, 0, 20, "inside 7, outside 20, and not both counted before: want 8 or more of each"},
		{0, 20, 0, 7, "inside 20, outside 7, and not both counted before: want 8 or more of each"},
		{3, 3, 3, 3, ""},
		{2, 20, 20, 20, "inside 2 before and 20 after, outside 20 and 20: want 3 or more of each"},
		{20, 2, 20, 20, "inside 20 before and 2 after, outside 20 and 20: want 3 or more of each"},
		{20, 20, 2, 20, "inside 20 before and 20 after, outside 2 and 20: want 3 or more of each"},
		{20, 20, 20, 2, "inside 20 before and 20 after, outside 20 and 2: want 3 or more of each"},
		{0, 20, 20, 7, "inside 20, outside 7, and not both counted before: want 8 or more of each"}, // before on one side alone is none
	} {
		e, err := paired.Worked(paired.Groups{TreatedBefore: some(c.tb), TreatedAfter: some(c.ta), CheckBefore: some(c.cb), CheckAfter: some(c.ca)}, paired.Settings{})
		if c.says == "" {
			assert.NoError(t, err)
			assert.False(t, math.IsNaN(e.Percent))
			continue
		}
		assert.ErrorIs(t, err, paired.ErrTooFew)
		assert.ErrorContains(t, err, c.says)
		assert.True(t, math.IsNaN(e.Percent))
	}
}

// Of the four means only that of the treated ground after may be 0; of a draw that
// finds nothing where the formula divides, or in the check before, nothing is known.
func TestEfficacyOfEmptyGroups(t *testing.T) {
	none, few, more := make([]float64, 9), slices.Repeat([]float64{10}, 9), slices.Repeat([]float64{20, 30, 40}, 3)
	for _, c := range []struct {
		name           string
		tb, ta, cb, ca []float64
		formula        string
		percent        float64 // NaN where it cannot be known
		says           string
	}{
		{"check empty before", few, more, none, slices.Repeat([]float64{5, 6, 7}, 3), "Henderson–Tilton", math.NaN(), "nothing was found outside before"},
		{"check empty before and after", few, more, none, none, "Henderson–Tilton", math.NaN(), "outside before"},
		{"check empty before, all gone inside", few, none, none, few, "Henderson–Tilton", math.NaN(), "outside before"},
		{"check empty after", few, more, few, none, "Henderson–Tilton", math.NaN(), "outside after"},
		{"check empty after, all gone inside", few, none, few, none, "Henderson–Tilton", math.NaN(), "outside after"},
		{"treated empty before", none, more, few, few, "Henderson–Tilton", math.NaN(), "inside before"},
		{"treated empty throughout", none, none, few, few, "Henderson–Tilton", math.NaN(), "inside before"},
		{"all gone inside", few, none, few, more, "Henderson–Tilton", 100, ""},
		{"nothing changed", few, few, few, few, "Henderson–Tilton", 0, ""},
		{"no before, check empty", nil, more, nil, none, "Abbott", math.NaN(), "outside after"},
		{"no before, none anywhere", nil, none, nil, none, "Abbott", math.NaN(), "outside after"},
		{"no before, all gone inside", nil, none, nil, few, "Abbott", 100, ""},
		{"before on one side only", none, more, nil, slices.Repeat([]float64{60, 60, 60}, 3), "Abbott", 50, ""},
	} {
		for _, matched := range []bool{false, true} {
			if matched && (len(c.tb) == 0 || len(c.cb) == 0) {
				continue
			}
			t.Run(fmt.Sprintf("%s, matched %v", c.name, matched), func(t *testing.T) {
				e, err := paired.Worked(paired.Groups{TreatedBefore: c.tb, TreatedAfter: c.ta, CheckBefore: c.cb, CheckAfter: c.ca, Matched: matched}, paired.Settings{})
				assert.Equal(t, c.formula, e.Formula)
				if math.IsNaN(c.percent) {
					assert.ErrorContains(t, err, c.says)
					assert.True(t, math.IsNaN(e.Percent))
					return
				}
				require.NoError(t, err)
				assert.InDelta(t, c.percent, e.Percent, 1e-9)
				assert.False(t, c.percent == 100 && e.Interval.Known(), "of none left the spread is not known")
			})
		}
	}
}

// A check whose finds depend on one stop of three is missed by (2/3)³ = 30 % of
// draws, which tell no efficacy: at 95 % the interval is unknown, never narrow.
func TestEfficacyOfDrawsThatFindNothing(t *testing.T) {
	g := paired.Groups{
		TreatedBefore: []float64{90, 100, 110}, TreatedAfter: []float64{9, 10, 11},
		CheckBefore: []float64{0, 0, 60}, CheckAfter: []float64{80, 100, 120},
	}
	e, err := paired.Worked(g, paired.Settings{})
	require.NoError(t, err)
	assert.False(t, e.Interval.Known())
	g.CheckBefore = []float64{0, 0, 60, 60, 60, 60, 60, 60} // missed by one draw in 65 536
	e, err = paired.Worked(g, paired.Settings{})
	require.NoError(t, err)
	assert.True(t, e.Interval.Known())
	assert.Less(t, e.Interval.Low, e.Percent)
	assert.Greater(t, e.Interval.High, e.Percent)
}

// By hand: 100·(1 − 5/100) = 95.
func TestFellHasNoCheck(t *testing.T) {
	percent, interval, err := paired.Fell([]float64{90, 100, 110, 80, 120}, []float64{4, 5, 6, 4, 6}, true, paired.Settings{})
	require.NoError(t, err)
	assert.InDelta(t, 95, percent, 1e-9)
	assert.True(t, interval.Low < 95 && interval.High > 95)
	percent, interval, err = paired.Fell([]float64{90, 110}, []float64{0}, false, paired.Settings{})
	require.NoError(t, err)
	assert.Equal(t, 100.0, percent)
	assert.False(t, interval.Known())
	for _, c := range []struct{ before, after []float64 }{{nil, []float64{1}}, {[]float64{1}, nil}, {[]float64{0, 0}, []float64{1}}} {
		_, _, err = paired.Fell(c.before, c.after, false, paired.Settings{})
		assert.Error(t, err)
	}
	_, _, err = paired.Fell([]float64{1, 2}, []float64{1}, true, paired.Settings{})
	assert.Error(t, err)
}

func TestSpearmanOfOrder(t *testing.T) {
	up := []float64{1, 2, 3, 4, 100}
	down := slices.Clone(up)
	slices.Reverse(down)
	same, err := paired.Spearman(up, []float64{0, 1, 10, 11, 12})
	require.NoError(t, err)
	assert.Equal(t, 1.0, same.Rho)
	against, err := paired.Spearman(up, down)
	require.NoError(t, err)
	assert.Equal(t, -1.0, against.Rho)
	flat, err := paired.Spearman(up, make([]float64, 5))
	require.NoError(t, err)
	assert.True(t, math.IsNaN(flat.Rho))
	for n := 1; n < 40; n++ { // a mean of equal values may be off by its last bit
		tenths, other := make([]float64, n), make([]float64, n)
		for i := range tenths {
			tenths[i], other[i] = 0.1, float64(i)
		}
		flat, err = paired.Pearson(tenths, other)
		require.NoError(t, err)
		assert.True(t, math.IsNaN(flat.Rho), "%d equal values do not vary", n)
	}
	_, err = paired.Spearman(up, up[1:])
	assert.Error(t, err)
}
