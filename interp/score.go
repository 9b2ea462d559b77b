package interp

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/stat"
)

// A Score says how well left-out samples were predicted.
type Score struct {
	N           int     // samples that had a prediction
	MeanError   float64 // mean of observed − predicted
	MAE         float64 // mean absolute error
	RMSE        float64 // root of the mean squared error
	Correlation float64 // Pearson's, observed against predicted; NaN where either does not vary beyond rounding
	// Skill is 1 − Σ(observed − predicted)² / Σ(observed − mean of the others)²:
	// 1 is perfect, 0 no better than taking the mean of all other samples for
	// every place, below 0 worse. It is 0 where the samples do not vary beyond
	// rounding, since then the mean is right everywhere, and NaN for fewer than
	// two.
	Skill float64
}

// NewScore compares samples with what was predicted for them when left out.
// Samples without a prediction are passed over; Score.N tells. The slices must
// be of one length.
func NewScore(samples []Sample, left []LeftOut) Score {
	var observed, predicted []float64
	for i, l := range left {
		if !math.IsNaN(l.Value) {
			observed = append(observed, samples[i].Value)
			predicted = append(predicted, l.Value)
		}
	}
	n := float64(len(observed))
	s := Score{N: len(observed), Correlation: math.NaN(), Skill: math.NaN()}
	if s.N == 0 {
		s.MeanError, s.MAE, s.RMSE = math.NaN(), math.NaN(), math.NaN()
		return s
	}
	var sum, absolute, squares float64
	for i, z := range observed {
		e := z - predicted[i]
		sum += e
		absolute += math.Abs(e)
		squares += float64(e * e)
	}
	s.MeanError, s.MAE, s.RMSE = sum/n, absolute/n, math.Sqrt(squares/n)
	if s.N < 2 {
		return s
	}
	if s.Skill = 0; varies(observed) {
		s.Skill = skill(observed, squares)
		if varies(predicted) {
			s.Correlation = stat.Correlation(observed, predicted, nil)
		}
	}
	return s
}

// rounding is the relative difference that sums of equal numbers may show.
const rounding = 1e-12

// varies tells values that differ from equal ones that went through sums.
func varies(values []float64) bool {
	low, high := slices.Min(values), slices.Max(values)
	return high-low > rounding*max(math.Abs(low), math.Abs(high))
}

// skill uses that an observation lies n/(n−1) times as far from the mean of the
// others as from the mean of all.
func skill(observed []float64, squares float64) float64 {
	n := float64(len(observed))
	about := stat.MomentAbout(2, observed, stat.Mean(observed, nil), nil) * n * (n / (n - 1)) * (n / (n - 1))
	if about == 0 { // squares too small for a float
		return 0
	}
	return 1 - squares/about
}
