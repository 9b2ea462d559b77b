package sampling

import (
	"fmt"
	"math"
)

// Distribution is how counts on units scatter about their mean.
type Distribution uint8

const (
	Binomial         Distribution = iota // a unit is at or above the tally, or not; values are shares
	Poisson                              // counts, variance = mean
	NegativeBinomial                     // counts, variance = mean + mean²/k
)

// String is the distribution's name in words.
func (d Distribution) String() string {
	switch d {
	case Poisson:
		return "Poisson"
	case NegativeBinomial:
		return "negative binomial"
	}
	return "binomial"
}

// A Wald is a sequential probability ratio test of a low value against a high
// one (Wald 1945, Ann. Math. Stat. 16:117–186). Low and High are means per unit,
// or shares for the binomial. At Low the test calls "over" in a part Alpha of
// cases at the most, at High it calls "under" in a part Beta, to Wald's
// approximation and for independent units.
type Wald struct {
	Distribution Distribution
	Low, High    float64
	K            float64 // of the negative binomial, common to both values
	Alpha, Beta  float64 // 0 means 0.10
}

// Lines are two parallel stop lines in the plane of units n and total T: over at
// T ≥ Slope·n + Upper, under at T ≤ Slope·n + Lower. Lower is below 0.
type Lines struct{ Slope, Lower, Upper float64 }

func (w Wald) withDefaults() Wald {
	if w.Alpha == 0 {
		w.Alpha = 0.10
	}
	if w.Beta == 0 {
		w.Beta = 0.10
	}
	return w
}

// Validate says what is wrong with the values of a test.
func (w Wald) Validate() error {
	w = w.withDefaults()
	switch {
	case !(w.Low > 0 && w.Low < w.High && !math.IsInf(w.High, 0)):
		return fmt.Errorf("the low value %v and the high value %v must be above 0 and differ; give the lower first", w.Low, w.High)
	case w.Distribution == Binomial && w.High >= 1:
		return fmt.Errorf("the high share %v must be below 1; give shares as parts of 1", w.High)
	case w.Distribution == NegativeBinomial && !(w.K > 0 && !math.IsInf(w.K, 0)):
		return fmt.Errorf("k is %v; a negative binomial plan wants a k above 0", w.K)
	case !(w.Alpha > 0 && w.Beta > 0 && w.Alpha+w.Beta < 1):
		return fmt.Errorf("error rates alpha %v and beta %v must be above 0 and add up to less than 1", w.Alpha, w.Beta)
	}
	return nil
}

// Lines returns the stop lines of a valid test.
func (w Wald) Lines() Lines {
	w = w.withDefaults()
	perCount, perUnit := w.ratio()
	return Lines{
		Slope: perUnit / perCount,
		Lower: math.Log(w.Beta/(1-w.Alpha)) / perCount,
		Upper: math.Log((1-w.Beta)/w.Alpha) / perCount,
	}
}

// ratio returns the parts of the log likelihood ratio of High to Low: with total
// T on n units it is T·perCount − n·perUnit.
func (w Wald) ratio() (perCount, perUnit float64) {
	lo, hi := w.Low, w.High
	switch w.Distribution {
	case Poisson:
		return math.Log(hi / lo), hi - lo
	case NegativeBinomial:
		return math.Log(hi * (lo + w.K) / (lo * (hi + w.K))), w.K * math.Log((hi+w.K)/(lo+w.K))
	}
	return math.Log(hi * (1 - lo) / (lo * (1 - hi))), math.Log((1 - lo) / (1 - hi))
}

// LogRatio is the log of the likelihood of High over that of Low.
func (w Wald) LogRatio(total, units float64) float64 {
	perCount, perUnit := w.ratio()
	return float64(total*perCount) - float64(units*perUnit)
}

// Bounds are the totals at which the test stops after a number of units: under
// at or below lower, over at or above upper.
func (w Wald) Bounds(units float64) (lower, upper float64) {
	l := w.Lines()
	return float64(l.Slope*units) + l.Lower, float64(l.Slope*units) + l.Upper
}

// Variance of the count on one unit about a mean, by the test's distribution.
func (w Wald) Variance(mean float64) float64 {
	switch w.Distribution {
	case Poisson:
		return mean
	case NegativeBinomial:
		return mean + float64(mean*mean)/w.K
	}
	return mean * (1 - mean)
}

// FirstUnder is the least number of units after which the test can call under:
// with nothing found at all.
func (w Wald) FirstUnder() int {
	l := w.Lines()
	return int(math.Ceil(-l.Lower / l.Slope))
}

// Above says what a total on or over the upper line means.
func (w Wald) Above() Verdict { return Over }
