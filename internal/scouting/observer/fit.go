package observer

import (
	"math"

	"github.com/geocoris/geocoris/internal/stat"
)

// A Fit is a straight line by least squares with what predictions need.
type Fit struct {
	N                 int     `json:"n"`
	Intercept         float64 `json:"intercept"`
	Slope             float64 `json:"slope"`
	SEIntercept       float64 `json:"se_intercept"`
	SESlope           float64 `json:"se_slope"`
	RSquared          float64 `json:"r_squared"`
	Sigma             float64 `json:"sigma"` // residual standard deviation, n − 2 degrees of freedom
	MeanX             float64 `json:"mean_x"`
	SquaresX          float64 `json:"squares_x"` // Σ(x − MeanX)²
	LowX              float64 `json:"low_x"`     // range of the data
	HighX             float64 `json:"high_x"`
	Smearing          float64 `json:"smearing"` // mean of 10^residual (Duan 1983, J. Am. Stat. Assoc. 78:605–610)
	LogNormalSmearing float64 `json:"log_normal_smearing"`
}

// FitLine fits y on x, logarithms to base 10. Fewer than three points, or x all
// the same, give NaN.
func FitLine(x, y []float64) *Fit {
	f := &Fit{N: len(x), MeanX: stat.Mean(x), LowX: math.Inf(1), HighX: math.Inf(-1)}
	n := float64(f.N)
	my, cross := stat.Mean(y), 0.0
	for i := range x {
		cross += float64((x[i] - f.MeanX) * (y[i] - my))
		f.LowX, f.HighX = min(f.LowX, x[i]), max(f.HighX, x[i])
	}
	f.SquaresX = squares(x, f.MeanX)
	f.Slope = cross / f.SquaresX
	f.Intercept = my - f.Slope*f.MeanX
	rss := 0.0
	for i := range x {
		e := y[i] - f.Intercept - f.Slope*x[i]
		rss += float64(e * e)
		f.Smearing += math.Pow(10, e)
	}
	f.Smearing /= n
	f.Sigma = math.Sqrt(rss / (n - 2))
	f.SESlope = f.Sigma / math.Sqrt(f.SquaresX)
	f.SEIntercept = f.Sigma * math.Sqrt(1/n+f.MeanX*f.MeanX/f.SquaresX)
	f.RSquared = 1 - rss/squares(y, my)
	f.LogNormalSmearing = math.Pow(10, f.Sigma*f.Sigma*math.Ln10/2)
	return f
}

// A Prediction is what a value of x predicts, on the scale of the logarithms.
type Prediction struct {
	Value     float64
	SE        float64 // of the line at x
	Low, High float64 // 95 % prediction interval of a new point
}

// Predict predicts y at x.
func (f Fit) Predict(x float64) Prediction {
	p := Prediction{Value: f.Intercept + f.Slope*x}
	p.SE = f.Sigma * math.Sqrt(1/float64(f.N)+(x-f.MeanX)*(x-f.MeanX)/f.SquaresX)
	half := StudentT(0.975, float64(f.N-2)) * math.Sqrt(f.Sigma*f.Sigma+p.SE*p.SE)
	p.Low, p.High = p.Value-half, p.Value+half
	return p
}

// A Corrected estimate is the number of insects that an estimate stands for.
type Corrected struct {
	Count     float64 // the mean: by the line and the smearing factor
	Low, High float64 // 95 % prediction interval of one leaf
	// CV is the standard deviation of one leaf's true number about Count, as part
	// of it: what the eye adds to the uncertainty of a leaf.
	CV float64
	// LineCV is the part of it that all leaves of the observer share, so that
	// averaging does not lessen it: the error of the line itself.
	LineCV  float64
	Outside bool // the estimate lies outside what was practised
}

// Correct returns what an estimate stands for. Zero stays zero: an empty leaf is
// seen to be empty.
func (f Fit) Correct(estimated float64) Corrected {
	if estimated <= 0 {
		return Corrected{}
	}
	x := math.Log10(estimated)
	p := f.Predict(x)
	toCV := func(sd float64) float64 { return math.Sqrt(math.Expm1(sd * sd * math.Ln10 * math.Ln10)) }
	return Corrected{
		Count: math.Pow(10, p.Value) * f.Smearing,
		Low:   math.Pow(10, p.Low), High: math.Pow(10, p.High),
		CV: toCV(math.Hypot(f.Sigma, p.SE)), LineCV: toCV(p.SE),
		Outside: x < f.LowX-1e-9 || x > f.HighX+1e-9,
	}
}
