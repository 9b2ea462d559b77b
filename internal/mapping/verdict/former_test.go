package verdict_test

import (
	"math"

	"github.com/geocoris/geocoris/internal/mapping/verdict"
)

// The table before verdicts went by expected loss, kept so that both can be judged on
// the same fields. Its kinds only: reasons and days cost nothing there.
type formerLine struct {
	name string
	kind verdict.Kind
	when func(verdict.Figures, verdict.Settings) bool
}

func former(f verdict.Figures, s verdict.Settings) (string, verdict.Kind) {
	for _, l := range formerTable() {
		if l.when(f, s) {
			return l.name, l.kind
		}
	}
	return "nothing-holds", verdict.LookAgain
}

func formerTable() []formerLine {
	type figures = verdict.Figures
	type settings = verdict.Settings
	// As settings had them: whole from a share of 0.65, all over from 0.8 of the stops, at most 40 more.
	const wholeShare, everywhere, mostStops = 0.65, 0.8, 40
	spots := func(f figures) bool { return f.Believed && f.TreatArea > 0 && f.OverInside > 0 }
	straddles := func(f figures) bool { return f.Low < f.Treat && f.High >= f.Treat }
	maybeOver := func(f figures) bool { return straddles(f) && f.Stats.Mean < f.Treat }
	moreStops := func(f figures) float64 {
		if more := f.Needed - float64(f.Stats.Stops); !math.IsNaN(more) {
			return more
		}
		return math.Inf(1)
	}
	return []formerLine{
		{"few-inside", verdict.Undecided, func(f figures, s settings) bool { return f.Stats.Edge.InteriorStops < s.LeastInside }},
		{"all-alike-over", verdict.TreatWhole, func(f figures, _ settings) bool { return f.Low >= f.Treat && f.Low == f.High }},
		{"whole-over", verdict.TreatWhole, func(f figures, _ settings) bool { return f.Low >= f.Treat && f.Stats.Edge.InteriorMean >= f.Treat }},
		{"unscouted-much", verdict.Undecided, func(f figures, s settings) bool { return f.Unscouted/f.Area > s.UnscoutedShare }},
		{"large-share", verdict.TreatWhole, func(f figures, _ settings) bool { return spots(f) && f.TreatArea/f.Area >= wholeShare }},
		{"everywhere", verdict.TreatWhole, func(f figures, _ settings) bool {
			return spots(f) && f.Stats.Found.Share >= everywhere && f.RestMean >= f.Watch
		}},
		{"finer-than-stops", verdict.Undecided, func(f figures, _ settings) bool {
			return spots(f) && f.OverInside == 1 && f.TreatArea < f.Area/float64(f.Stats.Stops)
		}},
		{"spot", verdict.SpotSpray, func(f figures, _ settings) bool { return spots(f) }},
		{"edge-hot", verdict.Undecided, func(f figures, _ settings) bool { return f.Over > 0 && f.OverInside == 0 }},
		{"whole-over-inside", verdict.TreatWhole, func(f figures, _ settings) bool { return f.InsideLow >= f.Treat && f.Stats.Edge.EdgeMean < f.Treat }},
		{"straddles", verdict.Undecided, func(f figures, _ settings) bool { return straddles(f) && moreStops(f) <= mostStops }},
		{"spread-unknown", verdict.Undecided, func(f figures, _ settings) bool { return straddles(f) && f.Stats.Stops < 3 }},
		{"over-by-edge", verdict.Undecided, func(f figures, _ settings) bool {
			return f.Stats.Mean >= f.Treat && f.Stats.Edge.InteriorMean < f.Treat
		}},
		{"too-close-over", verdict.TreatWhole, func(f figures, _ settings) bool { return straddles(f) && f.Stats.Edge.InteriorMean >= f.Treat }},
		{"under-by-edge", verdict.Undecided, func(f figures, _ settings) bool {
			return f.Stats.Mean < f.Treat && f.Stats.Edge.InteriorMean >= f.Treat
		}},
		{"one-over", verdict.Undecided, func(f figures, _ settings) bool { return maybeOver(f) && f.OverInside == 1 }},
		{"few-over", verdict.Undecided, func(f figures, _ settings) bool { return maybeOver(f) && f.OverInside > 1 && f.OverInside <= 3 }},
		{"too-close-under", verdict.LookAgain, func(f figures, _ settings) bool { return maybeOver(f) }},
		{"hot-without-skill", verdict.LookAgain, func(f figures, _ settings) bool { return f.Over > 0 && f.Stats.Mean < f.Treat }},
		{"unscouted", verdict.LookAgain, func(f figures, _ settings) bool { return f.Unscouted > 0 }},
		{"grows", verdict.LookAgain, func(f figures, _ settings) bool { return f.Warm > 0 || f.High >= f.Watch }},
		{"watched", verdict.LookAgain, func(f figures, _ settings) bool { return f.WatchArea > 0 || f.TreatArea > 0 }},
		{"few-stops", verdict.LookAgain, func(f figures, s settings) bool { return f.Stats.Stops < s.LeastStops }},
		{"below", verdict.NoSpray, func(f figures, _ settings) bool { return f.High < f.Watch }},
	}
}
