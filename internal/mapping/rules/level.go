package rules

import (
	"cmp"
	"errors"
	"fmt"
	"strings"
)

// A Level is what a rule says at one stage, ready to map by.
type Level struct {
	Rule  Rule
	Band  Band
	Stage string  // the band's, "" where the rule says the same at every stage
	Treat float64 // per unit for a mean, % for a share; the lower end of a range
	Loss  float64 // yield lost on an acre for each pest per unit, where Treat was computed from it; else 0
	Sums  string  // how Treat was computed; "" where it is fixed
}

// Source is where the level comes from, in one line: what it is, whose, and which
// end of a range was taken.
func (l Level) Source() string {
	s := l.Rule.Cited() + ": " + cmp.Or(l.Sums, l.Rule.StatedAs(l.Band))
	if l.Stage != "" {
		s += " at " + l.Stage
	}
	if l.Band.To > 0 {
		s += ", the lower end taken"
	}
	return s + " (rule " + l.Rule.Name + ")"
}

// NoNumber is a rule that gives no number at a stage.
type NoNumber struct {
	Rule   Rule
	Stage  string
	Advice string
}

func (e *NoNumber) Error() string {
	return fmt.Sprintf("rule %s gives no number at %s: %s", e.Rule.Name, e.Stage, e.Advice)
}

// At is the rule's level at a growth stage (see [StageBand]). Without a stage the
// rule must say the same at all of its stages.
func (r Rule) At(stage string) (Level, error) { return r.AtPrices(stage, Prices{}) }

// AtPrices is At where levels go by cost and price as well.
func (r Rule) AtPrices(stage string, p Prices) (Level, error) {
	band, at, err := r.band(stage)
	if err != nil {
		return Level{}, err
	}
	l := Level{Rule: r, Band: band, Stage: at, Treat: band.Value}
	if band.Value > 0 {
		return l, nil
	}
	if band.Loss == 0 && (r.Formula != midgeFormula || p.Heads == 0) {
		return Level{}, &NoNumber{Rule: r, Stage: cmp.Or(at, strings.Join(band.Stages, ", ")), Advice: band.Advice}
	}
	return l.priced(p)
}

// band is the one at a stage, with the stage that it is of: "" where it is of all.
func (r Rule) band(stage string) (b Band, at string, err error) {
	if strings.TrimSpace(stage) == "" {
		b, err = r.only()
		return b, "", err
	}
	for _, b := range r.Bands {
		switch {
		case !b.Holds(stage):
		case len(b.Stages) > 0:
			return b, StageBand(stage), nil
		default:
			return b, "", nil
		}
	}
	return b, "", fmt.Errorf("rule %s says nothing at stage %q; its stages are %s", r.Name, stage, strings.Join(r.stages(), ", "))
}

// Same reports whether two bands give the same level, whatever their stages.
func (b Band) Same(o Band) bool {
	return b.Value == o.Value && b.To == o.To && b.Loss == o.Loss && b.Tally == o.Tally && b.Sign == o.Sign
}

// only is the band of a rule that says the same wherever it gives a number.
func (r Rule) only() (Band, error) {
	var at *Band
	for i, b := range r.Bands {
		switch {
		case len(r.Bands) == 1:
			return b, nil
		case b.Value == 0 && b.Loss == 0:
		case at != nil && !at.Same(b):
			return Band{}, fmt.Errorf("rule %s goes by growth stage: give --stage, one of %s", r.Name, strings.Join(r.stages(), ", "))
		default:
			at = &r.Bands[i]
		}
	}
	if at == nil {
		return Band{}, errors.New("rule " + r.Name + " gives no number at any stage")
	}
	return *at, nil
}

func (r Rule) stages() (out []string) {
	for _, b := range r.Bands {
		out = append(out, b.Stages...)
	}
	return out
}
