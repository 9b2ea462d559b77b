package observer

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/geocoris/geocoris/internal/stat"
)

// A Pair is one leaf, estimated and then counted.
type Pair struct {
	Observer           string
	Estimated, Counted float64
}

// A Calibration is what the pairs of one observer say.
type Calibration struct {
	Observer  string
	Pairs     int
	Agreement Agreement // of estimated (first) with counted (second)
	Ratio     Ratio     // estimated / counted
	Fit       *Fit      // log10 counted on log10 estimated; nil where pairs are too few or too much alike
	Zeros     int       // pairs with a zero, which have no logarithm and are left out of ratio and fit
	Why       string    // why there is no fit
}

const (
	leastPairs = 10 // for a fit to be used: our choice, no source
	leastRange = 2  // highest estimate over the lowest: below it a slope says nothing
)

// Calibrate parts pairs by observer, in the order of first appearance; names are
// the same without regard to case and blanks. Every pair must be checked as
// [Pair.Validate] does.
func Calibrate(pairs []Pair) []Calibration {
	var order []string
	byName := map[string][]Pair{}
	for _, p := range pairs {
		key := Key(p.Observer)
		if _, known := byName[key]; !known {
			order = append(order, key)
		}
		byName[key] = append(byName[key], p)
	}
	var out []Calibration
	for _, key := range order {
		out = append(out, calibrate(byName[key]))
	}
	return out
}

// Key is a name as names are compared.
func Key(name string) string { return strings.ToLower(strings.Join(strings.Fields(name), " ")) }

// Validate says what is wrong with a pair.
func (p Pair) Validate() error {
	for _, v := range []float64{p.Estimated, p.Counted} {
		if !(v >= 0) || math.IsInf(v, 0) {
			return fmt.Errorf("%v is no number of insects: want 0 or more", v)
		}
	}
	return nil
}

func calibrate(pairs []Pair) Calibration {
	c := Calibration{Observer: pairs[0].Observer, Pairs: len(pairs)}
	var estimated, counted, x, y []float64
	for _, p := range pairs {
		estimated, counted = append(estimated, p.Estimated), append(counted, p.Counted)
		if p.Estimated > 0 && p.Counted > 0 {
			x, y = append(x, math.Log10(p.Estimated)), append(y, math.Log10(p.Counted))
		} else {
			c.Zeros++
		}
	}
	c.Agreement = Agree(estimated, counted)
	c.Ratio = ratio(x, y)
	switch {
	case len(x) < leastPairs:
		c.Why = fmt.Sprintf("%d pairs without a zero are needed, found %d", leastPairs, len(x))
	case slices.Max(x)-slices.Min(x) < math.Log10(leastRange):
		c.Why = "the estimates are too much alike: practise on leaves with few and with many"
	default:
		c.Fit = FitLine(x, y)
		if !(c.Fit.Slope > 0) {
			c.Fit, c.Why = nil, "counts do not rise with the estimates"
		}
	}
	return c
}

// A Ratio is the geometric mean of estimated over counted with its 95 % interval
// by Student's t on logarithms: below 1 is an eye that sees too few.
type Ratio struct{ Value, Low, High float64 }

func ratio(x, y []float64) Ratio {
	n := len(x)
	if n < 2 {
		return Ratio{math.NaN(), math.NaN(), math.NaN()}
	}
	d := make([]float64, n)
	for i := range x {
		d[i] = x[i] - y[i]
	}
	mean := stat.Mean(d)
	half := StudentT(0.975, float64(n-1)) * math.Sqrt(squares(d, mean)/float64(n-1)/float64(n))
	return Ratio{math.Pow(10, mean), math.Pow(10, mean-half), math.Pow(10, mean+half)}
}

func squares(v []float64, about float64) (sum float64) {
	for _, x := range v {
		sum += float64((x - about) * (x - about))
	}
	return sum
}
