package fieldstats

import "math"

// leastExpanded is of how many values on an expansion may stand for draws: the few of a
// morning are drawn.
const leastExpanded = 500

// expanded are the quantiles at two tails that [Settings.drawn] tends to with ever more
// draws, by the expansion of Cornish and Fisher of a mean in its own standard errors up to
// 1/n (Hall 1992, The Bootstrap and Edgeworth Expansion, 2.6; from memory). It is sure of
// them where the term of 1/n moves neither by more than so many draws are off by themselves:
// then what is left out, of the order of n^-3/2, is far less than that.
func expanded(v []float64, tail float64, draws int) (low, high float64, sure bool) {
	if len(v) < leastExpanded {
		return 0, 0, false
	}
	n, z := float64(len(v)), normalQuantile(1-tail)
	skewness, excess := shape(v)
	off := math.Sqrt(tail*(1-tail)/float64(draws)) / normalDensity(z)
	at := func(z float64) (quantile float64, small bool) {
		first, second := cornishFisher(z, skewness, excess)
		return z + first/math.Sqrt(n) + second/n, math.Abs(second/n) <= off
	}
	low, lowSmall := at(-z)
	high, highSmall := at(z)
	return low, high, lowSmall && highSmall
}

// cornishFisher are the terms of 1/√n and 1/n of the quantile of a mean in its own standard
// errors, with n − 1 in these, where that of a standard normal is z.
func cornishFisher(z, skewness, excess float64) (first, second float64) {
	zz, gg := float64(z*z), float64(skewness*skewness)
	q1, slope := skewness*(float64(2*zz)+1)/6, skewness*float64(4*z)/6
	q2 := z * (float64(excess*(zz-3))/12 - float64(gg*(float64(zz*zz)+float64(2*zz)-3))/18 - (zz+1)/4)
	return -q1, float64(q1*slope) - float64(z*float64(q1*q1))/2 - q2
}

// shape is the skewness and the excess kurtosis of values that are not all the same.
func shape(v []float64) (skewness, excess float64) {
	mean, n := Mean(v), float64(len(v))
	var m2, m3, m4 float64
	for _, x := range v {
		d := x - mean
		dd := float64(d * d)
		m2, m3, m4 = m2+dd, m3+float64(dd*d), m4+float64(dd*dd)
	}
	m2, m3, m4 = m2/n, m3/n, m4/n
	return m3 / float64(m2*math.Sqrt(m2)), m4/float64(m2*m2) - 3
}

// normalDensity is that of a standard normal.
func normalDensity(z float64) float64 { return math.Exp(-float64(z*z)/2) / math.Sqrt(2*math.Pi) }
