package report

import (
	"fmt"
	"strings"

	"github.com/geocoris/geocoris/internal/followup/compare"
)

// UnlikeText says in what two visits of a step are not alike, and what that does.
func UnlikeText(f *compare.Field, s *compare.Step, u compare.Unlike) string {
	a, b := f.Visits[s.From], f.Visits[s.To]
	const moves = "ground can change its zone without a change of counts"
	told := func(what, why string) string {
		return fmt.Sprintf("%s: %s on %s, %s on %s; %s", what, orNot(u.Before), a.Date, orNot(u.After), b.Date, why)
	}
	switch u.In {
	case compare.Observers:
		return told("observers", "each eye has a bias of its own, and no calibration corrects "+observerNames(u.Uncalibrated))
	case compare.LeafRules:
		return told("leaf rule", "leaves of other places bear other numbers")
	case compare.Stages:
		return told("growth stage", "levels and the place of the pest on the plant change with it")
	case compare.LevelPairs:
		x, y := a.Levels, b.Levels
		return fmt.Sprintf("levels: treat at %g and watch at %.3g on %s, %g and %.3g on %s; zones are cut at other values, so %s",
			x.TreatAt, x.WatchAt, a.Date, y.TreatAt, y.WatchAt, b.Date, moves)
	case compare.CutKinds:
		return "zones: of one visit by chance, of the other by counts; " + moves
	case compare.CutValues:
		return fmt.Sprintf("treat zones: cut at %.3g on %s, at %.3g on %s, to catch the ground over %g; %s", u.BeforeN, a.Date, u.AfterN, b.Date, b.Levels.TreatAt, moves)
	case compare.Effort:
		return fmt.Sprintf("effort: %g a stop on %s, %g on %s; the fewer, the noisier", u.BeforeN, a.Date, u.AfterN, b.Date)
	}
	return fmt.Sprintf("stops: %g on %s, %g on %s; zones of few stops are coarser", u.BeforeN, a.Date, u.AfterN, b.Date)
}

// UnlikeTexts are all of a step.
func UnlikeTexts(f *compare.Field, s *compare.Step) []string {
	lines := []string{}
	for _, u := range s.Unlike {
		lines = append(lines, UnlikeText(f, s, u))
	}
	return lines
}

func observerNames(names []string) string {
	out := make([]string, len(names))
	for i, name := range names {
		if out[i] = name; name == "" {
			out[i] = "rows without an observer"
		}
	}
	return strings.Join(out, ", ")
}

func orNot(text string) string {
	if text == "" {
		return "not told"
	}
	return text
}

// NoteText says a remark on a field.
func NoteText(n compare.Note) string {
	switch n.On {
	case compare.SeveralDays:
		return fmt.Sprintf("the visit of %s has stops of other days; it counts for the day of most stops", n.Date)
	case compare.TreatedFor:
		return fmt.Sprintf("ground counts as treated for %g days after the day of its treatment: %s", n.Days, trial)
	case compare.NoCountAfter:
		return fmt.Sprintf("treatment of %s: no count there came after it, so days and forecast know nothing of it", n.Treatment.Named())
	case compare.ExtraStops:
		return "visit of " + n.Date + ": " + ExtraStopsText(n.N)
	case compare.StandTogether:
		return "visit of " + n.Date + ": " + TogetherText(n.Stop, *n.Together)
	case compare.NoForecast:
		return "no growth is known, so there is no forecast"
	case compare.FarForecast:
		return fmt.Sprintf("the forecast looks %s ahead, more than %d: growth seldom lasts so long", days(n.Days), n.Of)
	case compare.CutsDiffer:
		return fmt.Sprintf("the zones of %s go by chance, those of the forecast by the counts at the levels: do not set their areas against each other", n.Date)
	case compare.ForecastUnsure:
		return "the forecast rests on a growth that does not stand out from the noise"
	case compare.OutsideElsewhere:
		return fmt.Sprintf("treatment of %s: %d of the stops outside lie in ground treated otherwise between the visits, and are no check", n.Treatment.Named(), n.N)
	}
	return fmt.Sprintf("treatment of %s: %d of %d stops inside lie in ground treated otherwise too between the visits; what is told of it is of all together", n.Treatment.Named(), n.N, n.Of)
}

// NoteTexts are the remarks on a field.
func NoteTexts(f *compare.Field) []string {
	lines := []string{}
	for _, n := range f.Notes {
		lines = append(lines, NoteText(n))
	}
	return lines
}

// CompareNotes are those on fields left out of a comparison, and those of whoever ran it.
func CompareNotes(r *compare.Result) []string {
	lines := []string{}
	for _, l := range r.LeftOut {
		lines = append(lines, fmt.Sprintf("field %q was scouted %s: nothing to compare", l.Field, times(l.Visits)))
	}
	return append(lines, r.Notes...)
}

func times(n int) string {
	if n == 0 {
		return "at no visit"
	}
	return "at one visit only"
}
