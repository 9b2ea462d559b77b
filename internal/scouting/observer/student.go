package observer

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// StudentT is the quantile of Student's t distribution: t below which a part p
// lies, 0 < p < 1, for df degrees of freedom, 1 or more. Otherwise it is NaN.
// Quantiles as far from ½ as another are as far from 0, to the last bit.
func StudentT(p, df float64) float64 {
	switch {
	case !(p > 0 && p < 1 && df >= 1):
		return math.NaN()
	case p < 0.5:
		return -StudentT(1-p, df)
	}
	return distuv.StudentsT{Sigma: 1, Nu: df}.Quantile(p)
}
