package report

import (
	"math"
	"slices"

	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/language/vocabulary"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/mapping/verdict"
	"github.com/geocoris/geocoris/internal/mapping/visit"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// lookOut is what may make an answer wrong, a sentence each.
func lookOut(r *assess.Result, f *assess.Field, v verdict.Verdict, u figures.Units) []string {
	return sentencesOf(slices.Concat([]string{takenAsOne(f, u)}, oddUnitsOf(r, f, v, u), []string{
		slipsOf(r, f, u), outOfPlaceOf(r, f, v, u), sharedPlaces(r, f, v, u), twiceOf(r, f, u), clashesOf(r, f, v, u), guessedDay(r, f, u), unplacedOf(r, f, v, u), notReadOf(v, u), undatedOf(v, u), fallenOf(f.Fallen(r.Of(f).Statistic, v.Treat), r.Of(f).Statistic, u), shutOf(v, r.Of(f).Statistic, u), awayOf(r, f, v, u), onEdgeOf(r, f, v, u), outsideOf(f, u), staleOf(f, v, u), alongALine(f, u), nobodyNear(f, v, u),
		spreadsFast(v, u)})...)
}

// Guesses are what nobody told and was taken so: places, and stops that the average goes
// without. A screen has them in its notes; a page, whose notes are folded, needs them too.
func Guesses(r *assess.Result, f *assess.Field, u figures.Units) []string {
	return sentencesOf(roughPlaces(r, f, u), togetherOf(f, u))
}

// takenAsOne tells that nothing says on how many leaves most stops were counted: a count on
// ten leaves is ten times too high then.
func takenAsOne(f *assess.Field, u figures.Units) string {
	n := 0
	for _, s := range f.Stops {
		if s.TakenAsOne() {
			n++
		}
	}
	if 2*n <= len(f.Stops) {
		return ""
	}
	of := vocabulary.UnitOf(f.Statistic.Unit)
	many := u.Language().Things(2, of.Thing)
	if of.Size > 1 {
		return u.Say("How many %s is each count of? Each was taken as %s. Add a column named %s.", many, u.Counted(of.Size, of.Thing), of.Column())
	}
	return u.Say("How many %s is each count of? Each was taken as one %s. Add a column named %s.", many, u.Language().Things(1, of.Thing), of.Column())
}

// slipsOf names columns with rows of the field that a spreadsheet may have filled or sorted.
func slipsOf(r *assess.Result, f *assess.Field, u figures.Units) (said string) {
	for _, p := range r.Survey.Slips {
		switch {
		case !slices.ContainsFunc(f.Stops, func(s assess.Stop) bool { return p.Of(s.Stop) }):
		case p.Ends < 0:
			said = sentenced(said, u.Say("The column %s in %s ends one row before the others: was a cell deleted, so that all below moved up?", p.Column, p.File))
		case p.Ends > 0:
			said = sentenced(said, u.Say("The column %s in %s goes one row beyond the others: was a cell put in, so that all below moved down?", p.Column, p.File))
		case p.Sorted:
			said = sentenced(said, u.Say("The counts in %s are in order from first to last: was that column sorted alone, or summed up?", p.File))
		default:
			said = sentenced(said, u.Say("The column %s in %s stays the same or goes in equal steps from line %d to %d: was it filled by dragging?", p.Column, p.File, p.From, p.To))
		}
	}
	return said
}

// twiceOf names the stops that are there twice with different counts.
func twiceOf(r *assess.Result, f *assess.Field, u figures.Units) string {
	var at []string
	stop := ""
	for _, t := range r.Survey.Twice {
		if slices.ContainsFunc(f.Stops, func(s assess.Stop) bool { return t.Of(s.Stop) }) {
			at, stop = append(at, u.Say("%s and %s", t.First, t.Then)), t.Stop
		}
	}
	switch len(at) {
	case 0:
		return ""
	case 1:
		return u.Say("Stop %s is there twice with different counts, which were both used%s.", stop, firstAt(at, u))
	}
	return u.Say("%s are there twice with different counts, which were both used%s.", u.Counted(len(at), "stop"), firstAt(at, u))
}

// notReadOf names the rows that were not read.
func notReadOf(v verdict.Verdict, u figures.Units) string {
	rows := unreadRows(v.Unread)
	if len(rows) == 0 {
		return ""
	}
	var at []string
	for _, row := range rows {
		at = append(at, row.Place())
	}
	return sentenced(u.Say("%s not read%s.", u.Counted(len(rows), "row"), firstAt(at, u)), largerBy(v, u))
}

func undatedOf(v verdict.Verdict, u figures.Units) string {
	if v.Undated == 0 {
		return ""
	}
	return u.Say("The day of %s could not be read. Write it like 2026-07-15.", u.Counted(v.Undated, "row"))
}

// guessedDay is a date of the field's files that can be two days, of which one was taken
// without anybody's word.
func guessedDay(r *assess.Result, f *assess.Field, u figures.Units) string {
	for _, d := range r.Survey.OpenDays {
		if d.Guessed == "" || !slices.ContainsFunc(f.Stops, func(s assess.Stop) bool { return s.Records[0].File == d.File }) {
			continue
		}
		other := d.DayFirst
		if other == d.Guessed {
			other = d.MonthFirst
		}
		return u.Say("The date %s was read as %s, but may be %s.", d.Text, u.Day(d.Guessed), u.Day(other))
	}
	return ""
}

// roughPlaces tells of a file of the field whose places were rounded.
func roughPlaces(r *assess.Result, f *assess.Field, u figures.Units) string {
	for _, rough := range r.Survey.Rough {
		if slices.ContainsFunc(f.Stops, func(s assess.Stop) bool { return s.Records[0].File == rough.File }) {
			return u.Say("The places of the stops were rounded: a stop may lie %s off.", u.Estimate(rough.Off))
		}
	}
	return ""
}

// togetherOf are stops that nobody marked and that the average goes without.
func togetherOf(f *assess.Field, u figures.Units) string {
	switch len(f.Together) {
	case 0:
		return ""
	case 1:
		t := f.Together[0]
		return u.Say("Not in the average: %s close to stop %s.", u.Counted(len(t.Others), "more stop"), f.Stops[t.At].Name)
	}
	n := 0
	for _, t := range f.Together {
		n += len(t.Others)
	}
	return u.Say("Not in the average: %s close to others, at %s.", u.Counted(n, "more stop"), u.Counted(len(f.Together), "place"))
}

// outsideOf are stops outside the boundary that were counted in.
func outsideOf(f *assess.Field, u figures.Units) string {
	var out []assess.Stop
	for _, s := range f.Stops {
		if s.Outside > 0 {
			out = append(out, s)
		}
	}
	switch {
	case len(out) == 1 && out[0].In != "":
		return u.Say("Stop %s lies in %s, not in the field, and was counted in.", out[0].Name, out[0].In)
	case len(out) == 1:
		return u.Say("Stop %s lies %s outside the field and was counted in.", out[0].Name, u.Estimate(out[0].Outside))
	case len(out) > 1:
		return u.Say("%s lie outside the field and were counted in.", u.Counted(len(out), "stop"))
	}
	return ""
}

// staleOf is of counts of several days, or so old that the map was no longer good.
func staleOf(f *assess.Field, v verdict.Verdict, u figures.Units) string {
	days := f.Days()
	switch {
	case v.Stale:
		return u.Text("The first counts were too old by the time of the last.")
	case len(days) > 1 && visit.Between(days[0], days[len(days)-1]) >= visit.Settled:
		return daysBefore(f, days[len(days)-1], u)
	case len(days) > 1:
		return u.Say("The counts are from %d days, %s to %s.", len(days), u.Day(days[0]), u.Day(days[len(days)-1]))
	}
	return ""
}

// daysBefore tells of the stops that were counted days before the last, and how many there may
// be by then: a walk that was finished late.
func daysBefore(f *assess.Field, last string, u figures.Units) string {
	n, most, over := 0, 0.0, []string{}
	for _, s := range f.Stops {
		days := visit.Between(s.Date, last)
		if !(days >= visit.Settled) {
			continue
		}
		n, most = n+1, max(most, days)
		if l := f.Levels; l.Doubling > 0 && !f.Statistic.Share() && s.Value < l.TreatAt && s.Value*math.Exp2(days/l.Doubling) >= l.TreatAt {
			over = append(over, s.Name)
		}
	}
	stops := u.Counted(n, "stop")
	if f.Levels.Doubling > 0 {
		text := u.Say("%s counted up to %s before the last: there may be %s times as many by then.", stops, u.Counted(int(most), "day"), u.Short(math.Round(10*math.Exp2(most/f.Levels.Doubling))/10))
		switch len(over) {
		case 0:
			return text
		case 1:
			return text + " " + u.Say("Stop %s would be at the spray level then.", over[0])
		}
		return text + " " + u.Say("%s would be at the spray level then: %s.", u.Counted(len(over), "stop"), survey.Listed(over))
	}
	return u.Say("%s counted up to %s before the last: there may be more by then.", stops, u.Counted(int(most), "day"))
}

func alongALine(f *assess.Field, u figures.Units) string {
	switch {
	case f.Layout.Stops == 0:
		return ""
	case f.Layout.Partial():
		return u.Say("The stops speak for %s only: walk the rest, or decide on that part.", u.Area(f.Layout.Area))
	case f.Layout.Uneven():
		return u.Text("The stops stand along a line or to one side.")
	}
	return ""
}

// tiny is a share of a field that is not worth a word on a short screen.
const tiny = 0.005

// nobodyNear is ground out of reach of the stops where the reason does not tell it.
func nobodyNear(f *assess.Field, v verdict.Verdict, u figures.Units) string {
	if f.Map == nil || f.Map.Unscouted <= tiny*f.Area || v.Line == "unscouted" || v.Line == "unscouted-much" {
		return ""
	}
	return u.Say("Nobody has been near %s.", u.Area(f.Map.Unscouted))
}

func spreadsFast(v verdict.Verdict, u figures.Units) string {
	if v.Kind != verdict.SpotSpray || !v.AllOver {
		return ""
	}
	return u.Text("The pest is nearly everywhere, and spot sprays often fail then: be sure to look again in time.")
}
