package report

import (
	"slices"

	"github.com/geocoris/geocoris/internal/followup/compare"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/mapping/verdict"
	"github.com/geocoris/geocoris/internal/mapping/visit"
)

const (
	findOutWhy = "Find out why before spraying it again; the label limits repeats."
	countFirst = "Count it before spraying it again; the label limits repeats."
)

// nowIn is what to do now in a field: to count again where its map was good no longer when
// others were counted after it.
func nowIn(f *compare.Field, v verdict.Verdict, u figures.Units) Answer {
	last := u.Day(lastOf(f).Last)
	if f.CountAgain() {
		now := nowDo(verdict.Undecided, u.Say("Count again: the last count is of %s, and its map was good until %s.", last, u.Day(f.Next.GoodUntil)))
		now.Said = append(now.Said, u.Say("Other fields were counted on %s.", u.Day(f.Behind)))
		return now
	}
	now := answerNow(f, v, u)
	if f.Behind != "" {
		now.Said = append(now.Said, u.Say("The last count is of %s.", last))
	}
	return now
}

func nowDo(as verdict.Kind, says string) Answer {
	return Answer{Asked: "What to do now", Said: []string{says}, Now: as}
}

// answerNow is what the map says to do in a field that may have been sprayed: ground that was
// sprayed not long before is not called for again without asking why.
func answerNow(f *compare.Field, v verdict.Verdict, u figures.Units) Answer {
	now := nowDo(v.Kind, PlainAnswer(v, u))
	kind, red, rest := partsAgain(f, v)
	if !someGround(red) {
		return now
	}
	switch {
	case v.Kind == verdict.Undecided:
	case !someGround(rest):
		now.Now = verdict.LookAgain
		now.Said = []string{u.Say("Do not spray again yet; %s.", plainNext(v, "on", u))}
	case kind == verdict.SpotSpray:
		now.Said = []string{sentenced(u.Say("Spray the red ground that was not sprayed, %s, %s.", u.Area(rest), sprayBy(v, u)), orLookAgain(v, u), overWithASpot(v, u))}
	default:
		now.Said = []string{sentenced(u.Say("Spray the ground that was not sprayed, %s, %s.", u.Area(rest), sprayBy(v, u)), orLookAgain(v, u))}
	}
	now.Said = append(now.Said, sprayedBefore(f, kind, red, u)...)
	return now
}

// partsAgain is for what an answer names ground to spray, and how much of that was sprayed
// not long before, and was not, m².
func partsAgain(f *compare.Field, v verdict.Verdict) (kind verdict.Kind, red, rest float64) {
	if kind = v.Kind; kind == verdict.Undecided {
		kind = v.Instead
	}
	switch a := f.Again; {
	case a == nil:
	case kind == verdict.SpotSpray:
		red, rest = a.Red, a.Rest
	case kind == verdict.TreatWhole:
		red, rest = a.Treated, f.Area-a.Treated
	}
	return kind, red, rest
}

// A LastVisit is that to a field: its day, the day of its last stops, and the files its counts
// came in, each once. GoodFor is [CompareScreen.goodFor].
type LastVisit struct {
	Date, Last string
	Files      []string
	GoodFor    int
}

// SprayTheRest is the last visit to the first field whose answer is to spray what was not sprayed
// of the ground that the map of that visit names; ok is false where there is none.
func (s CompareScreen) SprayTheRest() (last LastVisit, ok bool) {
	for _, f := range s.Result.Fields {
		v, judged := verdict.On(s.Now, f.Name)
		if !judged || f.CountAgain() || ToneOf(v.Kind) != Spray {
			continue
		}
		if _, red, rest := partsAgain(f, v); someGround(red) && someGround(rest) {
			return s.lastVisit(f), true
		}
	}
	return LastVisit{}, false
}

// SpraySooner is the last visit to the first field that is to be sprayed sooner than its map says, as
// none of the ground was sprayed; ok is false where there is none.
func (s CompareScreen) SpraySooner() (last LastVisit, ok bool) {
	for _, f := range s.Result.Fields {
		v, judged := verdict.On(s.Now, f.Name)
		if !judged || f.CountAgain() || ToneOf(v.Kind) != Spray || goodFor(f) == 0 {
			continue
		}
		if _, red, _ := partsAgain(f, v); !someGround(red) {
			return s.lastVisit(f), true
		}
	}
	return LastVisit{}, false
}

// goodFor is for how many days after the first count of the last visit a job may be sprayed where the
// visits say a day sooner than the map, which the hand-off goes by; 0 where they do not.
func goodFor(f *compare.Field) int {
	if f.Next.GoBackBy == "" || f.Next.MapLook <= f.Next.GoBackBy {
		return 0
	}
	first := lastOf(f).Date
	if days := lastOf(f).Assess.Days(); len(days) > 0 {
		first = days[0]
	}
	if days := visit.Between(first, f.Next.GoBackBy); days >= 1 { // not NaN
		return int(days)
	}
	return 0
}

// goodFor is that of the fields to spray, the least of them, as one hand-off takes one; 0 for none.
func (s CompareScreen) goodFor() (least int) {
	for _, f := range s.Result.Fields {
		v, judged := verdict.On(s.Now, f.Name)
		if n := goodFor(f); judged && ToneOf(v.Kind) == Spray && n > 0 && (least == 0 || n < least) {
			least = n
		}
	}
	return least
}

func (s CompareScreen) lastVisit(f *compare.Field) LastVisit {
	v := lastOf(f)
	last := LastVisit{Date: v.Date, Last: v.Last, GoodFor: s.goodFor()}
	for _, stop := range v.Assess.Stops {
		for _, r := range stop.Records {
			if !slices.Contains(last.Files, r.File) {
				last.Files = append(last.Files, r.File)
			}
		}
	}
	return last
}

// sprayedBefore tells of ground to spray that was sprayed, and what comes before spraying
// it again.
func sprayedBefore(f *compare.Field, kind verdict.Kind, ground float64, u figures.Units) []string {
	a := f.Again
	days := make([]string, len(a.Dates))
	for i, d := range a.Dates {
		days[i] = dayIn(f, d, u)
	}
	first := u.Text(countFirst)
	if a.Counted {
		first = u.Text(findOutWhy)
	}
	if kind == verdict.SpotSpray {
		return []string{u.Say("Of the red ground %s was sprayed on %s.", u.Area(ground), joinedIn(u, days)), first}
	}
	return []string{u.Say("Of the field %s was sprayed on %s.", u.Area(ground), joinedIn(u, days)), first}
}

// someGround reports whether an area in m² is seen in figures.
func someGround(area float64) bool { return figures.Shown(figures.Hectares(area)) > 0 }
