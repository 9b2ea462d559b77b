package observer

import "math"

// StudentT is the quantile of Student's t distribution: t below which a part p
// lies, 0 < p < 1, for df degrees of freedom, 1 or more. Otherwise it is NaN.
func StudentT(p, df float64) float64 {
	switch {
	case !(p > 0 && p < 1 && df >= 1):
		return math.NaN()
	case p == 0.5:
		return 0
	case p < 0.5:
		return -StudentT(1-p, df)
	}
	// The upper tail is half of I(df/(df+t²); df/2, 1/2), which falls with t.
	tail := func(t float64) float64 { return incompleteBeta(df/(df+t*t), df/2, 0.5) / 2 }
	low, high := 0.0, 1.0
	for tail(high) > 1-p && high < 1e8 {
		low, high = high, 2*high
	}
	for range 200 {
		middle := (low + high) / 2
		if middle == low || middle == high {
			break
		}
		if tail(middle) > 1-p {
			low = middle
		} else {
			high = middle
		}
	}
	return (low + high) / 2
}

// incompleteBeta is the regularised incomplete beta function I(x; a, b) by its
// continued fraction (Abramowitz & Stegun 1964, 26.5.8, evaluated as Lentz 1976,
// Appl. Opt. 15:668–671, does).
func incompleteBeta(x, a, b float64) float64 {
	if x <= 0 {
		return 0
	}
	if x >= 1 {
		return 1
	}
	if x > (a+1)/(a+b+2) {
		return 1 - incompleteBeta(1-x, b, a)
	}
	la, _ := math.Lgamma(a)
	lb, _ := math.Lgamma(b)
	lab, _ := math.Lgamma(a + b)
	front := math.Exp(lab-la-lb+a*math.Log(x)+b*math.Log1p(-x)) / a
	return front * betaFraction(x, a, b)
}

func betaFraction(x, a, b float64) float64 {
	const tiny = 1e-300
	away := func(v float64) float64 {
		if math.Abs(v) < tiny {
			return tiny
		}
		return v
	}
	c, d := 1.0, 1/away(1-(a+b)*x/(a+1))
	h := d
	for m := 1.0; m < 500; m++ {
		even := m * (b - m) * x / ((a + 2*m - 1) * (a + 2*m))
		d, c = 1/away(1+even*d), away(1+even/c)
		h *= d * c
		odd := -(a + m) * (a + b + m) * x / ((a + 2*m) * (a + 2*m + 1))
		d, c = 1/away(1+odd*d), away(1+odd/c)
		h *= d * c
		if math.Abs(d*c-1) < 1e-16 {
			break
		}
	}
	return h
}
