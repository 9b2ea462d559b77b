package fieldwork

import (
	"encoding/json"
	"fmt"
	"math"
	"strconv"
	"strings"

	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/language/vocabulary"
	"github.com/geocoris/geocoris/internal/scouting/sampling"
)

// A Tally puts the answers of a sequential plan into words.
type Tally struct {
	Plan sampling.Plan
	Said figures.Units // the language of the words
}

// unit is what its values are for; how many were looked at is said in its things.
func (t Tally) unit() vocabulary.Unit { return vocabulary.UnitOf(t.Plan.Unit) }

// plural are several of what is looked at.
func (t Tally) plural() string { return t.Said.Language().Things(2, t.unit().Thing) }

// things is how many were looked at, of units.
func (t Tally) things(units float64) string {
	return figures.Trimmed(units*float64(t.unit().Size), 1)
}

// Head says what the plan asks for, where it may be wrong, and its source.
func (t Tally) Head() string {
	return t.Said.Say("%s\n  %s\n  source: %s\n", t.title(), t.errors(), t.Said.Text(t.Plan.Source))
}

// title is the plan's name and what is counted.
func (t Tally) title() string {
	name := t.Said.Text(t.Plan.Name)
	if t.Plan.Pest != "" {
		name += ", " + t.Said.Language().Pest(t.Plan.Pest)
	}
	if t.Share() {
		return t.Said.Say("plan %s: count %s", name, t.units())
	}
	if t.unit().Size > 1 {
		return t.Said.Say("plan %s: count insects in samples of %s", name, t.Said.Language().Things(1, t.Plan.Unit))
	}
	return t.Said.Say("plan %s: count insects on each %s", name, t.Said.Language().Things(1, t.Plan.Unit))
}

// errors says how often the plan is wrong and where.
func (t Tally) errors() string {
	switch r := t.Plan.Rule.(type) {
	case sampling.Wald:
		said := t.Said.Say("Where the truth is %s, it wrongly says over in %s of fields. Where it is %s, it wrongly says under in %s.",
			t.level(r.Low), figures.Percent(orTenth(r.Alpha)), t.level(r.High), figures.Percent(orTenth(r.Beta)))
		switch r.Distribution {
		case sampling.Binomial:
			return said
		case sampling.NegativeBinomial:
			return t.Said.Say("%s Counts are taken as %s with k %s.", said, t.Said.Text(fmt.Sprint(r.Distribution)), figures.Short(r.K))
		}
		return t.Said.Say("%s Counts are taken as %s.", said, t.Said.Text(fmt.Sprint(r.Distribution)))
	case sampling.Green:
		return t.Said.Say("It stops once the standard error is %s of the mean. The variance is taken as %s·mean^%s.",
			figures.Percent(orQuarter(r.D)), figures.Short(r.A), figures.Short(r.B))
	}
	return ""
}

// level is a value with what it is of.
func (t Tally) level(v float64) string {
	if t.Share() {
		return t.Said.Say("%s of %s", figures.Percent(v), t.plural())
	}
	return figures.Short(v) + " " + t.Said.Each(t.Plan.Unit)
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
	plural := t.plural()
	switch {
	case !t.Share():
		return plural
	case t.Plan.AtOr == 1:
		return t.Said.Say("%s with any insect", plural)
	case t.Plan.AtOr > 0:
		return t.Said.Say("%s with %s insects or more", plural, figures.Short(t.Plan.AtOr))
	}
	return t.Said.Say("%s that count", plural)
}

// Line is the answer after a stop, on one line. While more stops are wanted in any case
// it says no more than how many: no figure tells anything yet.
func (t Tally) Line(a sampling.Answer) string {
	if a.Stops == 0 {
		return t.Said.Text("no stop counted\n")
	}
	so := t.Said.Say("stop %d: %s so far", a.Stops, t.found(a))
	if more := wanted(a); more > 0 && a.Verdict == sampling.GoOn {
		return t.Said.Say("%s. Keep going: at least %s.\n", so, t.Said.Counted(more, "more stop"))
	}
	return fmt.Sprintf("%s (%s). %s%s%s\n", so, t.mean(a), t.scatter(a), t.answer(a), t.worth(a))
}

// wanted is how many more stops there must be before any answer; 0 or less for none.
func wanted(a sampling.Answer) int {
	least := a.Least
	if !a.Crossed {
		least = max(least, a.Planned)
	}
	return least - a.Stops
}

// weighed reports whether it is said how many more stops are worth their walk: where it
// was asked for, an answer may come with the next stop, and none has come.
func weighed(a sampling.Answer) bool {
	return a.Weighed && a.Verdict == sampling.GoOn && a.Crossed && wanted(a) <= 0
}

// worth says how many more stops are worth their walk.
func (t Tally) worth(a sampling.Answer) string {
	switch {
	case !weighed(a):
		return ""
	case a.More == 0:
		return t.Said.Text(" More stops are not worth their walk.")
	case a.More == 1:
		return t.Said.Text(" About 1 more stop is worth its walk.")
	}
	return t.Said.Say(" About %d more stops are worth their walk.", a.More)
}

func (t Tally) found(a sampling.Answer) string {
	total, units := figures.Trimmed(a.Total, 1), t.things(a.Units)
	switch {
	case t.Share() && t.Plan.AtOr > 0:
		return t.Said.Say("%s of %s %s have %s or more", total, units, t.plural(), figures.Short(t.Plan.AtOr))
	case t.Share():
		return t.Said.Say("%s of %s %s", total, units, t.plural())
	}
	return t.Said.Say("%s on %s %s", total, units, t.plural())
}

// Form says how a stop is typed for a plan on shares, where two numbers are not what they
// are elsewhere: insects on so many leaves. It is "" of other plans.
func (t Tally) Form() string {
	if !t.Share() {
		return ""
	}
	return t.Said.Say("type %s / %s looked at, such as 2/10\n", t.units(), t.plural())
}

// Asked asks about counts that a plan on shares may take for what they are not
// ([sampling.Unsure]): one number or two. A plan on samples of several things asks on how
// many of them each count is.
func (t Tally) Asked(cells []string) string {
	if !t.Share() {
		return t.Said.Say("%s on how many %s? Write %s/%d", cells[0], t.plural(), cells[0], t.unit().Size)
	}
	if len(cells) == 2 {
		return t.Said.Say("%s of %s %s, or insects on two %s? Write %s/%s, or how many of the two count, such as 0/2", cells[0], cells[1], t.plural(), t.plural(), cells[0], cells[1])
	}
	if v, err := strconv.ParseFloat(cells[0], 64); err == nil && v <= 10 {
		return t.Said.Say("%s of how many %s? Write %s/10", cells[0], t.plural(), cells[0])
	}
	return t.Said.Say("%s of how many %s? Write both, such as 4/10", cells[0], t.plural())
}

func (t Tally) mean(a sampling.Answer) string {
	if t.Share() {
		return figures.Percent(a.Mean)
	}
	return figures.Short(a.Mean) + " " + t.Said.Each(t.Plan.Unit)
}

// scatter says when units of one stop count for less than they are.
func (t Tally) scatter(a sampling.Answer) string {
	switch {
	case a.DesignEffect < 1.05:
		return ""
	case a.Total == 0:
		return t.Said.Text("Stops do not differ, so each counts as one. ")
	}
	return t.Said.Say("Stops differ, so %s %s count as one. ", figures.Trimmed(a.DesignEffect, 1), t.Said.Language().Things(2, t.Plan.Unit))
}

func (t Tally) answer(a sampling.Answer) string {
	switch a.Verdict {
	case sampling.Over:
		return t.Said.Text("STOP: over the threshold.") + t.mistake(a)
	case sampling.Under:
		return t.Said.Text("STOP: under the threshold.") + t.hotStops(a) + t.mistake(a)
	case sampling.Enough:
		return t.Said.Say("STOP: %s is known well enough.", t.mean(a))
	case sampling.Mappable:
		return t.Said.Text("STOP: enough for a map. Map these.")
	case sampling.Undecided:
		if !a.Crossed {
			return t.Said.Say("STOP: no answer. %d stops are the most, and they have not crossed the field.", a.Most)
		}
		return t.Said.Say("STOP: no answer after %d stops, which are the most. Take it as near the threshold and look again in 3–4 days.", a.Most) + t.hotStops(a)
	}
	if !a.Crossed {
		return t.Said.Say("Keep going: cross the field first. So far the stops speak for %s of it.", figures.Percent(a.Spoken))
	}
	return t.Said.Say("Keep going%s.", t.lines(a))
}

// hotStops sends nobody home from stops that are over the threshold, though the mean is
// under it: hot spots are found by a map.
func (t Tally) hotStops(a sampling.Answer) string {
	switch a.Over {
	case 0:
		return ""
	case 1:
		return " " + t.Said.Text("But 1 stop is over it: map your stops before you leave.")
	}
	return " " + t.Said.Say("But %d stops are over it: map your stops before you leave.", a.Over)
}

// mistake says how often a plan answers so where it should not.
func (t Tally) mistake(a sampling.Answer) string {
	w, ok := t.Plan.Rule.(sampling.Wald)
	if !ok {
		return ""
	}
	value, part := w.Low, orTenth(w.Alpha)
	if a.Verdict == sampling.Under {
		value, part = w.High, orTenth(w.Beta)
	}
	return t.Said.Say(" Where the truth is %s, the plan wrongly says so in up to %s of fields.", t.level(value), figures.Percent(part))
}

// lines are the totals that would have ended it here.
func (t Tally) lines(a sampling.Answer) string {
	var ends []string
	if a.Lower >= 0 {
		ends = append(ends, t.Said.Say("%s or fewer would be under", figures.Trimmed(math.Floor(a.Lower), 0)))
	}
	if upper := math.Ceil(a.Upper); !t.Share() || upper <= a.Units {
		ends = append(ends, t.Said.Say("%s or more would be %s", figures.Trimmed(upper, 0), t.Said.Text(fmt.Sprint(t.Plan.Rule.Above()))))
	}
	if len(ends) == 0 {
		return ""
	}
	return ": " + strings.Join(ends, ", ")
}

// JSON is the answer for a machine, on one line.
func (t Tally) JSON(a sampling.Answer) (string, error) {
	var more *int
	if weighed(a) {
		more = &a.More
	}
	var over *int
	if a.Over > 0 {
		over = &a.Over
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
		Over         *int             `json:"stops_over,omitempty"`
		Verdict      sampling.Verdict `json:"verdict"`
	}{a.Stops, a.Total, a.Units, a.Mean, finite(a.Lower), finite(a.Upper), a.DesignEffect, more, a.Crossed, finite(a.Spoken), over, a.Verdict}
	text, err := json.Marshal(out)
	return string(text) + "\n", err
}

func finite(v float64) *float64 {
	if math.IsInf(v, 0) || math.IsNaN(v) {
		return nil
	}
	return &v
}
