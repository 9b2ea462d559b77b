package observer

import (
	"math"

	"github.com/geocoris/geocoris/internal/stat"
)

// Agreement is how well two ways of measuring the same things agree.
type Agreement struct {
	N int
	// Concordance is Lin's coefficient with divisor n (Lin 1989, Biometrics
	// 45:255–268), its 95 % interval by Fisher's z with the variance as corrected
	// in Lin 2000 (Biometrics 56:324–325). NaN where nothing varies.
	Concordance, ConcordanceLow, ConcordanceHigh float64
	AsymptoticLow, AsymptoticHigh                float64 // the same without Fisher's z
	Pearson                                      float64
	Accuracy                                     float64 // C_b, concordance / Pearson
	ScaleShift, LocationShift                    float64 // sd of the second over that of the first; second − first mean over √ of the product of sds
	Bias                                         float64 // mean of first − second
	SD                                           float64 // of first − second, divisor n − 1
	LimitLow, LimitHigh                          float64 // Bias ± 1.96 SD (Bland & Altman 1986, Lancet 327:307–310)
	RMSE, MAE                                    float64
}

// normal975 is the 97.5 % point of the normal distribution.
const normal975 = 1.959963984540054

// Agree compares two measurements, first and second, of the same things; the
// slices are equally long. Without values all numbers are NaN.
func Agree(first, second []float64) Agreement {
	n := float64(len(first))
	d := make([]float64, len(first))
	cross, mae := 0.0, 0.0
	mx, my := stat.Mean(first), stat.Mean(second)
	for i := range first {
		d[i] = first[i] - second[i]
		cross += float64((first[i] - mx) * (second[i] - my))
		mae += math.Abs(d[i])
	}
	sx2, sy2, sxy := squares(first, mx)/n, squares(second, my)/n, cross/n
	a := Agreement{N: len(first), Bias: stat.Mean(d), MAE: mae / n, RMSE: math.Sqrt(squares(d, 0) / n)}
	a.SD = math.Sqrt(squares(d, a.Bias) / (n - 1))
	a.LimitLow, a.LimitHigh = a.Bias-1.96*a.SD, a.Bias+1.96*a.SD
	a.Pearson = sxy / math.Sqrt(sx2*sy2)
	a.Concordance = 2 * sxy / (sx2 + sy2 + (mx-my)*(mx-my))
	a.Accuracy = a.Concordance / a.Pearson
	a.ScaleShift = math.Sqrt(sy2 / sx2)
	a.LocationShift = (my - mx) / math.Pow(sx2*sy2, 0.25)
	a.interval()
	return a
}

func (a *Agreement) interval() {
	p, r, u := a.Concordance, a.Pearson, a.LocationShift
	variance := ((1-r*r)*p*p*(1-p*p)/(r*r) + 2*p*p*p*(1-p)*u*u/r - 0.5*math.Pow(p, 4)*math.Pow(u, 4)/(r*r)) / float64(a.N-2)
	se := math.Sqrt(variance)
	a.AsymptoticLow, a.AsymptoticHigh = p-normal975*se, p+normal975*se
	z, seZ := math.Atanh(p), se/(1-p*p)
	a.ConcordanceLow, a.ConcordanceHigh = math.Tanh(z-normal975*seZ), math.Tanh(z+normal975*seZ)
}
