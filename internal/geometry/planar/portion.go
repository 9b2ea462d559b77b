package planar

import (
	"math"
	"math/bits"
)

// whole is a whole number from 0 below 2¹²⁷. The package of large numbers would make the
// phone's engine larger by more than this file.
type whole struct{ high, low uint64 }

func (w whole) plus(v whole) whole {
	low, carry := bits.Add64(w.low, v.low, 0)
	high, _ := bits.Add64(w.high, v.high, carry)
	return whole{high, low}
}

// minus is w − v, and whether v is the larger: then it is no whole number.
func (w whole) minus(v whole) (difference whole, below bool) {
	low, borrow := bits.Sub64(w.low, v.low, 0)
	high, borrow := bits.Sub64(w.high, v.high, borrow)
	return whole{high, low}, borrow != 0
}

// cross is |ax·by − ay·bx|, exact, of whole numbers below 2⁵².
func cross(ax, ay, bx, by float64) whole {
	p, q := product(ax, by), product(ay, bx)
	if (ax < 0) != (by < 0) != ((ay < 0) != (bx < 0)) { // of different signs
		return p.plus(q)
	}
	if difference, below := p.minus(q); !below {
		return difference
	}
	difference, _ := q.minus(p)
	return difference
}

func product(a, b float64) whole {
	high, low := bits.Mul64(uint64(math.Abs(a)), uint64(math.Abs(b)))
	return whole{high, low}
}

// portion is step·along/all, exact and then rounded to the next whole number, a half
// upwards; step is a whole number below 2⁵², and along from 0 below all. The division
// goes bit by bit of step.
func portion(step float64, along, all whole) float64 {
	var quotient uint64
	var rest whole
	add := func(v whole) {
		rest = rest.plus(v)
		if less, below := rest.minus(all); !below {
			rest = less
			quotient++
		}
	}
	n := uint64(math.Abs(step))
	for bit := bits.Len64(n) - 1; bit >= 0; bit-- {
		quotient *= 2
		add(rest)
		if n>>bit&1 == 1 {
			add(along)
		}
	}
	_, little := rest.plus(rest).minus(all) // less than a half
	switch exactly := rest.plus(rest) == all; {
	case step < 0 && (little || exactly):
		return -float64(quotient)
	case step < 0:
		return -float64(quotient) - 1
	case little:
		return float64(quotient)
	}
	return float64(quotient) + 1
}
