package handoff

import (
	"fmt"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/mapping/verdict"
)

// Advice is what the map said of a field. The zero value is a map that said nothing:
// zones of an older map, or edited by hand.
type Advice struct {
	Verdict   string `json:"verdict"`            // one word or few, as the zones have it
	Heading   string `json:"advice"`             // the verdict with its ground and days
	LookAgain string `json:"look_again"`         // day of the next look, YYYY-MM-DD; "" where not given
	NotRead   string `json:"not_read,omitempty"` // what could not be read, such as the count of a stop; "" for nothing
	// Before is the verdict of the map on zones that a person edited since, "" on others
	// and where nothing tells.
	Before string `json:"verdict_before,omitempty"`
	// Instead is what to do where the stops of an undecided field cannot be walked today.
	Instead  string `json:"if_not_today,omitempty"`
	WholeDue bool   `json:"whole_due,omitempty"` // by the rule the whole field is due, though the map says less
}

// is reports a verdict of the map. Under spot spray and treat whole a job is made without
// being asked for twice; all others that are known are advice not to spray now.
func (a Advice) is(k verdict.Kind) bool {
	if a.Edited() {
		return a.Before == k.String()
	}
	return a.Verdict == k.String()
}

// Edited tells whether a person edited the zones.
func (a Advice) Edited() bool { return a.Verdict == ByHand }

// said is the heading; of edited zones what the map said before besides.
func (a Advice) said() string {
	if a.Edited() && a.Before != "" {
		return a.Heading + ", before that " + a.Before
	}
	return a.Heading
}

func adviceOf(p geo.Properties) Advice {
	a := Advice{Verdict: word(p, "verdict"), Heading: word(p, "advice"), LookAgain: word(p, "look_again"), NotRead: word(p, "not_read")}
	if a.Instead = word(p, "if_not_today"); a.Instead == "" {
		a.Instead = word(p, "if_not_tod") // of ten letters, as in a Shapefile
	}
	due := word(p, "whole_due")
	a.WholeDue = due == "true" || due == "1" // as programs write it that know no truth values
	if a.Heading == "" {
		a.Heading = a.Verdict
	}
	return a
}

// Known tells whether the zones carry a verdict.
func (a Advice) Known() bool { return a.Verdict != "" }

// Whole tells whether the whole field was to be treated.
func (a Advice) Whole() bool { return a.is(verdict.TreatWhole) }

// Against tells whether the map advised otherwise than to spray now.
func (a Advice) Against() bool {
	return a.Known() && (!a.Edited() || a.Before != "") && !a.Whole() && !a.is(verdict.SpotSpray)
}

// Undecided tells whether more had to be found out before anything could be said.
func (a Advice) Undecided() bool { return a.is(verdict.Undecided) }

// Fallback is the job that an undecided map names for where its stops cannot be walked;
// None where it names none.
func (a Advice) Fallback() verdict.Kind {
	for _, k := range []verdict.Kind{verdict.SpotSpray, verdict.TreatWhole} {
		if a.Undecided() && a.Instead == k.String() {
			return k
		}
	}
	return verdict.None
}

// noTreat says why a field without treat zone has no job: no such ground is an all clear
// only where the map said so.
func (a Advice) noTreat() error {
	switch {
	case a.Whole():
		return errWholeOnly
	case a.Fallback() == verdict.TreatWhole:
		return fmt.Errorf("%s (%w yet; where the stops asked for cannot be walked today, --fallback plans all of it)", a.said(), errNoTreat)
	case a.Undecided():
		return fmt.Errorf("%s (%w yet; --against-verdict --whole-field plans all of it)", a.said(), errNoTreat)
	case a.Known() && !a.is(verdict.NoSpray):
		return fmt.Errorf("%w, and the map's verdict is %q", errNoTreat, a.said())
	}
	return errNoTreat
}

// An AdvisedError is a job that the map advised against.
type AdvisedError struct{ Advice Advice }

func (e *AdvisedError) Error() string {
	if e.Advice.Fallback() != verdict.None {
		return fmt.Sprintf("the map's verdict is %q: where the stops asked for cannot be walked today, --fallback makes the job that it names for that", e.Advice.said())
	}
	return fmt.Sprintf("the map's verdict is %q: no job is made against it without --against-verdict", e.Advice.said())
}
