package cli

import (
	"errors"
	"fmt"
	"math"

	"github.com/geocoris/geocoris/internal/mapping/rules"
	"github.com/geocoris/geocoris/internal/scouting/sampling"
)

// byRule is a plan with its values to either side of a rule's threshold. Rules
// give none of their own, so how far to either side is said to be a choice.
func (o tallyOptions) byRule() (sampling.Plan, error) {
	var p sampling.Plan
	book, err := rules.Published()
	if err != nil {
		return p, err
	}
	rule, err := book.Named(o.Rule)
	if err != nil {
		return p, err
	}
	level, err := rule.At(o.Stage)
	if err != nil {
		return p, err
	}
	if !(o.Around > 0 && o.Around < 1) {
		return p, fmt.Errorf("--around %v: want a part of the threshold, such as 0.33", o.Around)
	}
	p = sampling.Plan{
		Name: rule.Name, Pest: rule.Pest, Unit: rule.Unit, AtOr: level.Band.Tally,
		Source: fmt.Sprintf("%s; %.0f %% to either side and error rates are a choice, no source", level.Source(), 100*o.Around),
	}
	wald := sampling.Wald{Alpha: o.Alpha, Beta: o.Beta, K: o.K}
	value := level.Treat
	switch {
	case rule.Statistic == rules.Share:
		value /= 100
	case o.Counts == "poisson":
		wald.Distribution = sampling.Poisson
	case o.K > 0:
		wald.Distribution = sampling.NegativeBinomial
	default:
		return p, errors.New("the rule is about a mean: give --k of the negative binomial, or --counts poisson")
	}
	wald.Low, wald.High = tidy(value*(1-o.Around)), tidy(value*(1+o.Around))
	p.Rule = wald
	return p, wald.Validate()
}

// tidy drops what rounding leaves behind the sixth figure.
func tidy(v float64) float64 {
	scale := math.Pow(10, 6-math.Ceil(math.Log10(v)))
	return math.Round(v*scale) / scale
}
