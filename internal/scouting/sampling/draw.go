package sampling

import (
	"math"
	"math/rand/v2"
)

// draws makes random counts for simulations, the same on every machine for a
// seed but for the last digits of the mathematical functions.
type draws struct{ *rand.Rand }

func newDraws(seed uint64) draws { return draws{rand.New(rand.NewPCG(seed, 0x6765_6f63_6f72_6973))} }

// gamma with a shape above 0 and scale 1 (Marsaglia & Tsang 2000, ACM Trans.
// Math. Softw. 26:363–372, with their step for shapes below 1).
func (d draws) gamma(shape float64) float64 {
	if shape < 1 {
		return d.gamma(shape+1) * math.Pow(1-d.Float64(), 1/shape)
	}
	a := shape - 1.0/3
	c := 1 / math.Sqrt(9*a)
	for {
		x := d.NormFloat64()
		v := 1 + float64(c*x)
		if v <= 0 {
			continue
		}
		v = v * v * v
		if math.Log(1-d.Float64()) < float64(x*x/2)+a-float64(a*v)+float64(a*math.Log(v)) {
			return a * v
		}
	}
}

// smallCount is the size up to which counts are drawn one by one.
const smallCount = 30

// poisson of a mean of 0 or more. Large means are halved by gamma and binomial
// draws (Ahrens & Dieter 1974, Computing 12:223–246), which is exact.
func (d draws) poisson(mean float64) float64 {
	total := 0.0
	for mean > smallCount {
		m := math.Floor(mean * 7 / 8)
		x := d.gamma(m)
		if x > mean {
			return total + d.binomial(m-1, mean/x)
		}
		total += m
		mean -= x
	}
	limit := math.Exp(-mean)
	for p := d.Float64(); p > limit; p *= d.Float64() {
		total++
	}
	return total
}

// binomial of n trials. Large n are halved at their median by beta draws, as
// above.
func (d draws) binomial(n, p float64) float64 {
	total := 0.0
	for n > smallCount {
		i := 1 + math.Floor(n/2)
		x := d.beta(i, n+1-i)
		if x >= p {
			n, p = i-1, p/x
		} else {
			total += i
			n, p = n-i, (p-x)/(1-x)
		}
	}
	for ; n > 0; n-- {
		if d.Float64() < p {
			total++
		}
	}
	return total
}

func (d draws) beta(a, b float64) float64 {
	x, y := d.gamma(a), d.gamma(b)
	return x / (x + y)
}
