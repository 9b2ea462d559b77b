package jobsheet

import (
	"regexp"
	"strings"
	"time"

	"github.com/geocoris/geocoris/internal/language/figures"
	kinds "github.com/geocoris/geocoris/internal/mapping/verdict"
	"github.com/geocoris/geocoris/internal/output/report"
	"github.com/geocoris/geocoris/internal/spraying/handoff"
)

// mapSays is what the map advised, a clause, with the day of the next look; of zones that
// were edited what it advised before that, which may be "".
func mapSays(a handoff.Advice) string {
	if a.Edited() {
		a.Verdict, a.Heading = a.Before, a.Before
	}
	text, join := "", "; look again on "
	switch a.Verdict {
	case kinds.SpotSpray.String():
		text, join = "spray the red ground", " and look again on "
	case kinds.TreatWhole.String():
		text, join = "spray the whole field", " and look again on "
	case kinds.LookAgain.String():
		text = "do not spray yet"
	case kinds.NoSpray.String():
		text = "do not spray"
	case kinds.Undecided.String():
		text, join = "not decided yet"+toFindOut(a.Heading), "; look again by "
	default:
		return longDays(a.Heading)
	}
	if a.LookAgain != "" {
		text += join + figures.Day(a.LookAgain)
	}
	return text
}

// toFindOut is what the heading of an undecided field tells to do first, behind a colon.
func toFindOut(heading string) string {
	text, cut := strings.CutPrefix(heading, kinds.Undecided.String()+": ")
	if !cut {
		return ""
	}
	for _, rest := range []string{" (", "; else ", "; look again"} {
		text, _, _ = strings.Cut(text, rest)
	}
	return ": " + text
}

// eachUnit says a statistic of zones behind a level: a leaf for mean per leaf.
func eachUnit(statistic string) string {
	unit, mean := strings.CutPrefix(statistic, "mean per ")
	switch {
	case !mean:
		return statistic
	case strings.ContainsAny(unit[:min(1, len(unit))], "aeioAEIO"):
		return "an " + unit
	}
	return "a " + unit
}

// plainTrust is how far the map may be believed, as zones tell it, without figures.
func plainTrust(trust string) string {
	text, _, _ := strings.Cut(trust, ": skill")
	return strings.NewReplacer("the field's mean", "the average", "its zones alone", "its red ground alone").Replace(text)
}

// idleNames are the fields without a job, each with the reason.
func (s Sheet) idleNames() (lines []string) {
	for _, i := range s.Result.Idle {
		lines = append(lines, i.String())
	}
	return lines
}

// idleLines are the same in plain words.
func (s Sheet) idleLines() (lines []string) {
	for _, i := range s.Result.Idle {
		lines = append(lines, i.Field+": "+plainIdle(i))
	}
	return lines
}

// idleOnScreen are these with the flags that make a job all the same.
func (s Sheet) idleOnScreen() (lines []string) {
	for _, i := range s.Result.Idle {
		line := i.Field + ": " + plainIdle(i)
		switch {
		case i.NoTreat() && i.Advice.Whole():
			line += " --whole-field plans it."
		case !i.NoTreat() && i.Advice.Against():
			line += " --against-verdict makes one all the same."
		}
		lines = append(lines, line)
	}
	return lines
}

func plainIdle(i handoff.Idle) string {
	says := "The map says: " + mapSays(i.Advice) + "."
	switch {
	case !i.Advice.Known() && i.NoTreat():
		return "no red ground."
	case i.NoTreat() && i.Advice.Whole():
		return "no red ground. " + says + " It was planned with --red-only."
	case i.NoTreat():
		return sentences("no red ground. "+says, otherwise(i.Advice))
	case i.Advice.Against():
		return sentences("no job. "+says, otherwise(i.Advice))
	}
	return report.Sentence(i.Why.Error()) + "."
}

func sentences(first, then string) string { return strings.TrimSpace(first + " " + then) }

// otherwise is what an undecided map says to do where that cannot be found out; "" for
// nothing but to look again.
func otherwise(a handoff.Advice) string {
	if !a.Undecided() {
		return ""
	}
	_, other, _ := strings.Cut(a.Heading, "; else ")
	other, _, _ = strings.Cut(other, ";")
	if area, spot := strings.CutPrefix(other, kinds.SpotSpray.String()+" "); spot {
		return "If you cannot, spray the red ground, " + strings.TrimSuffix(area, ", the treat zone") + "."
	}
	if strings.HasPrefix(other, kinds.TreatWhole.String()) {
		return "If you cannot, spray the whole field."
	}
	return ""
}

// NoJob says of fields none of which has a job why that is, what is undecided first: that
// is no all clear. The hint is how there is one all the same; "" where there is nothing to
// spray.
func NoJob(idle []handoff.Idle) (says, hint string) {
	says = "nothing to spray"
	var first, then []string
	for _, i := range idle {
		line := i.Field + ": " + strings.TrimPrefix(plainIdle(i), "no job. ")
		if i.Advice.Undecided() {
			says, first = "no job", append(first, line)
		} else {
			then = append(then, line)
		}
		if hint == "" {
			hint = allTheSame(i)
		}
	}
	return says + ": " + strings.TrimSuffix(strings.Join(append(first, then...), " "), "."), hint
}

func allTheSame(i handoff.Idle) string {
	switch {
	case i.NoTreat() && i.Advice.Whole():
		return "--whole-field plans all of it"
	case i.NoTreat() && i.Advice.Undecided():
		return "find that out first; only where you cannot, --against-verdict --whole-field plans all of it"
	case !i.NoTreat() && i.Advice.Undecided():
		return "find that out first; only where you cannot, --against-verdict makes the job"
	case !i.NoTreat() && i.Advice.Against():
		return "--against-verdict makes a job all the same"
	}
	return ""
}

// longDay is a day given by ISO 8601 as people say it, with its year: a sheet is kept.
func longDay(iso string) string {
	if _, err := time.Parse(time.DateOnly, iso); err != nil {
		return iso
	}
	return figures.Day(iso) + " " + iso[:4]
}

var isoDay = regexp.MustCompile(`\d{4}-\d\d-\d\d`)

// longDays says all days of a text so; an interval by ISO 8601 is from one to the other.
func longDays(text string) string {
	return isoDay.ReplaceAllStringFunc(isoInterval.ReplaceAllString(text, "$1 to $2"), longDay)
}

var isoInterval = regexp.MustCompile(`(\d{4}-\d\d-\d\d)/(\d{4}-\d\d-\d\d)`)
