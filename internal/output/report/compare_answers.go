package report

import (
	"slices"

	"github.com/geocoris/geocoris/internal/followup/change"
	"github.com/geocoris/geocoris/internal/followup/compare"
	"github.com/geocoris/geocoris/internal/geometry/zones"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/mapping/verdict"
)

// An Answer is one of what a grower asks at a further visit.
type Answer struct {
	Asked string       // in a few words: "What changed"
	Said  []string     // short sentences
	Next  bool         // when to go back
	Now   verdict.Kind // of the last visit, where this is what to do; else none
}

// Answers are what changed in a field, whether each treatment worked, when to go back,
// what is to be expected and what may make all of it wrong, on screen and page alike; the
// figures behind them are [StepVerdict], [CompareGroups] and tables. They begin with what
// to do now, as the map of the last visit says it but for a day to go back by that is
// sooner, where its verdict is among those given.
func Answers(r *compare.Result, f *compare.Field, u figures.Units, now ...verdict.Verdict) (all []Answer) {
	if v, judged := verdict.On(now, f.Name); judged {
		all = append(all, nowIn(f, lookBy(v, f), u))
	}
	last := f.Steps[len(f.Steps)-1]
	add := func(asked string, next bool, sentences ...string) {
		if said := sentencesOf(sentences...); said != nil {
			all = append(all, Answer{Asked: asked, Said: said, Next: next})
		}
	}
	add("What changed", false, changed(r, f, last, u)...)
	findOut := u.Text(findOutWhy)
	if all != nil && slices.Contains(all[0].Said, findOut) {
		findOut = "" // it is said once
	}
	standing, over := standsNow(f, r.Statistic, u)
	for i, t := range f.Treatments {
		still, there, why := stillOver(f, t, r.Statistic, u), "", ""
		ask := still != ""
		if i == len(f.Treatments)-1 && standing != "" {
			there, ask = standing, over
		}
		if ask {
			why = findOut
		}
		add("Did the spray work", false, effectIn(f, t, u), still, there, why, missed(t, u))
	}
	add("When to go back", true, goBack(f, u), tellApplicator(all, f, u))
	add("Forecast, not a count", false, forecast(f, u))
	add("Look out", false, visitsLookOut(r, f, last, u, now)...)
	return all
}

// changed is what a step changed. The red ground is told of before counts that are those of a part
// of the field alone: it is all there is.
func changed(r *compare.Result, f *compare.Field, s *compare.Step, u figures.Units) []string {
	counts, red := PlainChange(f, s, r.Statistic, u), redGround(f, s, u)
	if s.Basis == compare.Untreated || s.Basis == compare.Regrowth {
		return []string{red, counts}
	}
	return []string{counts, red}
}

// tellApplicator is said where the red ground is to be sprayed and the day is sooner than the
// map's, which the hand-off goes by; "" elsewhere.
func tellApplicator(said []Answer, f *compare.Field, u figures.Units) string {
	spray := slices.ContainsFunc(said, func(a Answer) bool { return ToneOf(a.Now) == Spray })
	if !spray || f.Next.MapLook <= f.Next.GoBackBy {
		return ""
	}
	if days := goodFor(f); days > 0 {
		return u.Say("Tell the applicator: without --good-for %d the job sheet has the map's day.", days)
	}
	return u.Text("Tell the applicator: the job sheet has the map's day.")
}

// lookBy is a verdict whose next look is on the day to go back by where that is sooner: the
// visits before know of growth that one map does not, and one day is said, not two. A day that
// is past is that of the newest visit.
func lookBy(v verdict.Verdict, f *compare.Field) verdict.Verdict {
	if by := f.Next.GoBackBy; by != "" && by < v.On {
		v.On = by
	}
	if v.On != "" {
		v.On = max(v.On, f.Behind)
	}
	return v
}

func lastOf(f *compare.Field) *compare.Visit { return f.Visits[len(f.Visits)-1] }

// stillOver tells of sprayed ground that is at or over the spray level at the visit after:
// whatever the spray did, it was not enough; "" elsewhere.
func stillOver(f *compare.Field, t compare.TreatmentResult, stat assess.Statistic, u figures.Units) string {
	for _, s := range f.Steps {
		for _, p := range s.Parts {
			if p.Lot != compare.TreatedBetween || !slices.Contains(p.Dates, t.Date) || p.NA == 0 || p.NB == 0 || p.MeanB < f.Visits[s.To].Levels.TreatAt {
				continue
			}
			if !took(t) && p.MeanB > p.MeanA {
				return grewThrough(p, stat, u)
			}
			return u.Say("In the sprayed ground the average went from %s to %s %s: not under the spray level.", u.Short(p.MeanA), u.Short(p.MeanB), ofWhat(stat, u))
		}
	}
	return ""
}

// took reports whether a treatment took some of the pest for sure.
func took(t compare.TreatmentResult) bool {
	return t.Efficacy != nil && t.Efficacy.Interval.Known() && t.Efficacy.Interval.Low > 0
}

// grewThrough tells of sprayed ground where the average is over the spray level and higher than
// before; what became of the ground beside it stands under what changed.
func grewThrough(sprayed compare.Part, stat assess.Statistic, u figures.Units) string {
	return u.Say("The pest grew through it, from %s to %s %s: not under the spray level.", u.Short(sprayed.MeanA), u.Short(sprayed.MeanB), ofWhat(stat, u))
}

// standsNow is what was counted at the last visit in ground that was sprayed before it, and whether
// it is at or over the spray level there; "" where no stop lies there, or where [stillOver] has said
// it: what a spray took says nothing of what came back since.
func standsNow(f *compare.Field, stat assess.Statistic, u figures.Units) (said string, over bool) {
	last := f.Steps[len(f.Steps)-1]
	levels := f.Visits[last.To].Levels.Levels
	n, sum, before := 0, 0.0, false
	for _, p := range last.Parts {
		if p.Lot != compare.NotTreated && p.NB > 0 {
			n, sum = n+p.NB, sum+float64(p.NB)*p.MeanB
			before = before || p.Lot == compare.TreatedBefore || p.NA == 0
		}
	}
	mean := sum / float64(n)
	switch {
	case n == 0 || mean >= levels.TreatAt && !before:
		return "", false
	case mean >= levels.TreatAt:
		return u.Say("The average in the sprayed ground is now %s %s, by %s: at or over the spray level.", u.Short(mean), ofWhat(stat, u), u.Counted(n, "stop")), true
	}
	return u.Say("The average in the sprayed ground is now %s %s, by %s: under the spray level.", Levelled(mean, levels), ofWhat(stat, u), u.Counted(n, "stop")), false
}

// redGround is what became of the treat ground; "" where a map that shows any may not be
// believed.
func redGround(f *compare.Field, s *compare.Step, u figures.Units) string {
	x, ok := redArea(f.Visits[s.From])
	y, sure := redArea(f.Visits[s.To])
	switch {
	case !ok || !sure:
		return ""
	case x == 0 && y == 0:
		return u.Text("There is no red ground.")
	case someGround(s.Areas[change.NotSeen]):
		return notLookedAt(x, y, s.Areas[change.NotSeen], u)
	case x == 0:
		return u.Say("The red ground is new: %s.", u.Area(y))
	case y == 0:
		return u.Say("The red ground is gone; it was %s.", u.Area(x))
	case u.Area(x) == u.Area(y):
		return u.Say("The red ground is still %s.", u.Area(y))
	case y > x:
		return u.Say("The red ground grew from %s to %s.", u.Area(x), u.Area(y))
	}
	return u.Say("The red ground shrank from %s to %s.", u.Area(x), u.Area(y))
}

// notLookedAt is what became of treat ground, of an area before and now, some of which is no longer
// red only because no stop was near it: that is not gone.
func notLookedAt(before, now, unseen float64, u figures.Units) string {
	switch {
	case now > before:
		return u.Say("The red ground grew from %s to %s; of what was red %s was not looked at again.", u.Area(before), u.Area(now), u.Area(unseen))
	case now > 0:
		return u.Say("The red ground was %s and is %s now; %s of it was not looked at again.", u.Area(before), u.Area(now), u.Area(unseen))
	case someGround(before - unseen):
		return u.Say("The red ground is gone from %s, and %s of it was not looked at again.", u.Area(before-unseen), u.Area(unseen))
	}
	return u.Say("The red ground, %s, was not looked at again.", u.Area(unseen))
}

// redArea is how much ground a visit's map has to be treated, in m², and whether to go by it.
func redArea(v *compare.Visit) (area float64, ok bool) {
	if v.Assess.Map == nil {
		return 0, false
	}
	area = v.Assess.Map.Zone(zones.Treat).Area
	return area, area == 0 || v.Assess.Trust.Believed()
}

// missed is the treat ground that a treatment did not reach; "" where it reached all.
func missed(t compare.TreatmentResult, u figures.Units) string {
	if c := t.Coverage; c != nil && someGround(c.Missed) {
		return u.Say("It missed %s of the red ground.", u.Area(c.Missed))
	}
	return ""
}

// forecast is how much ground may be red on the day of the forecast; "" without one.
func forecast(f *compare.Field, u figures.Units) string {
	p := f.Forecast
	if p == nil {
		return ""
	}
	return u.Say("By %s about %s may be red, %s to %s.", u.Day(p.Date), u.Area(p.Treat), u.Area(p.TreatSlowest), u.Area(p.TreatQuick))
}
