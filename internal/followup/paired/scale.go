package paired

import (
	"fmt"
	"math"
)

// A Scale is what growth is measured on: numbers grow by a factor, shares of a
// whole by a factor of their odds, v/(Whole − v), so that they never pass it.
type Scale struct {
	// Least is what stands in for less where a logarithm is taken, as what was not
	// found may yet be there: half the smallest value that could have been counted.
	// Of shares, Whole − Least stands in for more in the same way.
	Least float64
	Whole float64 // 100 for shares in %; 0 for numbers, which have none
}

// Check refuses a scale without a least value, or with a whole that leaves no room.
func (s Scale) Check() error {
	if !(s.Least > 0) || math.IsInf(s.Least, 0) {
		return fmt.Errorf("least mean %g: want a number above 0", s.Least)
	}
	if s.Whole != 0 && !(s.Whole > 2*s.Least) || math.IsInf(s.Whole, 0) {
		return fmt.Errorf("shares of %g with a least of %g: want a whole of more than twice the least", s.Whole, s.Least)
	}
	return nil
}

// Shares reports whether values are shares of a whole.
func (s Scale) Shares() bool { return s.Whole > 0 }

// Log is ln v of a number, ln(v/(Whole − v)) of a share.
func (s Scale) Log(v float64) float64 {
	v = max(v, s.Least)
	if !s.Shares() {
		return math.Log(v)
	}
	v = min(v, s.Whole-s.Least)
	return math.Log(v / (s.Whole - v))
}

// Beyond reports that Log puts another value for v: the least, or of shares the
// greatest, that could be counted.
func (s Scale) Beyond(v float64) bool {
	return v < s.Least || s.Shares() && v > s.Whole-s.Least
}

// Rate is Log b − Log a: of growth per day when divided by the days. NaN where both
// are below the least, or both above the greatest: nothing is known of growth.
func (s Scale) Rate(a, b float64) float64 {
	if s.Beyond(a) && s.Beyond(b) && (a < s.Least) == (b < s.Least) {
		return math.NaN()
	}
	return s.Log(b) - s.Log(a)
}

// Grown is a value after its number, or its odds, grew by a factor e^x. Nothing
// stays nothing and the whole stays the whole, whatever x is.
func (s Scale) Grown(v, x float64) float64 {
	switch {
	case v <= 0 || s.Shares() && v >= s.Whole:
		return v
	case !s.Shares():
		return v * math.Exp(x)
	}
	// The odds of next to nothing are beyond a number, their logarithm is not.
	return s.Whole / (1 + math.Exp(math.Log(s.Whole-v)-math.Log(v)-x))
}

// smoothed is Log of a stop, with least added on both sides in place of a bound, so
// that stops without finds stay in order.
func (s Scale) smoothed(v float64) float64 {
	if !s.Shares() {
		return math.Log(v + s.Least)
	}
	return math.Log((v + s.Least) / (s.Whole - v + s.Least))
}

// slope is dLog/dv at a mean; 0 at the ends, where there is none.
func (s Scale) slope(mean float64) float64 {
	switch {
	case mean <= 0 || s.Shares() && mean >= s.Whole:
		return 0
	case s.Shares():
		return s.Whole / (mean * (s.Whole - mean))
	}
	return 1 / mean
}
