package interp_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/geocoris/geocoris/internal/testkit"
	"github.com/geocoris/geocoris/interp"
)

// everySetting is one of each form that IDW has.
func everySetting() map[string]interp.IDW {
	settings := map[string]interp.IDW{}
	for _, p := range []float64{0.5, 1, 2, 2.5, 3, 4, 9} {
		for _, r := range []float64{0, 35} {
			settings[fmt.Sprintf("taper p=%g r=%g", p, r)] = interp.IDW{Power: p, Neighbors: 5, Radius: r}
			settings[fmt.Sprintf("plain p=%g r=%g", p, r)] = interp.IDW{Power: p, Neighbors: 5, Radius: r, Plain: true}
			settings[fmt.Sprintf("all p=%g r=%g", p, r)] = interp.IDW{Power: p, Neighbors: all, Radius: r}
		}
	}
	settings["default"] = interp.IDW{}
	settings["40 neighbours"] = interp.IDW{Neighbors: 40}
	settings["nearest"] = interp.IDW{Neighbors: 1, Plain: true}
	return settings
}

// clouds are samples of every awkward kind.
func clouds() map[string][]interp.Sample {
	rng := rand.New(rand.NewPCG(1, 2))
	scattered := cloud(rng, 60, func() (x, y float64) { return 100 * rng.Float64(), 80 * rng.Float64() })
	shifted := slices.Clone(scattered)
	for i := range shifted {
		shifted[i].X += 5e5
		shifted[i].Y += 4e6
	}
	crowded := slices.Clone(scattered)
	for i := range 20 {
		crowded[i].Share = 0.2
	}
	return map[string][]interp.Sample{
		"one":        {{X: 3, Y: 4, Value: 5}},
		"two":        {{Value: 1}, {X: 10, Value: 3}},
		"scattered":  scattered,
		"far off":    shifted,
		"crowded":    crowded,
		"on a line":  cloud(rng, 40, func() (x, y float64) { return 100 * rng.Float64(), 7 }),
		"on a slant": cloud(rng, 40, func() (x, y float64) { x = float64(rng.IntN(30)); return x, 2 * x }),
		"lattice":    cloud(rng, 80, func() (x, y float64) { return 10 * float64(rng.IntN(8)), 10 * float64(rng.IntN(8)) }),
		"clustered": cloud(rng, 80, func() (x, y float64) {
			if rng.IntN(10) == 0 {
				return 1000 * rng.Float64(), 1000 * rng.Float64()
			}
			return 500 + rng.Float64(), 500 + rng.Float64()
		}),
		"one place":     {{X: 1, Y: 1, Value: 2}, {X: 1, Y: 1, Value: 8, Weight: 2}},
		"a micron away": {{Value: 0}, {X: 1e-6, Value: 1000}, {X: 50, Value: 3}},
		"all zero":      {{}, {X: 5}, {Y: 5}},
		"far apart":     {{X: -1e8, Value: 1}, {X: 1e8, Value: 2}, {Y: 1e-150, Value: 3}},
	}
}

func cloud(rng *rand.Rand, n int, place func() (x, y float64)) []interp.Sample {
	samples := make([]interp.Sample, n)
	for i := range samples {
		x, y := place()
		samples[i] = interp.Sample{X: x, Y: y, Value: math.Floor(math.Exp(1 + 2*rng.NormFloat64())), Weight: float64(rng.IntN(4))}
	}
	return samples
}

// What every predictor of this package promises, on every awkward input.
func TestContract(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	for cloud, samples := range clouds() {
		for name, s := range everySetting() {
			before := slices.Clone(samples)
			p := fit(t, s, samples)
			assert.Equal(t, before, samples, "fitting changed the samples")
			low, high := valueRange(interp.Pool(samples))
			for _, q := range interp.Pool(samples) {
				assert.Equal(t, q.Value, p.Predict(q.X, q.Y), "%s, %s: not exact on a sample", cloud, name)
			}
			for range 50 {
				x, y := query(rng, samples)
				v, d := p.PredictWithDistance(x, y)
				assertSame(t, v, p.Predict(x, y))
				assert.InDelta(t, nearestDistance(samples, x, y), d, 1e-9*d, "%s, %s", cloud, name)
				if s.Radius > 0 && d > s.Radius {
					assert.True(t, math.IsNaN(v), "%s, %s: %g at %g m", cloud, name, v, d)
					continue
				}
				assert.True(t, v >= low && v <= high, "%s, %s: %g at %g, %g leaves %g … %g", cloud, name, v, x, y, low, high)
			}
			for _, bad := range [][2]float64{{math.NaN(), 0}, {0, math.Inf(1)}, {math.Inf(-1), math.NaN()}, {1e101, 0}, {0, -1e300}} {
				assert.True(t, math.IsNaN(p.Predict(bad[0], bad[1])), "%s, %s", cloud, name)
			}
		}
	}
}

func assertSame(t *testing.T, a, b float64) {
	t.Helper()
	if math.IsNaN(a) && math.IsNaN(b) {
		return
	}
	assert.InEpsilon(t, 1+a, 1+b, 1e-12)
}

func valueRange(samples []interp.Sample) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, s := range samples {
		low, high = min(low, s.Value), max(high, s.Value)
	}
	return low, high
}

// query is a place in the samples' box, well outside it, or a hair beside one.
func query(rng *rand.Rand, samples []interp.Sample) (x, y float64) {
	a, b := samples[rng.IntN(len(samples))], samples[rng.IntN(len(samples))]
	switch rng.IntN(4) {
	case 0:
		hair := math.Pow(10, -7-100*rng.Float64())
		return a.X + hair*rng.NormFloat64(), a.Y + hair*rng.NormFloat64()
	case 1:
		if far := math.Pow(10, 100*rng.Float64()); rng.IntN(3) == 0 {
			return far * (rng.Float64() - 0.5), far * (rng.Float64() - 0.5)
		}
		return a.X + 1000*rng.NormFloat64(), b.Y + 1000*rng.NormFloat64()
	}
	return a.X + rng.Float64()*(b.X-a.X), b.Y + rng.Float64()*(a.Y-b.Y)
}

func nearestDistance(samples []interp.Sample, x, y float64) float64 {
	nearest := math.Inf(1)
	for _, s := range samples {
		nearest = min(nearest, math.Hypot(s.X-x, s.Y-y))
	}
	return nearest
}

// slow is the definition, worked out without any shortcut.
func slow(s interp.IDW, samples []interp.Sample, x, y float64) float64 {
	type near struct{ d, v float64 }
	s = s.WithDefaults()
	var order []near
	for _, q := range interp.Pool(samples) {
		d := math.Sqrt((q.X-x)*(q.X-x) + (q.Y-y)*(q.Y-y))
		if d == 0 {
			return q.Value
		}
		order = append(order, near{d, q.Value})
	}
	slices.SortStableFunc(order, func(a, b near) int {
		if a.d < b.d {
			return -1
		} else if a.d > b.d {
			return 1
		}
		return 0
	})
	limit := math.Inf(1)
	if s.Radius > 0 {
		limit = s.Radius
		order = slices.DeleteFunc(order, func(n near) bool { return n.d > s.Radius })
	}
	if s.Neighbors != all && len(order) > s.Neighbors {
		limit = min(limit, order[s.Neighbors].d)
		order = order[:s.Neighbors]
	}
	plain := s.Plain || s.Neighbors == all || math.IsInf(limit, 1) || len(order) > 0 && order[0].d == limit
	var sum, weights float64
	for _, n := range order {
		w := math.Pow(1/n.d, s.Power)
		if !plain {
			w = math.Pow(1/n.d-1/limit, s.Power)
		}
		sum += w * n.v
		weights += w
	}
	return sum / weights
}

func TestPredictEqualsTheDefinition(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	for _, name := range []string{"scattered", "on a line", "clustered", "two", "one", "lattice"} {
		samples := clouds()[name]
		for setting, s := range everySetting() {
			p := fit(t, s, samples)
			for range 100 {
				a, b := samples[rng.IntN(len(samples))], samples[rng.IntN(len(samples))]
				x, y := a.X+rng.Float64()*(b.X-a.X)+rng.NormFloat64(), b.Y+rng.Float64()*(a.Y-b.Y)+rng.NormFloat64()
				want, got := slow(s, samples, x, y), p.Predict(x, y)
				if math.IsNaN(want) {
					assert.True(t, math.IsNaN(got), "%s, %s", name, setting)
					continue
				}
				assert.InDelta(t, want, got, 1e-8*(1+math.Abs(want)), "%s, %s at %g, %g", name, setting, x, y)
			}
		}
	}
}

func drawSamples(t *rapid.T) []interp.Sample {
	return rapid.SliceOfN(rapid.Custom(func(t *rapid.T) interp.Sample {
		return interp.Sample{
			X:      float64(rapid.IntRange(-40, 40).Draw(t, "x")) * 2.5,
			Y:      float64(rapid.IntRange(-40, 40).Draw(t, "y")) * 2.5,
			Value:  float64(rapid.IntRange(0, 500).Draw(t, "value")),
			Weight: float64(rapid.IntRange(0, 3).Draw(t, "weight")),
		}
	}), 2, 40).Draw(t, "samples")
}

func drawIDW(t *rapid.T) interp.IDW {
	return interp.IDW{
		Power:     rapid.SampledFrom([]float64{0, 1, 1.5, 2, 3, 4}).Draw(t, "power"),
		Neighbors: rapid.SampledFrom([]int{0, 1, 3, 8, all}).Draw(t, "neighbours"),
		Plain:     rapid.Bool().Draw(t, "plain"),
		Radius:    rapid.SampledFrom([]float64{0, 0, 30}).Draw(t, "radius"),
	}
}

func TestOrderOfSamplesDoesNotMatter(t *testing.T) {
	testkit.Property(t, func(t *rapid.T) {
		samples, s := drawSamples(t), drawIDW(t)
		if !s.Plain || s.Neighbors == all { // plain neighbours tied at the k-th place go by order
			turned := rapid.Permutation(samples).Draw(t, "order")
			x, y := rapid.Float64Range(-120, 120).Draw(t, "x"), rapid.Float64Range(-120, 120).Draw(t, "y")
			a, err := s.Fit(samples)
			require.NoError(t, err)
			b, err := s.Fit(turned)
			require.NoError(t, err)
			if tiedAt(samples, s.WithDefaults().Neighbors, x, y) {
				return // samples as far as the last that counts go by order too
			}
			va, vb := a.Predict(x, y), b.Predict(x, y)
			if math.IsNaN(va) != math.IsNaN(vb) || math.Abs(va-vb) > 1e-9*(1+va) {
				t.Fatalf("%g in one order, %g in another", va, vb)
			}
		}
	})
}

// tiedAt reports whether the k-th nearest place and the next are as far as one
// another, but for rounding.
func tiedAt(samples []interp.Sample, k int, x, y float64) bool {
	var distances []float64
	for _, s := range interp.Pool(samples) {
		distances = append(distances, math.Hypot(s.X-x, s.Y-y))
	}
	slices.Sort(distances)
	return k > 0 && k < len(distances) && distances[k]-distances[k-1] <= 1e-9*distances[k]
}

// The plane has no preferred place: moving samples and query together changes
// nothing but the last digits.
func TestPlaceOfTheOriginDoesNotMatter(t *testing.T) {
	testkit.Property(t, func(t *rapid.T) {
		samples, s := drawSamples(t), drawIDW(t)
		// Whole metres keep distances the same to the bit, and with them the ties.
		dx, dy := float64(rapid.IntRange(-5e6, 5e6).Draw(t, "dx")), float64(rapid.IntRange(-5e6, 5e6).Draw(t, "dy"))
		x, y := float64(rapid.IntRange(-1000, 1000).Draw(t, "x"))/8, float64(rapid.IntRange(-1000, 1000).Draw(t, "y"))/8
		moved := slices.Clone(samples)
		for i := range moved {
			moved[i].X += dx
			moved[i].Y += dy
		}
		a, err := s.Fit(samples)
		require.NoError(t, err)
		b, err := s.Fit(moved)
		require.NoError(t, err)
		va, vb := a.Predict(x, y), b.Predict(x+dx, y+dy)
		if math.IsNaN(va) != math.IsNaN(vb) || math.Abs(va-vb) > 1e-9*(1+va) {
			t.Fatalf("%g here, %g there", va, vb)
		}
	})
}

// Samples that are equally far but for rounding leave the taper no width: 0/0,
// if nobody looks.
func TestTaperOverSamplesEquallyFar(t *testing.T) {
	for _, k := range []int{1, 2, 4, 12} {
		for turn := range 500 {
			var samples []interp.Sample
			for i := range k + 1 {
				sin, cos := math.Sincos(float64(turn) + float64(i))
				samples = append(samples, interp.Sample{X: 10 * cos, Y: 10 * sin, Value: float64(1 + i)})
			}
			v := fit(t, interp.IDW{Neighbors: k}, samples).Predict(0, 0)
			assert.True(t, v >= 1 && v <= float64(k+1), "%d neighbours, turned by %d: %g", k, turn, v)
		}
	}
}

// So far away that all samples are as near as each other, the mean is left.
func TestFarAwayIsTheMean(t *testing.T) {
	samples := clouds()["scattered"]
	pooled := interp.Pool(samples)
	var mean float64
	for _, s := range pooled {
		mean += s.Value / float64(len(pooled))
	}
	for _, p := range []float64{0.5, 1, 2, 3, 4, 64} {
		for _, far := range []float64{1e25, 1e60, 1e100} {
			got := fit(t, interp.IDW{Power: p, Neighbors: all}, samples).Predict(far, -far)
			assert.InEpsilon(t, mean, got, 1e-9, "power %g, %g m", p, far)
		}
	}
}

func TestLeaveOneOutEqualsFittingAnew(t *testing.T) {
	testkit.Property(t, func(t *rapid.T) {
		samples, s := drawSamples(t), drawIDW(t)
		left, err := s.LeaveOneOut(samples)
		require.NoError(t, err)
		for i, own := range samples {
			others := slices.DeleteFunc(slices.Clone(samples), func(o interp.Sample) bool { return o.X == own.X && o.Y == own.Y })
			if len(others) == 0 {
				require.True(t, math.IsNaN(left[i].Value))
				require.True(t, math.IsInf(left[i].Distance, 1))
				continue
			}
			p, err := s.Fit(others)
			require.NoError(t, err)
			v, d := p.PredictWithDistance(own.X, own.Y)
			if math.IsNaN(v) && math.IsNaN(left[i].Value) {
				continue
			}
			require.InDelta(t, v, left[i].Value, 1e-9*(1+v))
			require.InDelta(t, d, left[i].Distance, 1e-12*d)
		}
	})
}

// With a taper the surface has no steps: a small step aside changes it little,
// also where the set of neighbours changes.
func TestTaperIsContinuous(t *testing.T) {
	samples := clouds()["scattered"]
	p := fit(t, interp.IDW{Neighbors: 6}, samples)
	plain := fit(t, interp.IDW{Neighbors: 6, Plain: true}, samples)
	apart := float64(testkit.Few(1, 10)) // of the lines that are followed
	largest := func(p interp.Predictor) (jump float64) {
		const step = 1e-4
		for y := 1.0; y < 80; y += 7.3 * apart {
			before := p.Predict(0, y)
			for x := step; x < 20; x += step {
				v := p.Predict(x, y)
				jump = max(jump, math.Abs(v-before))
				before = v
			}
		}
		return jump
	}
	assert.Less(t, largest(p), 0.02)
	assert.Greater(t, largest(plain), 0.2, "the plain form does jump, or this test sees nothing")
}

func TestFitRefuses(t *testing.T) {
	one := []interp.Sample{{Value: 1}}
	for name, c := range map[string]struct {
		settings interp.IDW
		samples  []interp.Sample
		want     string
	}{
		"no samples":         {interp.IDW{}, nil, "no samples"},
		"a value not finite": {interp.IDW{}, []interp.Sample{{}, {Value: math.NaN()}}, "sample 2 has the value NaN"},
		"a place not finite": {interp.IDW{}, []interp.Sample{{X: math.Inf(1)}}, "sample 1 at +Inf, 0"},
		"degrees of a pole":  {interp.IDW{}, []interp.Sample{{X: 1e9}}, "within ±1e+08"},
		"a negative weight":  {interp.IDW{}, []interp.Sample{{Weight: -1}}, "weight -1"},
		"a negative power":   {interp.IDW{Power: -2}, one, "power -2"},
		"no power at all":    {interp.IDW{Power: math.NaN()}, one, "power NaN"},
		"too much power":     {interp.IDW{Power: 65}, one, "up to 64"},
		"−2 neighbours":      {interp.IDW{Neighbors: -2}, one, "-2 neighbours"},
		"a negative radius":  {interp.IDW{Radius: -1}, one, "radius -1"},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := c.settings.Fit(c.samples)
			assert.ErrorContains(t, err, c.want)
			_, err = c.settings.LeaveOneOut(c.samples)
			assert.ErrorContains(t, err, c.want)
		})
	}
}

func TestPool(t *testing.T) {
	got := interp.Pool([]interp.Sample{
		{X: 1, Y: 1, Value: 10, Weight: 1}, {X: 2, Y: 2, Value: 5}, {X: 1, Y: 1, Value: 40, Weight: 2}, {X: math.Copysign(0, -1), Value: 1}, {Value: 3},
	})
	assert.Equal(t, []interp.Sample{{X: 1, Y: 1, Value: 30, Weight: 3}, {X: 2, Y: 2, Value: 5}, {X: math.Copysign(0, -1), Value: 2, Weight: 2}}, got)
}

func TestPredictDoesNotAllocate(t *testing.T) {
	for name, s := range map[string]interp.IDW{"default": {}, "all": {Neighbors: all}, "40 neighbours": {Neighbors: 40}} {
		p := fit(t, s, clouds()["scattered"])
		assert.Zero(t, testing.AllocsPerRun(100, func() { p.PredictWithDistance(33, 44) }), name)
	}
}

// Samples that share one say weigh as one: four at one place beside it, each a fifth of a
// say, leave what a far place is told as if there were one.
func TestSharesOfASay(t *testing.T) {
	alone := []interp.Sample{{X: 0, Y: 0, Value: 300}, {X: 100, Y: 0, Value: 2}, {X: 0, Y: 100, Value: 2}, {X: 140, Y: 90, Value: 2}}
	crowd := slices.Clone(alone)
	crowd[0].Share = 0.2
	for range 4 {
		crowd = append(crowd, interp.Sample{X: 1e-6, Y: 0, Value: 300, Share: 0.2})
	}
	for _, set := range []interp.IDW{{}, {Plain: true}, {Neighbors: interp.AllNeighbors}, {Radius: 500}, {Neighbors: interp.AllNeighbors, Power: 3, Radius: 500}} {
		one, err := set.Fit(alone)
		require.NoError(t, err)
		many, err := set.Fit(crowd)
		require.NoError(t, err)
		assert.InDelta(t, one.Predict(60, 40), many.Predict(60, 40), 1e-4, "%+v", set)
		assert.Equal(t, 300.0, many.Predict(0, 0), "at its own place")
	}
	for _, bad := range []float64{-0.1, math.NaN(), math.Inf(1)} {
		_, err := interp.IDW{}.Fit([]interp.Sample{{Share: bad}})
		assert.ErrorContains(t, err, "share")
	}
}
