package jobsheet

import (
	"regexp"
	"slices"
	"strings"
	"sync"
	"time"

	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/language/vocabulary"
	kinds "github.com/geocoris/geocoris/internal/mapping/verdict"
	"github.com/geocoris/geocoris/internal/output/report"
	"github.com/geocoris/geocoris/internal/spraying/handoff"
)

// mapSays is what the map advised, a clause, with the day of the next look; of zones that
// were edited what it advised before that, which may be "". That day is the last to spray on
// as well, see [handoff.Job.SprayBy], so it is said as what holds where nothing was sprayed.
func mapSays(a handoff.Advice, u figures.Units) string {
	if a.Edited() {
		a.Verdict, a.Heading = a.Before, a.Before
	}
	says, dated := "", ""
	day := u.Day(a.LookAgain)
	switch a.Verdict {
	case kinds.SpotSpray.String():
		says = u.Text("spray the red ground")
		dated = u.Say("%s; look again on %s if it has not been sprayed by then", says, day)
	case kinds.TreatWhole.String():
		says = u.Text("spray the whole field")
		dated = u.Say("%s; look again on %s if it has not been sprayed by then", says, day)
	case kinds.LookAgain.String():
		says = u.Text("do not spray yet")
		dated = u.Say("%s; look again on %s", says, day)
	case kinds.NoSpray.String():
		says = u.Text("do not spray")
		dated = u.Say("%s; look again on %s", says, day)
	case kinds.Undecided.String():
		says = u.Text("not decided yet") + toFindOut(a.Heading, u)
		dated = u.Say("%s. Look again by %s", says, day)
	default:
		return longDays(a.Heading, u)
	}
	if a.LookAgain == "" {
		return says
	}
	if a.Verdict == kinds.SpotSpray.String() || a.Verdict == kinds.TreatWhole.String() {
		dated += ". " + strings.TrimSuffix(u.Text(report.AfterSpray), ".")
	}
	return dated
}

// toFindOut is what the heading of an undecided field tells to do first, behind a colon.
func toFindOut(heading string, u figures.Units) string {
	text, cut := strings.CutPrefix(heading, kinds.Undecided.String()+": ")
	if !cut {
		return ""
	}
	for _, listed := range []string{" rows could not be read", " stops have the place of another"} { // where many are named the map says which
		if before, _, many := strings.Cut(text, listed+": "); many {
			text = before + listed
		}
	}
	for _, rest := range []string{" (", "; else ", "; look again"} {
		text, _, _ = strings.Cut(text, rest)
	}
	if u.Language() == vocabulary.English {
		return ": " + text
	}
	return findOutIn(text, u)
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
		lines = append(lines, i.Field+": "+plainIdle(i, s.Units))
	}
	return lines
}

// idleOnScreen are these with the flags that make a job all the same; fields of which the
// same is to be said stand in one line.
func (s Sheet) idleOnScreen() (lines []string) {
	fields, says := map[string][]string{}, []string(nil)
	for _, i := range s.Result.Idle {
		line := s.idleSays(i)
		if fields[line] == nil {
			says = append(says, line)
		}
		fields[line] = append(fields[line], i.Field)
	}
	for _, line := range says {
		lines = append(lines, strings.Join(fields[line], ", ")+": "+line)
	}
	return lines
}

func (s Sheet) idleSays(i handoff.Idle) string {
	line := plainIdle(i, s.Units)
	switch {
	case i.NoTreat() && i.Advice.Whole():
		line += " " + s.Units.Text("--whole-field plans it.")
	case i.Advice.Fallback() != kinds.None:
		line += " " + s.Units.Text("--fallback makes that job.")
	case !i.NoTreat() && i.Advice.Against():
		line += " " + s.Units.Text("--against-verdict makes one all the same.")
	}
	return line
}

func plainIdle(i handoff.Idle, u figures.Units) string {
	says := u.Say("The map says: %s.", mapSays(i.Advice, u))
	switch {
	case !i.Advice.Known() && i.NoTreat():
		return u.Text("no red ground.")
	case i.NoTreat() && i.Advice.Whole():
		return u.Text("no red ground.") + " " + says + " " + u.Text("It was planned with --red-only.")
	case i.NoTreat():
		return sentences(u.Text("no red ground.")+" "+says, otherwise(i.Advice, u))
	case i.Advice.Against():
		return sentences(u.Text("no job.")+" "+says, otherwise(i.Advice, u))
	}
	return report.Sentence(u.Text(i.Why.Error())) + "."
}

func sentences(all ...string) string {
	return strings.Join(slices.DeleteFunc(all, func(s string) bool { return s == "" }), " ")
}

// otherwise is what an undecided map says to do where that cannot be found out; "" for
// nothing but to look again.
func otherwise(a handoff.Advice, u figures.Units) string {
	if !a.Undecided() {
		return ""
	}
	_, other, _ := strings.Cut(a.Heading, "; else ")
	other, _, _ = strings.Cut(other, ";")
	if area, spot := strings.CutPrefix(other, kinds.SpotSpray.String()+" "); spot {
		return u.Say("If you cannot, spray the red ground, %s.", strings.TrimSuffix(area, ", the treat zone"))
	}
	if strings.HasPrefix(other, kinds.TreatWhole.String()) {
		return u.Text("If you cannot, spray the whole field.")
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
		line := i.Field + ": " + strings.TrimPrefix(plainIdle(i, figures.Both), "no job. ")
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
	case i.Advice.Fallback() != kinds.None:
		return "find that out first; only where you cannot, --fallback makes the job that the map names for that"
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
func longDay(iso string, u figures.Units) string {
	if _, err := time.Parse(time.DateOnly, iso); err != nil {
		return iso
	}
	return u.DayOfYear(iso)
}

var isoDay = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`\d{4}-\d\d-\d\d`) })

// longDays says all days of a text so; an interval by ISO 8601 is from one to the other.
func longDays(text string, u figures.Units) string {
	text = isoInterval().ReplaceAllString(text, u.Say("%s to %s", "$1", "$2"))
	return isoDay().ReplaceAllStringFunc(text, func(iso string) string { return longDay(iso, u) })
}

var isoInterval = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`(\d{4}-\d\d-\d\d)/(\d{4}-\d\d-\d\d)`) })
