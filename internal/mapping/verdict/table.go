package verdict

import (
	"math"

	"github.com/geocoris/geocoris/internal/mapping/fieldstats"
)

// A line of the table: where its figures hold and no line above did, its kind is
// the verdict.
type line struct {
	name string
	kind Kind
	says string // the reason in a few words, for the heading; "" where the kind says it
	// where more stops are to be walked; "" for anywhere.
	where string
	round bool   // these are to be walked round each stop over the threshold inside
	why   string // the reason in full, in words that can follow the verdict on the screen
	when  func(Figures, Settings) bool
	more  func(Figures, Settings) int     // stops that would settle it; nil for none
	days  func(Figures, Settings) float64 // until the next look; nil is the usual visit, or of what is undecided soon
}

// fewOver is how many stops over the threshold are few enough to walk round each of
// them (our choice, no source).
const fewOver = 3

// table is all there is to the verdict, worst doubt first. Sources are beside the
// reasons; where none is named the line is our judgement.
func table() []line {
	return []line{
		{name: "few-inside", kind: Undecided,
			says: "too few stops lie inside it", where: "inside, 8 m or more from the edge",
			why:  "fewer than the least number of stops lie inside, 8 m or more from the edge; edges are worse than the field, so they never decide (Texas A&M AgriLife; Alabama Extension 2015)",
			when: func(f Figures, s Settings) bool { return f.Stats.Edge.InteriorStops < s.LeastInside },
			more: func(f Figures, s Settings) int { return s.LeastInside - f.Stats.Edge.InteriorStops }},
		{name: "does-not-pay", kind: LookAgain,
			says: "treating costs more than it would save",
			why:  "no way of treating would avert what it costs (break-even test: avoidable loss against cost)",
			when: func(f Figures, _ Settings) bool { return f.Costs != nil && hot(f) && !f.Costs.Pays() },
			days: soon},
		{name: "not-infested-enough", kind: LookAgain,
			says: "over the threshold, but too little is infested for the rule",
			why:  "the mean is at or above the threshold as surely as the stops tell, but the rule also asks for a share infested that is not reached",
			when: func(f Figures, s Settings) bool {
				share, known := f.infested()
				return s.InfestedShare > 0 && known && f.Low >= f.Treat && share < s.InfestedShare
			},
			days: soon},
		{name: "all-alike-over", kind: TreatWhole,
			says: "all stops say the same, at or above the threshold",
			why:  "all stops say the same, and that is at or above the threshold",
			when: func(f Figures, _ Settings) bool { return f.Low >= f.Treat && f.Low == f.High },
			days: soon},
		{name: "whole-over", kind: TreatWhole,
			says: "surely at or above the threshold",
			why:  "even the low end of the mean is at or above the threshold, and so is the mean inside the edge",
			when: func(f Figures, _ Settings) bool { return f.Low >= f.Treat && f.Stats.Edge.InteriorMean >= f.Treat },
			days: soon},
		{name: "unscouted-much", kind: Undecided,
			says: "too much of it lies beyond reach of any stop", where: "on the ground without any",
			why:  "too much of the field lies beyond reach of any stop",
			when: func(f Figures, s Settings) bool { return f.share(f.Unscouted) > s.UnscoutedShare },
			more: unreached},
		{name: "large-share", kind: TreatWhole,
			says: "so large a share is treat ground",
			why:  "so large a share is treat ground that treating the whole field is simpler (judgement, no source)",
			when: func(f Figures, s Settings) bool { return spots(f) && f.share(f.TreatArea) >= s.WholeShare },
			days: soon},
		{name: "everywhere", kind: TreatWhole,
			says: "the pest is all over it",
			why:  "the pest is found all over, and the rest of the field is at or above the watch level on average: spot sprays against pests that colonise fast often failed (Univ. of Minnesota; Iowa State Univ.)",
			when: func(f Figures, s Settings) bool {
				return spots(f) && f.Stats.Found.Share >= s.Everywhere && f.RestMean >= f.Watch
			},
			days: soon},
		{name: "spot-costs-more", kind: TreatWhole,
			says: "a spot job costs no less",
			why:  "a spot job costs no less than the whole field",
			when: func(f Figures, _ Settings) bool { return spots(f) && f.Costs != nil && f.Costs.Spot >= f.Costs.Whole },
			days: soon},
		{name: "finer-than-stops", kind: Undecided,
			says: "one stop alone is over the threshold inside", where: "round it", round: true,
			why:  "one stop alone is over the threshold inside, 8 m or more from the edge, and all treat ground is less than what one stop stands for: count round it",
			when: func(f Figures, _ Settings) bool { return spots(f) && f.OverInside == 1 && f.TreatArea < perStop(f) },
			more: func(_ Figures, s Settings) int { return s.LeastInside }},
		{name: "spot", kind: SpotSpray,
			why:  "the map is better than the field's mean, and its treat ground is a part of the field only",
			when: func(f Figures, _ Settings) bool { return spots(f) },
			days: soon},
		{name: "edge-hot", kind: Undecided,
			says: "all stops over the threshold stand on its edge", where: "inside, one beside each of these",
			why:  "all stops over the threshold stand on the edge; edges are worse than the field, so look inside beside each (Texas A&M AgriLife; Alabama Extension 2015)",
			when: func(f Figures, _ Settings) bool { return f.Over > 0 && f.OverInside == 0 },
			more: func(f Figures, _ Settings) int { return f.Over }},
		{name: "whole-over-inside", kind: TreatWhole,
			says: "surely at or above the threshold inside, 8 m or more from the edge",
			why:  "even the low end of the mean inside, 8 m or more from the edge, is at or above the threshold; stops on the edge, with fewer pests, tell of the edge alone",
			when: func(f Figures, _ Settings) bool { return f.InsideLow >= f.Treat && f.Stats.Edge.EdgeMean < f.Treat },
			days: soon},
		{name: "straddles", kind: Undecided,
			says: "the mean may lie on either side of the threshold",
			why:  "the interval of the mean holds the threshold",
			when: func(f Figures, s Settings) bool { return straddles(f) && moreStops(f) <= float64(s.MostStops) },
			more: func(f Figures, _ Settings) int { return int(moreStops(f)) }},
		{name: "spread-unknown", kind: Undecided,
			says: "too few stops tell how sure the mean is",
			why:  "how sure the mean is cannot be told from so few stops",
			when: func(f Figures, _ Settings) bool { return straddles(f) && f.Stats.Stops < fieldstats.LeastStops },
			more: func(f Figures, _ Settings) int { return fieldstats.LeastStops - f.Stats.Stops }},
		{name: "over-by-edge", kind: Undecided,
			says: "at or above the threshold by its edge, below it inside", where: "inside, one beside each hot stop of the edge",
			why: "the field's mean is at or above the threshold by its edge: inside, 8 m or more from it, the mean is below; edges are worse than the field (Texas A&M AgriLife; Alabama Extension 2015), so look inside beside each hot stop of the edge, and where that cannot be done today treating stays a choice",
			when: func(f Figures, _ Settings) bool {
				return f.Stats.Mean >= f.Treat && f.Stats.Edge.InteriorMean < f.Treat
			},
			more: func(f Figures, _ Settings) int { return f.Over - f.OverInside }},
		{name: "too-close-over", kind: TreatWhole,
			says: "at or above the threshold inside, but not surely",
			why:  "the mean inside the edge is at or above the threshold, more stops than anybody walks would be needed to be sure of the field's, and caution points one way",
			when: func(f Figures, _ Settings) bool { return straddles(f) && f.Stats.Edge.InteriorMean >= f.Treat },
			days: soon},
		{name: "under-by-edge", kind: Undecided,
			says: "below the threshold by its edge, at or above it inside", where: "inside",
			why: "the field's mean is below the threshold by its edge: inside, 8 m or more from it, the mean is at or above; stops on the edge tell of the edge alone, so walk more stops inside, and where that cannot be done today treating stays a choice",
			when: func(f Figures, _ Settings) bool {
				return f.Stats.Mean < f.Treat && f.Stats.Edge.InteriorMean >= f.Treat
			},
			more: func(_ Figures, s Settings) int { return s.LeastInside }},
		{name: "one-over", kind: Undecided,
			says: "one stop inside is over the threshold, and the mean may be", where: "round it", round: true,
			why:  "the mean is below the threshold, but not surely, and one stop inside, 8 m or more from the edge, is over it: whether it is one place or a patch, only stops round it tell (judgement, no source)",
			when: func(f Figures, _ Settings) bool { return maybeOver(f) && f.OverInside == 1 },
			more: func(_ Figures, s Settings) int { return s.LeastInside }},
		{name: "few-over", kind: Undecided,
			says: "few stops inside are over the threshold, and the mean may be", where: "round each", round: true,
			why:  "the mean is below the threshold, but not surely, and few stops inside, 8 m or more from the edge, are over it: whether they are single places or patches, only stops round them tell (judgement, no source)",
			when: func(f Figures, _ Settings) bool { return maybeOver(f) && f.OverInside > 1 && f.OverInside <= fewOver },
			more: func(f Figures, s Settings) int { return f.OverInside * s.LeastInside }},
		{name: "too-close-under", kind: LookAgain,
			says: "below the threshold, but not surely",
			why:  "the mean is below the threshold, but more stops than anybody walks would be needed to be sure",
			when: func(f Figures, _ Settings) bool { return maybeOver(f) },
			days: sooner},
		{name: "hot-without-skill", kind: LookAgain,
			says: "below the threshold on average, though stops are over it",
			why:  "stops are over the threshold, but no map that may be believed shows such ground; the field's mean is below it (once colonies are found: every 3 to 4 days, Texas A&M AgriLife)",
			when: func(f Figures, _ Settings) bool { return f.Over > 0 && f.Stats.Mean < f.Treat },
			days: sooner},
		{name: "unscouted", kind: LookAgain,
			says: "there is ground that nobody has been near",
			why:  "ground that nobody has been near is never clear",
			when: func(f Figures, _ Settings) bool { return f.Unscouted > 0 },
			days: func(f Figures, s Settings) float64 {
				if warm(f) || f.TreatArea > 0 { // no later than were all ground scouted
					return growing(f, s)
				}
				return s.Revisit
			}},
		{name: "grows", kind: LookAgain,
			says: "no stop is over the threshold yet",
			why:  "no stop is over the threshold yet, but stops, or the high end of the mean, are at or above the watch level",
			when: func(f Figures, _ Settings) bool { return warm(f) },
			days: growing},
		{name: "watched", kind: LookAgain,
			says: "all stops are below the watch level, but not all of the map",
			why:  "all stops are below the watch level, but the map has ground to treat or to watch",
			when: func(f Figures, _ Settings) bool { return f.WatchArea > 0 || f.TreatArea > 0 },
			days: growing},
		{name: "few-stops", kind: LookAgain,
			says: "too few stops to call it clear",
			why:  "all is below the watch level, but too few stops say so of the whole field",
			when: func(f Figures, s Settings) bool { return f.Stats.Stops < s.LeastStops }},
		{name: "below", kind: NoSpray,
			says: "all is below the watch level",
			why:  "all is below the watch level, with a stop in reach of all ground",
			when: func(f Figures, _ Settings) bool { return f.High < f.Watch }},
	}
}

// spots reports ground over the threshold on a map that may be believed, borne out
// by a stop inside the edge.
func spots(f Figures) bool { return f.Believed && f.TreatArea > 0 && f.OverInside > 0 }

// perStop is the ground that one stop stands for, m².
func perStop(f Figures) float64 { return f.Area / float64(f.Stats.Stops) }

// unreached is how many more stops bring the ground in reach: as close as those there
// are, or as far apart as the least number that speaks for a field, whichever is fewer.
func unreached(f Figures, s Settings) int {
	return int(math.Ceil(min(f.Unscouted/(math.Pi*f.Reach*f.Reach), f.share(f.Unscouted)*float64(s.LeastStops))))
}

// hot reports that treating would be considered at all.
func hot(f Figures) bool { return spots(f) || f.Stats.Mean >= f.Treat }

// warm reports that stops, or the mean as far as can be told, reach the watch level.
func warm(f Figures) bool { return f.Warm > 0 || f.High >= f.Watch }

// straddles reports that the mean may lie on either side of the threshold.
func straddles(f Figures) bool { return f.Low < f.Treat && f.High >= f.Treat }

// maybeOver reports a mean that is below the threshold, but not surely.
func maybeOver(f Figures) bool { return straddles(f) && f.Stats.Mean < f.Treat }

// moreStops is how many more than there are would settle the mean; NaN and ±Inf
// never do.
func moreStops(f Figures) float64 {
	if more := f.Needed - float64(f.Stats.Stops); !math.IsNaN(more) {
		return more
	}
	return math.Inf(1)
}

func soon(_ Figures, s Settings) float64 { return s.RevisitFound }

// sooner is soon, but no later than the mean would be at the threshold at the rate
// known, and not before the next day.
func sooner(f Figures, s Settings) float64 {
	if !(f.Doubling > 0 && f.Stats.Mean > 0) {
		return soon(f, s)
	}
	return max(1, min(soon(f, s), math.Floor(f.Doubling*math.Log2(f.Treat/f.Stats.Mean))))
}

// growing is when the watched ground, at the rate known, is over the threshold:
// not before the visit once colonies are found, not after the usual one.
func growing(f Figures, s Settings) float64 {
	warmest := f.Stats.Max
	if !(f.Doubling > 0 && warmest > 0) {
		return s.RevisitFound
	}
	return min(s.Revisit, max(s.RevisitFound, math.Floor(f.Doubling*math.Log2(f.Treat/warmest))))
}
