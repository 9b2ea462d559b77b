package fieldwork

import (
	"encoding/json"
	"fmt"
	"math"
	"strings"

	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/mapping/rules"
	"github.com/geocoris/geocoris/internal/scouting/sampling"
)

// A Tally puts the answers of a sequential plan into words.
type Tally struct{ Plan sampling.Plan }

// Head names the plan by its parameters and source.
func (t Tally) Head() string {
	return fmt.Sprintf("%s\n  source: %s\n", t.parameters(), t.Plan.Source)
}

func (t Tally) parameters() string {
	name := t.Plan.Name
	if t.Plan.Pest != "" {
		name += ", " + t.Plan.Pest
	}
	switch r := t.Plan.Rule.(type) {
	case sampling.Wald:
		return fmt.Sprintf("plan %s: %s, under %s against over %s, chance of error %s and %s", name,
			t.distribution(r), t.value(r.Low), t.value(r.High), figures.Percent(orTenth(r.Alpha)), figures.Percent(orTenth(r.Beta)))
	case sampling.Green:
		return fmt.Sprintf("plan %s: counts per %s, variance %s·mean^%s, standard error %s of the mean", name,
			t.Plan.Unit, figures.Short(r.A), figures.Short(r.B), figures.Percent(orQuarter(r.D)))
	}
	return "plan " + name
}

func orTenth(v float64) float64 {
	if v == 0 {
		return 0.10
	}
	return v
}

func orQuarter(v float64) float64 {
	if v == 0 {
		return 0.25
	}
	return v
}

func (t Tally) distribution(w sampling.Wald) string {
	switch w.Distribution {
	case sampling.Binomial:
		return "share of " + t.units()
	case sampling.NegativeBinomial:
		return fmt.Sprintf("counts per %s, %s with k %s", t.Plan.Unit, w.Distribution, figures.Short(w.K))
	}
	return fmt.Sprintf("counts per %s, %s", t.Plan.Unit, w.Distribution)
}

// Share reports whether the plan counts units rather than insects.
func (t Tally) Share() bool {
	w, ok := t.Plan.Rule.(sampling.Wald)
	return ok && w.Distribution == sampling.Binomial
}

func (t Tally) value(v float64) string {
	if t.Share() {
		return figures.Percent(v)
	}
	return figures.Short(v)
}

// units names what is counted on, and from which count on a unit counts.
func (t Tally) units() string {
	plural := rules.Plural(t.Plan.Unit)
	switch {
	case !t.Share():
		return plural
	case t.Plan.AtOr == 1:
		return plural + " with any"
	case t.Plan.AtOr > 0:
		return fmt.Sprintf("%s with %s or more", plural, figures.Short(t.Plan.AtOr))
	}
	return plural + " that count"
}

// Line is the answer after a stop, on one line.
func (t Tally) Line(a sampling.Answer) string {
	if a.Stops == 0 {
		return "no stop counted\n"
	}
	var b strings.Builder
	if t.Share() {
		fmt.Fprintf(&b, "stop %d: %s of %s %s (%s)", a.Stops, figures.Trimmed(a.Total, 1), figures.Trimmed(a.Units, 1), t.units(), figures.Percent(a.Mean))
	} else {
		fmt.Fprintf(&b, "stop %d: %s on %s %s (%s per %s)", a.Stops, figures.Trimmed(a.Total, 1), figures.Trimmed(a.Units, 1), t.units(), figures.Short(a.Mean), t.Plan.Unit)
	}
	fmt.Fprintf(&b, ", %s%s: %s%s\n", t.lines(a), scatter(a), t.answer(a), worth(a))
	return b.String()
}

func (t Tally) lines(a sampling.Answer) string {
	upper := "over from " + figures.Trimmed(a.Upper, 1)
	if t.Plan.Rule.Above() == sampling.Enough {
		upper = "enough from " + figures.Trimmed(a.Upper, 1)
	}
	if a.Lower < 0 {
		return upper
	}
	return fmt.Sprintf("under up to %s, %s", figures.Trimmed(a.Lower, 1), upper)
}

// worth says how many more stops are worth their walk, where it was asked for.
func worth(a sampling.Answer) string {
	switch {
	case !a.Weighed:
		return ""
	case a.More == 0:
		return "; more stops are not worth their walk"
	case a.More == 1:
		return "; about 1 more stop is worth its walk"
	}
	return fmt.Sprintf("; about %d more stops are worth their walk", a.More)
}

// scatter says when units of one stop count for less than they are.
func scatter(a sampling.Answer) string {
	if a.DesignEffect < 1.05 {
		return ""
	}
	if a.Total == 0 {
		return " (stops do not differ: each counts as one)"
	}
	return fmt.Sprintf(" (stops differ: %s count for one)", figures.Trimmed(a.DesignEffect, 1))
}

func (t Tally) answer(a sampling.Answer) string {
	switch a.Verdict {
	case sampling.Over:
		return "STOP, over the threshold" + t.err(a)
	case sampling.Under:
		return "STOP, under the threshold" + t.err(a)
	case sampling.Enough:
		return fmt.Sprintf("STOP, %s per %s is known well enough", figures.Short(a.Mean), t.Plan.Unit)
	case sampling.Undecided:
		if !a.Crossed {
			return fmt.Sprintf("STOP without an answer: %d stops are the most, and they have not crossed the field", a.Most)
		}
		return fmt.Sprintf("STOP without an answer: %d stops are the most; take it as near the threshold and look again in 3–4 days", a.Most)
	}
	switch {
	case a.Stops < a.Least:
		return fmt.Sprintf("go on, no answer before %d stops spread over the field", a.Least)
	case !a.Crossed && a.Planned > 0:
		return fmt.Sprintf("go on, no answer before all %d planned stops", a.Planned)
	case !a.Crossed:
		return fmt.Sprintf("go on, cross the field first: the stops speak for %s of it", figures.Percent(a.Spoken))
	}
	return "go on"
}

// err says how often a plan answers so by mistake.
func (t Tally) err(a sampling.Answer) string {
	w, ok := t.Plan.Rule.(sampling.Wald)
	if !ok {
		return ""
	}
	value, part, unit := w.Low, orTenth(w.Alpha), " per "+t.Plan.Unit
	if a.Verdict == sampling.Under {
		value, part = w.High, orTenth(w.Beta)
	}
	if t.Share() {
		unit = ""
	}
	return fmt.Sprintf(" (so the plan calls up to %s of fields at %s%s by mistake)", figures.Percent(part), t.value(value), unit)
}

// JSON is the answer for a machine, on one line.
func (t Tally) JSON(a sampling.Answer) (string, error) {
	var more *int
	if a.Weighed {
		more = &a.More
	}
	out := struct {
		Stop         int              `json:"stop"`
		Total        float64          `json:"total"`
		Units        float64          `json:"units"`
		Mean         float64          `json:"mean"`
		Lower        *float64         `json:"lower"`
		Upper        *float64         `json:"upper"`
		DesignEffect float64          `json:"design_effect"`
		WorthMore    *int             `json:"stops_worth_their_walk"`
		Crossed      bool             `json:"crossed"`
		SpokenFor    *float64         `json:"spoken_for"`
		Verdict      sampling.Verdict `json:"verdict"`
	}{a.Stops, a.Total, a.Units, a.Mean, finite(a.Lower), finite(a.Upper), a.DesignEffect, more, a.Crossed, finite(a.Spoken), a.Verdict}
	text, err := json.Marshal(out)
	return string(text) + "\n", err
}

func finite(v float64) *float64 {
	if math.IsInf(v, 0) || math.IsNaN(v) {
		return nil
	}
	return &v
}
