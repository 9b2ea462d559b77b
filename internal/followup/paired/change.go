package paired

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"

	"github.com/geocoris/geocoris/internal/stat"
)

// Visits are the values of two visits.
type Visits struct {
	A, B []float64 // counts per unit
	// Matched says that A[i] and B[i] are one place. Without it the stops of
	// each visit stand for the field by themselves.
	Matched bool
	Days    float64 // from A to B, above 0
	// Least is what stands in for a mean of 0 in ratios and rates: half the
	// smallest mean that could have been counted. It must be above 0.
	Least float64
	// Whole is 100 for shares in %, whose odds grow, and 0 for numbers: see [Scale].
	Whole float64
}

func (v Visits) scale() Scale { return Scale{v.Least, v.Whole} }

func (v Visits) check() error {
	switch {
	case len(v.A) == 0 || len(v.B) == 0:
		return errors.New("paired: a visit without stops")
	case v.Matched && len(v.A) != len(v.B):
		return fmt.Errorf("paired: %d stops matched with %d", len(v.A), len(v.B))
	case !(v.Days > 0) || math.IsInf(v.Days, 0):
		return fmt.Errorf("paired: %g days between the visits: want a number above 0", v.Days)
	}
	if err := v.scale().Check(); err != nil {
		return fmt.Errorf("paired: %w", err)
	}
	for _, side := range [][]float64{v.A, v.B} {
		for _, x := range side {
			if !(x >= 0) || math.IsInf(x, 0) || v.Whole > 0 && x > v.Whole {
				return fmt.Errorf("paired: value %g: want a finite number, 0 or more, and no share above the whole", x)
			}
		}
	}
	return nil
}

// A Change is what two visits say of growth, and whether to believe it.
type Change struct {
	Matched      bool
	NA, NB       int
	MeanA, MeanB float64
	// Rate per day of the mean over the stops: ln(mean B / mean A) / days; of
	// shares ln(odds B / odds A) / days. Below 0 it fell. NaN where both visits found
	// nothing, or of shares found all.
	Rate     float64
	Interval Interval // of the rate
	Odds     bool     // rates are of the odds of shares
	// Guarded says that one mean lay below the least countable, or of shares above
	// the greatest, which stands in for it: the true rate is farther from 0.
	Guarded bool
	// Typical is the rate a day of the typical stop, the mean of the logs, which
	// the test is about; one hot stop can turn the mean the other way.
	Typical float64
	// P is how often chance alone would show a typical change as large.
	P         float64
	Exact     bool // every permutation was looked at, none drawn
	StandsOut bool // P is at or below 1 less the level
}

// Grew reports the direction: 1 up, −1 down, 0 neither.
func (c Change) Grew() int {
	switch {
	case c.Rate > 0:
		return 1
	case c.Rate < 0:
		return -1
	}
	return 0
}

// Compare measures growth and asks whether it stands out.
//
// The test permutes visits within pairs (Fisher 1935, The Design of Experiments,
// §21; from memory), or stops between visits where they are not matched. It looks
// at the mean of log(value + least), of shares of log((value + least)/(whole − value
// + least)): pest counts are skewed, and on the plain scale one hot stop drowns the
// others. The rate and its interval are of the plain means, which thresholds are
// about.
func Compare(v Visits, set Settings) (Change, error) {
	if err := v.check(); err != nil {
		return Change{}, err
	}
	if err := set.Validate(); err != nil {
		return Change{}, err
	}
	set = set.withDefaults()
	scale := v.scale()
	c := Change{Matched: v.Matched, NA: len(v.A), NB: len(v.B), MeanA: stat.Mean(v.A), MeanB: stat.Mean(v.B), Odds: scale.Shares()}
	c.Rate, c.Interval = scale.Rate(c.MeanA, c.MeanB)/v.Days, stat.Unknown()
	if !math.IsNaN(c.Rate) {
		c.Guarded = scale.Beyond(c.MeanA) || scale.Beyond(c.MeanB)
		logs := set.interval(v.ratio())
		c.Interval = Interval{Low: logs.Low / v.Days, High: logs.High / v.Days}
	}
	c.Typical = (scale.typical(v.B) - scale.typical(v.A)) / v.Days
	if v.Matched {
		c.P, c.Exact = set.swapTest(v)
	} else {
		c.P = set.labelTest(v)
	}
	c.StandsOut = c.P <= 1-set.Level
	return c, nil
}

// Agrees reports whether the change stands out and the mean goes the way of the
// typical stop.
func (c Change) Agrees() bool { return c.StandsOut && float64(c.Typical*c.Rate) > 0 }

// typical is the mean over stops of their logarithms.
func (s Scale) typical(values []float64) float64 {
	var sum float64
	for _, x := range values {
		sum += s.smoothed(x)
	}
	return sum / float64(len(values))
}

// DoublingDays is the time in which numbers, or the odds of shares, double at a
// rate; negative where they halve, infinite at rate 0.
func DoublingDays(rate float64) float64 { return math.Ln2 / rate }

// ratio is B over A: pairs are drawn as pairs, unmatched stops each for itself.
func (v Visits) ratio() logRatio {
	if v.Matched {
		return logRatio{[]stratum{{over: v.B, under: v.A}}, v.scale()}
	}
	return logRatio{[]stratum{{over: v.B}, {under: v.A}}, v.scale()}
}

// exactPairs is the number of pairs up to which all 2ⁿ swaps are looked at.
const exactPairs = 13

// slack lets sums that are equal but for rounding count as equal.
const slack = 1e-9

// swapTest asks how often swapping the visits of pairs at random gives a mean
// log difference at least as large.
func (s Settings) swapTest(v Visits) (p float64, exact bool) {
	diffs := make([]float64, 0, len(v.A))
	scale := v.scale()
	var sum, size float64
	for i := range v.A {
		d := scale.smoothed(v.B[i]) - scale.smoothed(v.A[i])
		sum, size = sum+d, size+math.Abs(d)
		if d != 0 { // swapping equal values changes nothing
			diffs = append(diffs, d)
		}
	}
	limit := math.Abs(sum) - slack*size
	if len(diffs) <= exactPairs {
		return allSwaps(diffs, limit), true
	}
	rng, hits := s.generator(permutationStream), 1
	for range s.Permutations {
		if math.Abs(swapped(diffs, rng)) >= limit {
			hits++
		}
	}
	return float64(hits) / float64(s.Permutations+1), false
}

func allSwaps(diffs []float64, limit float64) float64 {
	hits, all := 0, 1<<len(diffs)
	for signs := range all {
		var sum float64
		for i, d := range diffs {
			if signs>>i&1 == 1 {
				d = -d
			}
			sum += d
		}
		if math.Abs(sum) >= limit {
			hits++
		}
	}
	return float64(hits) / float64(all)
}

func swapped(diffs []float64, rng *rand.Rand) (sum float64) {
	var bits uint64
	for i, d := range diffs {
		if i%64 == 0 {
			bits = rng.Uint64()
		}
		if bits>>(i%64)&1 == 1 {
			d = -d
		}
		sum += d
	}
	return sum
}

// labelTest asks how often dealing all stops to the two visits at random gives
// mean logs at least as far apart, measured by their own standard error. So it is
// exact where the visits are of one distribution, and holds its level for many
// stops where only their spread differs, as with other effort (Janssen 1997, Stat.
// Probab. Lett. 36:9–21; Chung & Romano 2013, Ann. Stat. 41:484–507; both from
// memory).
func (s Settings) labelTest(v Visits) float64 {
	var all []float64
	for _, side := range [][]float64{v.A, v.B} {
		for _, x := range side {
			all = append(all, v.scale().smoothed(x))
		}
	}
	n := len(v.A)
	seen := studentised(all[:n], all[n:])
	limit := seen - slack*max(1, seen)
	if math.IsInf(seen, 1) {
		limit = seen
	}
	rng, hits := s.generator(permutationStream), 1
	for range s.Permutations {
		rng.Shuffle(len(all), func(i, j int) { all[i], all[j] = all[j], all[i] })
		if studentised(all[:n], all[n:]) >= limit {
			hits++
		}
	}
	return float64(hits) / float64(s.Permutations+1)
}

// studentised is how many standard errors two means lie apart (Welch 1947,
// Biometrika 34:28–35; from memory): 0 for equal means, infinite for others without
// spread. One value alone tells no spread: then it is the plain difference.
func studentised(a, b []float64) float64 {
	ma, mb := stat.Mean(a), stat.Mean(b)
	apart := math.Abs(ma - mb)
	if len(a) < 2 || len(b) < 2 || apart <= slack*(math.Abs(ma)+math.Abs(mb)) {
		return apart
	}
	return apart / math.Sqrt(varianceOfMean(a, ma)+varianceOfMean(b, mb))
}

func varianceOfMean(v []float64, mean float64) float64 {
	var squares float64
	for _, x := range v {
		squares += float64((x - mean) * (x - mean))
	}
	n := float64(len(v))
	return squares / (n * (n - 1))
}
