package fieldwork

import (
	"fmt"

	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/language/vocabulary"
	"github.com/geocoris/geocoris/internal/mapping/rules"
)

// RuleLevel is the level of a rule at the stages of a band, in words of the language: "40
// per leaf". What a rule advises in place of a number is said so too; a level by prices
// stays in English.
func RuleLevel(r rules.Rule, b rules.Band, u figures.Units) string {
	if u.Language() == vocabulary.English || b.Loss > 0 {
		return r.StatedAs(b)
	}
	if b.Value == 0 {
		return u.Text(b.Advice)
	}
	level := u.Short(b.Value)
	if b.To > 0 {
		level = fmt.Sprintf("%s–%s", level, u.Short(b.To))
	}
	unit := u.Language().Things(1, r.Unit)
	if r.Statistic == rules.Mean {
		return u.Say("%s per %s", level, unit)
	}
	return level + " " + levelShare(r, b, u)
}

// levelShare is what a rule on shares counts: "% of plants with the pest".
func levelShare(r rules.Rule, b rules.Band, u figures.Units) string {
	units := u.Language().Things(2, r.Unit)
	switch {
	case b.Sign != "":
		return u.Say("%% of %s with %s", units, u.Text(b.Sign))
	case b.Tally == 1:
		return u.Say("%% of %s with the pest", units)
	case r.Part != "":
		return u.Say("%% of %s with a %s at or above %g", units, u.Language().Things(1, r.Part), b.Tally)
	}
	return u.Say("%% of %s at or above %g", units, b.Tally)
}

// RuleCounting is how a rule is counted and who says so. In another language than English it
// is which leaves or plants, where that is told; how many goes by the figures of the needs.
// That nobody says how many is said in every language.
func RuleCounting(n rules.Needs, u figures.Units) string {
	s := n.Level.Rule.Sampling
	switch {
	case u.Language() == vocabulary.English:
		return n.How
	case s.Source == "":
		return "(" + u.Text("how many is our choice, no source") + ")"
	case s.Which == "":
		return "(" + s.Source + ")"
	}
	return u.Text(s.Which) + " (" + s.Source + ")"
}
