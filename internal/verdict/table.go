package verdict

import "math"

// A line of the table: where its figures hold and no line above did, its kind is
// the verdict.
type line struct {
	name string
	kind Kind
	why  string // in words that can follow the verdict on the screen
	when func(Figures, Settings) bool
	more func(Figures, Settings) int     // stops that would settle it; nil for none
	days func(Figures, Settings) float64 // until the next look; nil is the usual visit
}

// table is all there is to the verdict, worst doubt first. Sources are beside the
// reasons; where none is named the line is our judgement.
func table() []line {
	return []line{
		{name: "few-inside", kind: Undecided,
			why:  "fewer than the least number of stops lie inside, 8 m or more from the edge; edges are worse than the field, so they never decide (Texas A&M AgriLife; Alabama Extension 2015)",
			when: func(f Figures, s Settings) bool { return f.Stats.Edge.InteriorStops < s.LeastInside },
			more: func(f Figures, s Settings) int { return s.LeastInside - f.Stats.Edge.InteriorStops }},
		{name: "does-not-pay", kind: LookAgain,
			why:  "what is there would cost less than treating it (break-even test: avoidable loss against cost)",
			when: func(f Figures, _ Settings) bool { return f.Costs != nil && hot(f) && !f.Costs.Pays() },
			days: soon},
		{name: "not-infested-enough", kind: LookAgain,
			why: "the mean is over the threshold, but the rule also asks for a share of units infested that is not reached",
			when: func(f Figures, s Settings) bool {
				share, known := f.infested()
				return s.InfestedShare > 0 && known && f.Low >= f.Treat && share < s.InfestedShare
			},
			days: soon},
		{name: "whole-over", kind: TreatWhole,
			why:  "even the low end of the mean is at or above the threshold, and so is the mean inside the edge",
			when: func(f Figures, _ Settings) bool { return f.Low >= f.Treat && f.Stats.Edge.InteriorMean >= f.Treat },
			days: soon},
		{name: "unscouted-much", kind: Undecided,
			why:  "too much of the field lies beyond reach of any stop",
			when: func(f Figures, s Settings) bool { return f.share(f.Unscouted) > s.UnscoutedShare },
			more: func(f Figures, _ Settings) int { return int(math.Ceil(f.Unscouted / (math.Pi * f.Reach * f.Reach))) }},
		{name: "large-share", kind: TreatWhole,
			why:  "so large a share is treat ground that treating the whole field is simpler (judgement, no source)",
			when: func(f Figures, s Settings) bool { return spots(f) && f.share(f.TreatArea) >= s.WholeShare },
			days: soon},
		{name: "everywhere", kind: TreatWhole,
			why: "the pest is found all over, and the rest of the field would be over the threshold before the next visit: spot sprays against pests that colonise fast often failed (Univ. of Minnesota; Iowa State Univ.)",
			when: func(f Figures, s Settings) bool {
				return spots(f) && f.Stats.Found.Share >= s.Everywhere && f.RestMean >= f.Watch
			},
			days: soon},
		{name: "spot-costs-more", kind: TreatWhole,
			why:  "a spot job costs no less than the whole field",
			when: func(f Figures, _ Settings) bool { return spots(f) && f.Costs != nil && f.Costs.Spot >= f.Costs.Whole },
			days: soon},
		{name: "finer-than-stops", kind: Undecided,
			why:  "one stop alone is over the threshold inside the field, and the treat ground round it is less than what one stop stands for: count round it",
			when: func(f Figures, _ Settings) bool { return spots(f) && f.OverInside == 1 && f.TreatArea < perStop(f) },
			more: func(_ Figures, s Settings) int { return s.LeastInside }},
		{name: "spot", kind: SpotSpray,
			why:  "the map is better than the field's mean, and its treat ground is a part of the field only",
			when: func(f Figures, _ Settings) bool { return spots(f) },
			days: soon},
		{name: "edge-hot", kind: Undecided,
			why:  "all stops over the threshold stand on the edge; edges are worse than the field, so look inside beside each (Texas A&M AgriLife; Alabama Extension 2015)",
			when: func(f Figures, _ Settings) bool { return f.Over > 0 && f.OverInside == 0 },
			more: func(f Figures, _ Settings) int { return f.Over }},
		{name: "straddles", kind: Undecided,
			why:  "the interval of the mean holds the threshold",
			when: func(f Figures, s Settings) bool { return straddles(f) && moreStops(f) <= float64(s.MostStops) },
			more: func(f Figures, _ Settings) int { return max(1, int(moreStops(f))) }},
		{name: "too-close-over", kind: TreatWhole,
			why:  "the mean is at or above the threshold, more stops than anybody walks would be needed to be sure, and caution points one way",
			when: func(f Figures, _ Settings) bool { return straddles(f) && f.Stats.Edge.InteriorMean >= f.Treat },
			days: soon},
		{name: "too-close-under", kind: LookAgain,
			why:  "the mean is below the threshold, but more stops than anybody walks would be needed to be sure",
			when: func(f Figures, _ Settings) bool { return straddles(f) },
			days: soon},
		{name: "hot-without-skill", kind: LookAgain,
			why:  "stops are over the threshold, but the map does not tell where else; the field's mean is below it (once colonies are found: every 3 to 4 days, Texas A&M AgriLife)",
			when: func(f Figures, _ Settings) bool { return f.Over > 0 },
			days: soon},
		{name: "unscouted", kind: LookAgain,
			why:  "ground that nobody has been near is never clear",
			when: func(f Figures, _ Settings) bool { return f.Unscouted > 0 }},
		{name: "grows", kind: LookAgain,
			why: "nothing is over the threshold yet, but ground or stops are at or above the watch level",
			when: func(f Figures, _ Settings) bool {
				return f.WatchArea > 0 || f.Warm > 0 || f.High >= f.Watch || f.TreatArea > 0
			},
			days: growing},
		{name: "few-stops", kind: LookAgain,
			why:  "nothing near the threshold, but too few stops to say so of the whole field",
			when: func(f Figures, s Settings) bool { return f.Stats.Stops < s.LeastStops }},
		{name: "below", kind: NoSpray,
			why:  "all is below the watch level, with a stop in reach of all ground",
			when: func(f Figures, _ Settings) bool { return f.High < f.Watch }},
	}
}

// spots reports ground over the threshold on a map that may be believed, borne out
// by a stop inside the edge.
func spots(f Figures) bool { return f.Believed && f.TreatArea > 0 && f.OverInside > 0 }

// perStop is the ground that one stop stands for, m².
func perStop(f Figures) float64 { return f.Area / float64(f.Stats.Stops) }

// hot reports that treating would be considered at all.
func hot(f Figures) bool { return spots(f) || f.Stats.Mean >= f.Treat }

func straddles(f Figures) bool { return f.Low < f.Treat && f.High >= f.Treat }

// moreStops is how many more than there are would settle the mean; NaN and ±Inf
// never do.
func moreStops(f Figures) float64 {
	if more := f.Needed - float64(f.Stats.Stops); !math.IsNaN(more) {
		return more
	}
	return math.Inf(1)
}

func soon(_ Figures, s Settings) float64 { return s.RevisitFound }

// growing is when the watched ground, at the rate known, is over the threshold:
// not before the visit once colonies are found, not after the usual one.
func growing(f Figures, s Settings) float64 {
	warmest := f.Stats.Max
	if !(f.Doubling > 0 && warmest > 0) {
		return s.RevisitFound
	}
	return min(s.Revisit, max(s.RevisitFound, math.Floor(f.Doubling*math.Log2(f.Treat/warmest))))
}
