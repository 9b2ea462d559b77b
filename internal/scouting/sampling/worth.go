package sampling

import (
	"fmt"
	"math"
)

// leastWorth is the number of stops before which nobody is told to stop walking by
// what a stop is worth: the rule was tried from there on.
const leastWorth = 12

// Regret is what deciding after the stops made is expected to cost a hectare beyond
// what one would lose who knew everything, in treatments of a hectare, where no map
// tells: 0.9·s² + 0.3/(n + 1), s² the variance (with n − 1) over n stops of min(m/T, 1)
// of their means m and the density T at which a treatment pays. Fitted on invented
// fields of twelve kinds. NaN for fewer than two stops or a threshold that is not
// above 0.
func Regret(means []float64, threshold float64) float64 {
	n := float64(len(means))
	if n < 2 || !(threshold > 0) {
		return math.NaN()
	}
	sum, squares := 0.0, 0.0
	for _, m := range means {
		sum += min(m/threshold, 1)
	}
	for _, m := range means {
		d := min(m/threshold, 1) - sum/n
		squares += float64(d * d)
	}
	return 0.9*squares/(n-1) + 0.3/(n+1)
}

// A Worth weighs further stops against what they are expected to save. Regret is that
// of [Regret], or with a map its R = V + ½/(n + 1), V the value of knowing everything as
// its chances see it.
type Worth struct {
	Area   float64 // of the field, hectares
	Regret float64 // treatments a hectare
	Stops  int     // made
	Price  float64 // of a stop, in treatments of a hectare; 0 where none is given
}

// Validate says what is wrong with the values.
func (w Worth) Validate() error {
	switch {
	case !(w.Area > 0) || math.IsInf(w.Area, 0):
		return fmt.Errorf("%v ha: want a number above 0", w.Area)
	case !(w.Price >= 0) || math.IsInf(w.Price, 0):
		return fmt.Errorf("a stop priced at %v: want 0 or more", w.Price)
	}
	return nil
}

// Next is what one more stop is expected to save: A·R/(2n). It is +Inf before the
// first.
func (w Worth) Next() float64 { return w.Area * w.Regret / (2 * float64(w.Stops)) }

// Enough reports whether the next stop is not worth its walk: from twelve stops on,
// where it saves less than its price. Where either is not known it never is.
func (w Worth) Enough() bool { return w.Stops >= leastWorth && w.Next() < w.Price }

// More is about how many further stops are worth their walk, if the regret falls with
// the root of their number: the n at which A·R₀·√(n₀/n)/(2n) is the price, less those
// made, and no fewer than up to twelve in all. 0 where they are enough, and at most
// most.
func (w Worth) More(most int) int {
	n := float64(w.Stops)
	if w.Enough() || !(w.Price > 0) || math.IsNaN(w.Regret) {
		return 0
	}
	want := n * math.Pow(w.Next()/w.Price, 2.0/3)
	return min(most, max(1, int(math.Ceil(want-n)), leastWorth-w.Stops))
}
