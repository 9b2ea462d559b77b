package interp

import "math"

// power raises numbers of 0 or more to itself; the whole powers in use do
// without math.Pow.
type power float64

// of returns vᵖ. The usual power is short enough to be put in where it is asked for.
func (p power) of(v float64) float64 {
	if p == 2 {
		return float64(v * v) // not fused with the sum that it is put in
	}
	return p.unusual(v)
}

func (p power) unusual(v float64) float64 {
	switch p {
	case 1:
		return v
	case 3:
		return v * v * v
	case 4:
		return v * v * (v * v)
	}
	return math.Pow(v, float64(p))
}

// ofSquare returns vᵖ from v².
func (p power) ofSquare(v2 float64) float64 {
	switch p {
	case 1:
		return math.Sqrt(v2)
	case 2:
		return v2
	case 3:
		return v2 * math.Sqrt(v2)
	case 4:
		return v2 * v2
	}
	return math.Pow(v2, float64(p)/2)
}
