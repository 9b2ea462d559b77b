package report

import (
	"fmt"
	"math"
	"strings"

	"github.com/geocoris/geocoris/internal/followup/compare"
	"github.com/geocoris/geocoris/internal/followup/paired"
	"github.com/geocoris/geocoris/internal/geometry/zones"
	"github.com/geocoris/geocoris/internal/language/figures"
)

// An Answer is one of what a grower asks at a further visit.
type Answer struct {
	Asked string   // in a few words: "What grew"
	Said  []string // short sentences
}

// Answers are what grew, whether each treatment worked, and when to go back, in short
// sentences; the figures behind them are [StepVerdict], [CompareGroups] and tables.
func Answers(r *compare.Result, f *compare.Field, u figures.Units) (all []Answer) {
	last := f.Steps[len(f.Steps)-1]
	all = append(all, Answer{"What grew", whatGrew(r, f, last, u)})
	for _, t := range f.Treatments {
		all = append(all, Answer{"Did the spray of " + figures.Day(t.Date) + " work?", didItWork(t, u)})
	}
	return append(all, Answer{"Go back by " + figures.Day(f.Next.GoBackBy), []string{goBackShort(f.Next)}})
}

func whatGrew(r *compare.Result, f *compare.Field, s *compare.Step, u figures.Units) []string {
	said := growthShort(r, s)
	from, to := f.Visits[s.From], f.Visits[s.To]
	if before, after := treatArea(from), treatArea(to); before+after > 0 {
		said = append(said, fmt.Sprintf("Red ground: %s before, %s now.", u.Area(before), u.Area(after)))
	}
	if lack := visitsNotRead(from, to); lack != "" {
		said = append(said, Sentence(strings.TrimPrefix(lack, "; "))+".")
	}
	return said
}

// treatArea is how much ground is over the level on a map that is shown; 0 on one that
// may not be believed.
func treatArea(v *compare.Visit) float64 {
	if !v.Assess.Trust.Believed() {
		return 0
	}
	return v.Assess.Map.Zone(zones.Treat).Area
}

// growthShort says which way the last step went, and how sure that is.
func growthShort(r *compare.Result, s *compare.Step) []string {
	c := s.Change
	switch {
	case s.Basis == compare.NoGround:
		return []string{"Cannot be told: too few stops lie outside the sprayed ground."}
	case math.IsNaN(c.Rate) && c.Odds && c.MeanA > 50:
		return []string{"Cannot be told: all were at or above the tally at both visits."}
	case math.IsNaN(c.Rate):
		return []string{"Nothing was found at either visit."}
	}
	where := ""
	if s.Basis == compare.Untreated || s.Basis == compare.Regrowth {
		where = " where nothing was sprayed"
	}
	text := fmt.Sprintf("%s from %s to %s in %s%s.", way(c), figures.Short(c.MeanA), levelWith(c.MeanB, r.Statistic, figures.Both), days(s.Days), where)
	return []string{text, sureShort(c)}
}

func way(c paired.Change) string {
	switch c.Grew() {
	case 1:
		return "Up"
	case -1:
		return "Down"
	}
	return "No change,"
}

// sureShort says whether a change is more than chance.
func sureShort(c paired.Change) string {
	switch {
	case c.StandsOut && !c.Agrees():
		return "A few stops make this average: the usual stop went the other way."
	case c.StandsOut && c.Interval.Known() && c.Interval.Low <= 0 && c.Interval.High >= 0:
		return "That it changed is sure, how fast is not."
	case c.StandsOut:
		return Sentence(paceShort(c)) + "."
	}
	return "Too few stops to be sure of that."
}

// paceShort is the pace without its interval.
func paceShort(c paired.Change) string {
	verb := "doubles"
	if c.Rate < 0 {
		verb = "halves"
	}
	if c.Odds {
		verb = "odds " + strings.TrimSuffix(verb, "s")
	}
	form := "%s about every %s days"
	if c.Guarded {
		form = "%s in %s days or less"
	}
	return fmt.Sprintf(form, verb, figures.Short(math.Abs(paired.DoublingDays(c.Rate))))
}

// didItWork tells what a treatment did, and what of the treat zone it missed.
func didItWork(t compare.TreatmentResult, u figures.Units) (said []string) {
	if e := t.Efficacy; e != nil {
		said = append(said, effectShort(*e))
	} else {
		said = append(said, "Cannot be told: "+gapShort(t)+".")
	}
	if c := t.Coverage; c != nil && figures.Shown(figures.Hectares(c.Missed)) > 0 {
		said = append(said, fmt.Sprintf("It missed %s of the red ground.", u.Area(c.Missed)))
	}
	return said
}

func effectShort(e paired.Efficacy) string {
	switch low, high := e.Interval.Low, e.Interval.High; {
	case e.Interval.Known() && low <= 0 && high >= 0:
		return fmt.Sprintf("No effect to be seen: anywhere from %.0f %% more to %.0f %% less than without it.", -low, high)
	case e.Percent < 0:
		return fmt.Sprintf("There is %.0f %% more than there would be without it.", -e.Percent)
	case !e.Interval.Known():
		return fmt.Sprintf("It took %.0f %% of what would be there without it; how sure cannot be told.", e.Percent)
	default:
		return fmt.Sprintf("It took %.0f %% of what would be there without it (%.0f to %.0f %%).", e.Percent, low, high)
	}
}

// gapShort is the gap alone; [EfficacyUnknown] tells what can be known.
func gapShort(t compare.TreatmentResult) string {
	if t.Why == nil {
		return "too few stops"
	}
	switch t.Why.Gap {
	case compare.NotYet:
		return "no visit after it yet"
	case compare.NoneInside:
		return "no stops in the sprayed ground"
	case compare.NoneBefore, compare.NoCheck, compare.NoCheckNorInside:
		return "no stops in ground left unsprayed to compare with"
	}
	return EfficacyUnknown(t)
}

// goBackShort is the cause of the day in a few words; [GoBackWhy] says it in full.
func goBackShort(n compare.Next) string {
	switch n.Why.Cause {
	case compare.Colonies:
		return fmt.Sprintf("Colonies are there, so in %s.", figures.Counted(n.Why.Days, "day"))
	case compare.QuickGrowth:
		return fmt.Sprintf("At its fastest, a further %s of the field could be red by then.", figures.Whole(n.Why.Share))
	case compare.SecondLook:
		return "To see whether the spray of " + figures.Day(n.Why.Treated) + " holds."
	case compare.MapGoodUntil:
		return "The last map is good until then."
	}
	return fmt.Sprintf("The usual %s.", figures.Counted(n.Why.Days, "day"))
}
