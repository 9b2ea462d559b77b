package report

import (
	"fmt"

	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/mapping/verdict"
)

// lookOut is what may make an answer wrong, a sentence each.
func lookOut(f *assess.Field, v verdict.Verdict, u figures.Units) []string {
	return sentencesOf(
		notReadOf(v), undatedOf(v), awayOf(v), outsideOf(f, u), staleOf(f, v), alongALine(f, u), nobodyNear(f, v, u),
		overWithASpot(v), spreadsFast(v))
}

// notReadOf names the rows that were not read.
func notReadOf(v verdict.Verdict) string {
	rows := unreadRows(v.Unread)
	if len(rows) == 0 {
		return ""
	}
	var at []string
	for _, u := range rows {
		at = append(at, fmt.Sprintf("%s:%d", u.File, u.Line))
	}
	text := figures.Counted(len(rows), "row") + " not read" + firstAt(at) + "."
	if v.Kind == verdict.SpotSpray {
		text += " That may make the red ground larger."
	}
	return text
}

func undatedOf(v verdict.Verdict) string {
	if v.Undated == 0 {
		return ""
	}
	return "The day of " + figures.Counted(v.Undated, "row") + " could not be read."
}

// awayOf are stops that lie in no field, of which one is at the watch level or above.
func awayOf(v verdict.Verdict) string {
	switch v.Away {
	case 0:
		return ""
	case 1:
		return "1 stop lies in no field; check where it belongs."
	}
	return fmt.Sprintf("%d stops lie in no field; check where they belong.", v.Away)
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
		return fmt.Sprintf("Stop %s lies in %s, not in the field, and was counted in.", out[0].Name, out[0].In)
	case len(out) == 1:
		return fmt.Sprintf("Stop %s lies %s outside the field and was counted in.", out[0].Name, u.Distance(out[0].Outside))
	case len(out) > 1:
		return figures.Counted(len(out), "stop") + " lie outside the field and were counted in."
	}
	return ""
}

// staleOf is of counts of several days, or so old that the map was no longer good.
func staleOf(f *assess.Field, v verdict.Verdict) string {
	days := f.Days()
	switch {
	case v.Stale:
		return "The first counts were too old by the time of the last."
	case len(days) > 1:
		return fmt.Sprintf("The counts are from %d days, %s to %s; map each week by itself.", len(days), figures.Day(days[0]), figures.Day(days[len(days)-1]))
	}
	return ""
}

func alongALine(f *assess.Field, u figures.Units) string {
	switch {
	case f.Layout.Stops == 0:
		return ""
	case f.Layout.Partial():
		return fmt.Sprintf("The stops speak for %s only: walk the rest, or decide on that part.", u.Area(f.Layout.Area))
	case f.Layout.Uneven():
		return "The stops stand along a line or to one side."
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
	return fmt.Sprintf("Nobody has been near %s.", u.Area(f.Map.Unscouted))
}

// overWithASpot is a spot spray where the rule's own mean asks for the whole field.
func overWithASpot(v verdict.Verdict) string {
	if v.Kind != verdict.SpotSpray || v.Stats.Mean < v.Treat {
		return ""
	}
	return "The average is at or over the spray level, so by the rule the whole field is due."
}

func spreadsFast(v verdict.Verdict) string {
	if v.Kind != verdict.SpotSpray || !v.AllOver {
		return ""
	}
	return "It is nearly everywhere, and spot sprays often fail then: come back on the day."
}
