package sampling

import (
	"fmt"
	"math"
)

// Taylor is the power law s² = A·m^B of counts per unit (Taylor 1961, Nature
// 189:732–735).
type Taylor struct{ A, B float64 }

// Variance of counts per unit about a mean.
func (t Taylor) Variance(mean float64) float64 { return t.A * math.Pow(mean, t.B) }

// Units is the number of units that brings the standard error of the mean to the
// part d of the mean: a·m^(b−2)/d² (Karandinos 1976, Bull. Entomol. Soc. Am.
// 22:417–421; from memory). It is not rounded.
func (t Taylor) Units(mean, d float64) float64 {
	return t.A * math.Pow(mean, t.B-2) / (d * d)
}

// Validate says what is wrong with the coefficients.
func (t Taylor) Validate() error {
	if !(t.A > 0 && !math.IsInf(t.A, 0) && t.B > 0 && t.B < 2) {
		return fmt.Errorf("taylor's a %v and b %v: want a above 0, and b above 0 and below 2", t.A, t.B)
	}
	return nil
}

// A Green is a plan of fixed precision: count until the standard error is the
// part D of the mean (Green 1970, Researches on Population Ecology 12:249–251).
// It says how large the mean is, not on which side of a threshold.
type Green struct {
	Taylor
	D float64 // standard error / mean; 0 means 0.25
}

func (g Green) withDefaults() Green {
	if g.D == 0 {
		g.D = 0.25
	}
	return g
}

// Validate says what is wrong with the plan.
func (g Green) Validate() error {
	if d := g.withDefaults().D; !(d > 0 && d < 1) {
		return fmt.Errorf("precision %v: want a part of the mean, such as 0.25", d)
	}
	return g.Taylor.Validate()
}

// Line is the total at which n units are enough:
// ln T = ln(D²/a)/(b−2) + ((b−1)/(b−2))·ln n.
func (g Green) Line(units float64) float64 {
	g = g.withDefaults()
	return math.Exp(math.Log(g.D*g.D/g.A)/(g.B-2) + float64((g.B-1)/(g.B-2)*math.Log(units)))
}

// Bounds are those of [Wald.Bounds]; there is no lower one.
func (g Green) Bounds(units float64) (lower, upper float64) { return math.Inf(-1), g.Line(units) }

// Above says what a total on or over the line means.
func (g Green) Above() Verdict { return Enough }
