package interp

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/optimize"
)

// Ranges tried before the descent: from this share of the nearest lag to this
// multiple of the farthest one.
const (
	leastRangeLags = 0.1
	mostRangeLags  = 10
	rangeTrials    = 60
)

// Fit returns the model of a kind that is nearest to the lags by least squares
// weighted with N/h² (as gstat does by default, Pebesma 2004, Comput. Geosci.
// 30:683–691). For a given range nugget and partial sill follow in closed form,
// neither below 0, so that the search is along the range alone; it stays within
// a tenth of the nearest lag and ten times the farthest. Fewer than three lags,
// lags that are not finite or at distance 0, and lags without any semivariance
// are errors.
func (v EmpiricalVariogram) Fit(kind VariogramKind) (VariogramModel, error) {
	if err := v.check(); err != nil {
		return VariogramModel{}, err
	}
	if err := (VariogramModel{Kind: kind, PartialSill: 1, Range: 1}).Validate(); err != nil {
		return VariogramModel{}, err
	}
	low := math.Log(leastRangeLags * v[0].Distance)
	high := math.Log(mostRangeLags * v[len(v)-1].Distance)
	best, least := low, math.Inf(1)
	step := (high - low) / rangeTrials
	for i := range rangeTrials + 1 {
		at := low + float64(float64(i)*step)
		if _, loss := v.linear(kind, math.Exp(at)); loss < least {
			best, least = at, loss
		}
	}
	problem := optimize.Problem{Func: func(x []float64) float64 {
		if !(x[0] >= low && x[0] <= high) {
			return math.Inf(1)
		}
		_, loss := v.linear(kind, math.Exp(x[0]))
		return loss
	}}
	r, err := optimize.Minimize(problem, []float64{best}, &optimize.Settings{
		Converger: &optimize.FunctionConverge{Absolute: 0, Relative: 1e-16, Iterations: 60},
	}, &optimize.NelderMead{SimplexSize: step})
	if err != nil {
		return VariogramModel{}, fmt.Errorf("interp: fitting a %s variogram: %w", kind, err)
	}
	m, _ := v.linear(kind, math.Exp(r.X[0]))
	return m, m.Validate()
}

// check refuses lags that no model can be fitted to.
func (v EmpiricalVariogram) check() error {
	if len(v) < 3 {
		return fmt.Errorf("interp: a variogram of %d lags: want 3 or more to fit a model", len(v))
	}
	var sum float64
	for i, l := range v {
		if !(l.Distance > 0 && l.Semivariance >= 0 && l.Pairs > 0) || math.IsInf(l.Distance+l.Semivariance, 0) {
			return fmt.Errorf("interp: lag %d of %d pairs at %g m with semivariance %g: want finite numbers, and pairs apart", i+1, l.Pairs, l.Distance, l.Semivariance)
		}
		sum += l.Semivariance
	}
	if sum == 0 {
		return fmt.Errorf("interp: the samples do not vary: no variogram to fit")
	}
	return nil
}

// linear solves for nugget and partial sill at a range, and returns the weighted
// sum of squares that is left.
func (v EmpiricalVariogram) linear(kind VariogramKind, at float64) (VariogramModel, float64) {
	var w, g, gg, z, gz float64 // sums of weights, of shapes, of semivariances
	for _, l := range v {
		weight, grown := float64(l.Pairs)/(l.Distance*l.Distance), 1-kind.shape(l.Distance/at)
		w += weight
		g += float64(weight * grown)
		gg += float64(weight * grown * grown)
		z += float64(weight * l.Semivariance)
		gz += float64(weight * grown * l.Semivariance)
	}
	m := VariogramModel{Kind: kind, Range: at}
	det := float64(w*gg) - float64(g*g)
	m.Nugget, m.PartialSill = (float64(z*gg)-float64(gz*g))/det, (float64(w*gz)-float64(g*z))/det
	switch {
	case !(det > 1e-12*w*gg) || m.PartialSill < 0: // all lags on the sill
		m.Nugget, m.PartialSill = z/w, 0
	case m.Nugget < 0:
		m.Nugget, m.PartialSill = 0, gz/gg
	}
	return m, v.loss(m)
}

func (v EmpiricalVariogram) loss(m VariogramModel) (sum float64) {
	for _, l := range v {
		e := l.Semivariance - m.Semivariance(l.Distance)
		sum += float64(float64(l.Pairs) / (l.Distance * l.Distance) * e * e)
	}
	return sum
}
