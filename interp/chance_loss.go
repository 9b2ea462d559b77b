package interp

import "math"

// A ShiftedLogNormal is what one process says of the true mean m of a place: with the
// weight w, log(m + c) is normal with this mean and variance.
type ShiftedLogNormal struct {
	Weight   float64 // 0 to 1; over the processes of a place they add up to 1
	Offset   float64 // c, in the unit of the means
	Mean     float64 // of log(m + c)
	Variance float64 // of it, 0 or more
}

// At tells what is known of the true mean at a place, process by process, those without
// weight left out; nil for a place that is not finite or beyond 1e100 m.
func (c *Chances) At(x, y float64) (all []ShiftedLogNormal) {
	if !reachable(x, y) {
		return nil
	}
	all = make([]ShiftedLogNormal, 0, len(c.members))
	c.tell(x, y, func(p *process, g gauss) {
		all = append(all, ShiftedLogNormal{p.Weight, p.Offset, g.mean, g.variance})
	})
	return all
}

// Over is w times the chance that m is at or above a level, as [Chances.Over] adds it
// up over the processes.
func (d ShiftedLogNormal) Over(level float64) float64 {
	return float64(d.Weight * ChanceParameters{Offset: d.Offset}.above(level, gauss{d.Mean, d.Variance}))
}

// Capped is w times the expected min(max(m, 0), most), for most of 0 or more: that of a
// mean from 0 to a cap. It is w·(C(c) − C(c + most)), where
//
//	C(K) = E(m + c − K)⁺ = e^(μ+v/2)·Φ((μ + v − ln K)/s) − K·Φ((μ − ln K)/s), s = √v,
//
// as of the price of a call option (Black & Scholes 1973, J. Polit. Econ. 81:637–654,
// from memory), put together so that no two large numbers are taken from one another.
// A variance above 700 is taken as 700, beyond which e^(v/2) is no number.
func (d ShiftedLogNormal) Capped(most float64) float64 {
	low, high := d.Offset, d.Offset+most
	if d.Variance == 0 {
		return d.Weight * (min(max(math.Exp(d.Mean), low), high) - low)
	}
	v := min(d.Variance, 700)
	s := math.Sqrt(v)
	a, b := (math.Log(low)-d.Mean)/s, (math.Log(high)-d.Mean)/s
	between := float64(math.Exp(d.Mean+v/2)*normalBetween(a-s, b-s)) - float64(low*normalBetween(a, b))
	return d.Weight * min(most, max(0, between)+float64(most*normalBelow(-b)))
}

// normalBetween is the chance that a standard normal lies between a and b, a the lower.
func normalBetween(a, b float64) float64 {
	if a > 0 { // where both tails are near 1, their complements tell them apart
		a, b = -b, -a
	}
	return normalBelow(b) - normalBelow(a)
}

// normalBelow is Φ.
func normalBelow(z float64) float64 { return 0.5 * math.Erfc(-z/math.Sqrt2) }
