package rules

import (
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
}

// Source is where the level comes from, in one line: what it is, whose, and which
// end of a range was taken.
func (l Level) Source() string {
	s := l.Rule.Cited() + ": " + l.Rule.StatedAs(l.Band)
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
func (r Rule) At(stage string) (Level, error) {
	if strings.TrimSpace(stage) == "" {
		return r.only()
	}
	for _, b := range r.Bands {
		if !b.Holds(stage) {
			continue
		}
		l := Level{Rule: r, Band: b, Treat: b.Value}
		if len(b.Stages) > 0 {
			l.Stage = StageBand(stage)
		}
		if b.Value == 0 {
			return Level{}, &NoNumber{Rule: r, Stage: StageBand(stage), Advice: b.Advice}
		}
		return l, nil
	}
	return Level{}, fmt.Errorf("rule %s says nothing at stage %q; its stages are %s", r.Name, stage, strings.Join(r.stages(), ", "))
}

// only is the level of a rule that says the same wherever it gives a number.
func (r Rule) only() (Level, error) {
	var at *Band
	for i, b := range r.Bands {
		switch {
		case b.Value == 0 && len(r.Bands) == 1:
			return Level{}, &NoNumber{Rule: r, Stage: strings.Join(b.Stages, ", "), Advice: b.Advice}
		case b.Value == 0:
		case at != nil && (at.Value != b.Value || at.To != b.To || at.Tally != b.Tally || at.Sign != b.Sign):
			return Level{}, fmt.Errorf("rule %s goes by growth stage: give --stage, one of %s", r.Name, strings.Join(r.stages(), ", "))
		default:
			at = &r.Bands[i]
		}
	}
	if at == nil {
		return Level{}, errors.New("rule " + r.Name + " gives no number at any stage")
	}
	return Level{Rule: r, Band: *at, Treat: at.Value}, nil
}

func (r Rule) stages() (out []string) {
	for _, b := range r.Bands {
		out = append(out, b.Stages...)
	}
	return out
}
