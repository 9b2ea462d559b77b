package rules

import (
	"fmt"
	"math"
)

// Prices are what a level that goes by cost and price is computed from, in any one
// currency.
type Prices struct {
	Cost  float64 // of control, on an acre
	Price float64 // of the crop, for one of the rule's unit of yield
	Heads float64 // flowering heads on an acre, for the midge of sorghum
}

// midgeFormula is the formula of rules whose level [Midge] computes.
const midgeFormula = "midge"

// priced computes the level: C/(V·loss) of a band with a loss, else by the formula of
// its rule. Missing prices are named in the error.
func (l Level) priced(p Prices) (Level, error) {
	if l.Rule.Formula == midgeFormula {
		t, err := Midge(p).Compute()
		if err != nil {
			return Level{}, fmt.Errorf("rule %s: %w", l.Rule.Name, err)
		}
		l.Treat, l.Sums, l.Loss = t.EIL, t.Steps[0], p.Heads/midgeFactor
		return l, nil
	}
	for _, v := range []float64{p.Cost, p.Price} {
		if !(v > 0) || math.IsInf(v, 0) {
			return Level{}, fmt.Errorf("rule %s goes by cost and price: give --cost of control, with --per acre or hectare, and --price of a %s", l.Rule.Name, l.Rule.Yield)
		}
	}
	l.Loss, l.Treat = l.Band.Loss, p.Cost/(p.Price*l.Band.Loss)
	l.Sums = fmt.Sprintf("C/(V·%g) = %s/(%s·%g) = %s per %s", l.Loss, plain(p.Cost), plain(p.Price), l.Loss, figures(l.Treat), l.Rule.Unit)
	return l, nil
}
