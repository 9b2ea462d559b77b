package paired

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"
)

// A Correlation is how far two sets of values go together.
type Correlation struct {
	N   int
	Rho float64 // −1 to 1; NaN where one side does not vary
	P   float64 // two-sided, by the t approximation; NaN with fewer than 3 pairs
}

// Spearman correlates ranks, ties sharing their mean rank; the p-value takes
// ρ·√((n−2)/(1−ρ²)) as Student's t with n−2 degrees of freedom (Kendall &
// Stuart, The Advanced Theory of Statistics; from memory). Values of different
// number are an error.
func Spearman(a, b []float64) (Correlation, error) {
	if len(a) != len(b) {
		return Correlation{}, fmt.Errorf("paired: %d values against %d", len(a), len(b))
	}
	return Pearson(ranks(a), ranks(b))
}

// Pearson correlates the values themselves, with the same approximation for the
// p-value.
func Pearson(a, b []float64) (Correlation, error) {
	if len(a) != len(b) {
		return Correlation{}, fmt.Errorf("paired: %d values against %d", len(a), len(b))
	}
	c := Correlation{N: len(a), Rho: math.NaN(), P: math.NaN()}
	rho := stat.Correlation(a, b, nil)
	if math.IsNaN(rho) || math.IsInf(rho, 0) {
		return c, nil
	}
	c.Rho = max(-1, min(1, rho))
	if df := float64(c.N - 2); df > 0 {
		t := math.Abs(c.Rho) * math.Sqrt(df/((1-c.Rho)*(1+c.Rho)))
		c.P = 2 * distuv.StudentsT{Mu: 0, Sigma: 1, Nu: df}.Survival(t)
	}
	return c, nil
}

// ranks counts from 1; equal values share their mean rank.
func ranks(v []float64) []float64 {
	order := make([]int, len(v))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(i, j int) int { return cmp.Compare(v[i], v[j]) })
	out := make([]float64, len(v))
	for from := 0; from < len(order); {
		to := from + 1
		for to < len(order) && v[order[to]] == v[order[from]] {
			to++
		}
		for _, i := range order[from:to] {
			out[i] = float64(from+1+to) / 2
		}
		from = to
	}
	return out
}
