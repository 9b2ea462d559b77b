package verdict

import (
	"math"

	"github.com/geocoris/geocoris/internal/mapping/decision"
	"github.com/geocoris/geocoris/internal/mapping/fieldstats"
)

// A line of the table: where its figures hold and no line above did, its kind is
// the verdict.
type line struct {
	name string
	kind Kind
	says string // the reason in a few words, for the heading; "" where the kind says it
	// where more stops are to be walked; "" for anywhere.
	where  string
	round  bool   // these are to be walked round each stop over the threshold inside
	inside bool   // these are to be walked inside, one beside each hot stop of the edge
	few    bool   // stops are wanted for what so few leave open, wherever they were found
	why    string // the reason in full, in words that can follow the verdict on the screen
	when   func(Figures, Settings) bool
	more   func(Figures, Settings) int     // stops that would settle it; nil for none
	days   func(Figures, Settings) float64 // until the next look; nil is the usual visit, or of what is undecided soon
}

// fewOver is how many stops over the threshold are few enough to walk round each of
// them (our choice, no source).
const fewOver = 3

// several is how many stops' worth of ground a treat zone holds at the least to be a spot
// rather than the ground of single stops (our choice, no source).
const several = 2

// veryHot is how many times the threshold a stop has that is never left because treating
// hardly wins: what is lost there ends with its crop (our choice, no source).
const veryHot = 3

// rim is the share of a field that its watch zone may hold beside unscouted ground, such
// as clear ground too small to stand for itself, before it means anything (our choice).
const rim = 0.005

// table is all there is to the verdict, worst doubt first. Sources are beside the
// reasons; where none is named the line is our judgement.
func table() []line {
	return []line{
		{name: "few-inside", kind: Undecided, few: true,
			says: "too few stops lie inside it", where: "inside, 8 m or more from the edge",
			why:  "fewer than the least number of stops lie inside, 8 m or more from the edge; edges are worse than the field, so they never decide (Texas A&M AgriLife; Alabama Extension 2015)",
			when: func(f Figures, s Settings) bool { return f.Stats.Edge.InteriorStops < s.LeastInside },
			more: func(f Figures, s Settings) int { return s.LeastInside - f.Stats.Edge.InteriorStops }},
		{name: "part-only", kind: Undecided,
			says: "the stops stand in a part of it", where: "in the rest of the field",
			why:  "the stops stand in a part of the field or along a line: they say nothing about the rest of it",
			when: func(f Figures, _ Settings) bool { return f.partial() },
			more: func(_ Figures, s Settings) int { return s.LeastStops }},
		{name: "does-not-pay", kind: LookAgain,
			says: "treating costs more than it would save",
			why:  "no way of treating would avert what it costs (break-even test: avoidable loss against cost)",
			when: func(f Figures, _ Settings) bool { return f.Costs != nil && hot(f) && !f.Costs.Pays() },
			days: soon},
		{name: "not-infested-enough", kind: LookAgain,
			says: "over the threshold, but too little is infested for the rule",
			why:  "the mean is at or above the threshold as surely as the stops can show, but the rule also asks for a share infested that is not reached",
			when: func(f Figures, s Settings) bool {
				share, known := f.infested()
				return s.InfestedShare > 0 && known && f.Low >= f.Treat && share < s.InfestedShare
			},
			days: soon},
		{name: "unscouted-much", kind: Undecided, few: true,
			says: "too much of it lies beyond reach of any stop", where: "on the ground without any",
			why:  "too much of the field lies beyond reach of any stop",
			when: func(f Figures, s Settings) bool { return f.share(f.Unscouted) > s.UnscoutedShare },
			more: unreached},
		{name: "spread-unknown", kind: Undecided, few: true,
			says: "too few stops to know how sure the mean is",
			why:  "how sure the mean is cannot be known from so few stops",
			when: func(f Figures, s Settings) bool { return straddles(f) && f.Stats.Places() < fieldstats.LeastStops },
			more: func(f Figures, s Settings) int { return fieldstats.LeastStops - f.Stats.Places() }},
		{name: "few-for-a-map", kind: Undecided, few: true,
			says: "stops are over the threshold, but too few were walked for a map",
			why:  "stops are over the threshold, the mean is not surely, and too few were walked to know where the pest is",
			when: func(f Figures, s Settings) bool {
				return f.Over > 0 && f.Low < f.Treat && f.Stats.Places() < s.LeastStops
			},
			more: func(f Figures, s Settings) int { return s.LeastStops - f.Stats.Places() }},
		{name: "edge-hot", kind: Undecided,
			says: "all stops over the threshold stand on its edge", where: "inside, one beside each of these", inside: true,
			why:  "all stops over the threshold stand on the edge; edges are worse than the field, so look inside beside each (Texas A&M AgriLife; Alabama Extension 2015)",
			when: func(f Figures, _ Settings) bool { return f.Over > 0 && f.OverInside == 0 },
			more: func(f Figures, _ Settings) int { return f.Over }},
		{name: "over-by-edge", kind: Undecided,
			says: "at or above the threshold by its edge, below it inside", where: "inside, one beside each hot stop of the edge", inside: true,
			why: "the field's mean is at or above the threshold by its edge: inside, 8 m or more from it, the mean is below, and the map is no better than the mean; edges are worse than the field (Texas A&M AgriLife; Alabama Extension 2015), so look inside beside each hot stop of the edge",
			when: func(f Figures, _ Settings) bool {
				return !f.Believed && f.Stats.Mean >= f.Treat && f.Stats.Edge.InteriorMean < f.Treat
			},
			more: func(f Figures, _ Settings) int { return f.Over - f.OverInside }},
		{name: "one-over", kind: Undecided,
			says: "one hot stop", where: "round it", round: true,
			why:  "the mean is below the threshold, but not surely, and one stop inside, 8 m or more from the edge, is over it: whether it is one place or a patch, only stops round it can show",
			when: func(f Figures, _ Settings) bool { return f.OverInside == 1 && f.fewHot() },
			more: round},
		{name: "few-over", kind: Undecided,
			says: "few hot stops", where: "round these", round: true,
			why:  "the mean is below the threshold, but not surely, and few stops inside, 8 m or more from the edge, are over it: whether they are single places or patches, only stops round them can show",
			when: func(f Figures, _ Settings) bool { return f.OverInside > 1 && f.fewHot() },
			more: round},
		{name: "one-spot", kind: Undecided,
			says: "what to spray rests on one stop", where: "round it", round: true,
			why:  "what the map would treat rests on one stop alone, inside, 8 m or more from the edge, and no other has a sixth of its count: whether it is a slip, one place or a patch, only stops round it can show",
			when: func(f Figures, s Settings) bool { return f.byMap(s) == decision.Zone && f.oneSpot() },
			more: round},
		{name: "spot-costs-more", kind: TreatWhole,
			says: "a spot job costs no less",
			why:  "a spot job costs no less than the whole field",
			when: func(f Figures, s Settings) bool {
				return f.choice(s) == decision.Zone && f.Costs != nil && f.Costs.Spot >= f.Costs.Whole
			},
			days: soon},
		{name: "large-share", kind: TreatWhole,
			says: "nearly all of it is treat ground",
			why:  "so large a share is treat ground that treating the whole field is simpler (our choice, no source)",
			when: func(f Figures, s Settings) bool {
				return f.choice(s) == decision.Zone && f.share(f.TreatArea) >= s.WholeShare
			},
			days: soon},
		{name: "by-one-stop", kind: Undecided,
			says: "at or above the threshold by one hot stop alone", where: "round it", round: true,
			why: "the mean is at or above the threshold, but not surely, and below it without its hottest stop inside, 8 m or more from the edge: whether that is a slip, one place or a patch, only stops round it can show",
			when: func(f Figures, s Settings) bool {
				return f.choice(s) == decision.Whole && f.byOne() && f.unwalked() > 0 && f.Patches == 0 && !(f.Believed && f.TreatArea >= several*perStop(f))
			},
			more: round},
		{name: "whole-or-zone", kind: Undecided,
			says: "too few stops to know whether all of it needs spray",
			why:  "the mean is not surely over the threshold, and the map is no better than the mean, but treating only its treat zone is expected to cost less than the whole field",
			when: func(f Figures, s Settings) bool {
				return f.choice(s) == decision.Whole && straddles(f) && !f.Believed && f.zoned(s) && f.Sums.Best() == decision.Zone
			},
			more: func(Figures, Settings) int { return Further }},
		{name: "mean-over", kind: TreatWhole,
			says: "at or above the threshold, and the map does not tell which part to spray",
			why:  "the mean is at or above the threshold, and there is no map to believe with a zone to treat in its place",
			when: func(f Figures, s Settings) bool {
				return f.choice(s) == decision.Whole && f.meanOver() && !(f.Believed && f.zoned(s))
			},
			days: soon},
		{name: "whole-though-more", kind: TreatWhole,
			says: "at or above the threshold, and a spot job is expected to cost no less",
			why:  "the mean is at or above the threshold, so doing nothing is no choice, and treating the treat zone is expected to cost no less than the whole field",
			when: func(f Figures, s Settings) bool {
				return f.choice(s) == decision.Whole && f.Sums.Nothing < f.Sums.Whole
			},
			days: soon},
		{name: "whole-close", kind: TreatWhole,
			says: "that is expected to cost least, but it is a close call",
			why:  "treating the whole field is expected to cost least, with what is lost where nothing is sprayed, but another choice hardly more",
			when: func(f Figures, s Settings) bool {
				return f.choice(s) == decision.Whole && f.Sums.Close(decision.Whole)
			},
			days: soon},
		{name: "whole", kind: TreatWhole,
			says: "that is expected to cost least",
			why:  "treating the whole field is expected to cost least, with what is lost where nothing is sprayed",
			when: func(f Figures, s Settings) bool { return f.choice(s) == decision.Whole },
			days: soon},
		{name: "single-places", kind: Undecided,
			says: "stops over the threshold may be single places", where: "between the hot stops", round: true,
			why: "stops are over the threshold, but the map is no better than the mean: whether they are single places or patches, only stops round them can show",
			when: func(f Figures, s Settings) bool {
				return f.unwalked() > 0 && !f.Believed && !(f.Patches > 0 && f.zoned(s)) && !f.meanOver() && !f.leaves(s)
			},
			more: round},
		{name: "patch", kind: SpotSpray,
			says: "stops round a hot one are hot as well",
			why:  "stops round one over the threshold are over it as well, on average or more than one in four: that is a patch, and its ground is treated whatever the map is worth",
			when: func(f Figures, s Settings) bool {
				return f.choice(s) == decision.Zone && f.Patches > 0 && f.byMap(s) != decision.Zone
			},
			days: soon},
		{name: "walked", kind: SpotSpray,
			says: "hot stops were walked round, and spraying is expected to pay",
			why:  "stops were walked round those over the threshold, and treating the treat zone is expected to cost least, with what is lost where nothing is sprayed",
			when: func(f Figures, s Settings) bool {
				return f.choice(s) == decision.Zone && f.byMap(s) != decision.Zone
			},
			days: soon},
		{name: "spot", kind: SpotSpray,
			why:  "no choice is expected to cost clearly less than treating the treat zone, with what is lost where nothing is sprayed",
			when: func(f Figures, s Settings) bool { return f.choice(s) == decision.Zone },
			days: soon},
		{name: "single", kind: LookAgain,
			says: "what is over the threshold are single places",
			why:  "stops were walked round those over the threshold, or round as many as are few, and are below it on average, with at most one in four over: these are single places, and without them the mean is below the threshold; come back soon",
			when: func(f Figures, _ Settings) bool {
				return f.Walked > 0 && f.unwalked() == 0 && f.Patches == 0 && !f.Believed && !f.meanOver()
			},
			days: soonest},
		{name: "leave", kind: LookAgain,
			says: "stops are over the threshold, but treating is not expected to pay",
			why:  "stops are over the threshold, but no treatment is expected to cost clearly less than doing nothing; come back soon (once colonies are found: every 3 to 4 days, Texas A&M AgriLife)",
			when: func(f Figures, _ Settings) bool { return f.Over > 0 && !f.meanOver() },
			days: soon},
		{name: "unscouted", kind: LookAgain,
			says: "there is ground that nobody has been near",
			why:  "there is too much ground that nobody has been near to call the field clear",
			when: func(f Figures, s Settings) bool { return f.share(f.Unscouted) > s.UnscoutedLeft },
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
			when: func(f Figures, _ Settings) bool { return f.share(f.WatchArea-f.Unscouted) >= rim || f.TreatArea > 0 },
			days: growing},
		{name: "few-stops", kind: LookAgain,
			says: "too few stops to call it clear",
			why:  "all is below the watch level, but too few stops say so of the whole field",
			when: func(f Figures, s Settings) bool { return f.Stats.Places() < s.LeastStops }},
		{name: "below", kind: NoSpray,
			says: "all is below the watch level",
			why:  "all is below the watch level, with a stop in reach of nearly all ground",
			when: func(f Figures, _ Settings) bool { return f.High < f.Watch }},
	}
}

// perStop is the ground that one stop stands for, m².
func perStop(f Figures) float64 { return f.Area / float64(f.Stats.Stops) }

// unreached is how many more stops bring the ground in reach: as close as those there
// are, or as far apart as the least number that speaks for a field, whichever is fewer.
func unreached(f Figures, s Settings) int {
	return int(math.Ceil(min(f.Unscouted/(math.Pi*f.Reach*f.Reach), f.share(f.Unscouted)*float64(s.LeastStops))))
}

// round is what is left of a walk round each hot place inside that had none, or a walk
// round as many as are few.
func round(f Figures, s Settings) int {
	all := f.unwalked() * s.LeastInside
	if f.hotPlaces() > fewOver {
		return all
	}
	return all - f.Begun
}

// fewHot reports that a few stops inside are over the threshold while the mean, below it,
// may be over as well, and that no map that is believed tells a spot of them. What is
// expected to be lost does not tell then: it ends where a stop's crop is lost, and all
// that is known of such a spot is that stop. A spot shows in ground of several stops, or
// of one where treating it is expected to cost least: on simulated fields those walked
// round besides cost no less. Of a map that is believed it shows in less, where the
// stops near them bear out the hot ones. Who has walked round them with extra stops is not
// asked again, and a hot stop beside a hot one tells of a spot as well as a map does.
// Mild ones are left.
func (f Figures) fewHot() bool {
	least := 1.0
	if f.Sums.Best() != decision.Zone {
		least = several
	}
	spot := (f.Believed || f.Patches > 0) && f.TreatArea >= least*perStop(f) || f.Believed && f.borneOut()
	return f.unwalked() > 0 && f.hotPlaces() <= fewOver && straddles(f) && !f.meanOver() && !spot && !f.mild()
}

// oneSpot reports that the treat zone rests on one stop that no other bears out. No map can
// know a hot spot of one stop. Of 1,920 simulated fields 0.03 more were asked to walk round one
// that others bear out, which saved next to nothing: it was hardly over the level, and its
// ground small.
func (f Figures) oneSpot() bool { return f.Over == 1 && f.unwalked() == 1 && f.alone() }

// leaves reports that hot stops of a map that is not believed are no reason to walk on:
// nothing is expected to be won by treating, and the mean is surely below, or what more
// stops would save is too little. A few hot stops in a close call are a reason, unless
// they are mild. Of more a walk settles nothing, as it cannot go round each: where
// treating is expected to win next to nothing they are left.
func (f Figures) leaves(s Settings) bool {
	if f.hotPlaces() > fewOver && f.Sums.LeastBut(littleWon) == decision.Nothing {
		return true
	}
	if f.hotPlaces() <= fewOver && f.Sums.Close(decision.Nothing) && f.unwalked() > 0 {
		return f.mild()
	}
	nothing := f.Sums.Best() == decision.Nothing || f.Sums.Close(decision.Nothing)
	return nothing && (!straddles(f) || !f.walkPays(s))
}

// mild reports that few hot stops are no reason to walk on: others near bear them out,
// none is very hot, treating is expected to win next to nothing, and the mean is surely
// below the threshold, or would be with twice of all that was counted. Where two or three
// of many stops hold the pest the high end of the mean is the highest stop, which tells
// nothing. On 1,920 simulated fields to leave them costs 0.0003 a hectare more over all; of
// 960 without a pattern 0.2 were asked to walk on so, and to leave them costs 0.003 less.
func (f Figures) mild() bool {
	below := f.High < f.Treat || 2*max(f.Stats.Mean, f.Stats.Edge.InteriorMean) < f.Treat
	return below && f.borneOut() && f.Stats.Max < veryHot*f.Treat && f.Sums.LeastBut(littleSaved) == decision.Nothing
}

// littleWon is the part of a treatment of the field that treating by a map that is not
// believed must be expected to win to be worth a walk round many hot stops. On simulated
// fields without a pattern those left so cost 0.003 less, and on others 0.0003 more.
const littleWon = 0.05

// hot reports that treating would be considered at all.
func hot(f Figures) bool { return f.TreatArea > 0 && f.OverInside > 0 || f.meanAt() }

// warm reports that stops, or the mean as far as can be known, reach the watch level.
func warm(f Figures) bool { return f.Warm > 0 || f.High >= f.Watch }

// straddles reports that the mean may lie on either side of the threshold.
func straddles(f Figures) bool { return f.Low < f.Treat && f.High >= f.Treat }

func soon(_ Figures, s Settings) float64 { return s.RevisitFound }

// soonest is the next day where the mean is at the threshold, be it by a single place.
func soonest(f Figures, s Settings) float64 {
	if f.meanAt() {
		return 1
	}
	return soon(f, s)
}

// DaysUntilOver is how many days go by, at the rate known, until a mean below the threshold
// is at it; +Inf where no growth is known or nothing is there to grow, 0 or less of a mean
// that is there already.
func (f Figures) DaysUntilOver(mean float64) float64 {
	if !(f.Doubling > 0 && mean > 0) {
		return math.Inf(1)
	}
	return f.Doubling * math.Log2(f.Treat/mean)
}

// Left is the mean of the ground that is not sprayed before the next look: beside the treat
// zone of a map that is believed that of the surface, else that of the stops; NaN where none
// is left. A spot job that was right today is too small once that is over the threshold; one
// for the whole field stays right.
func (v Verdict) Left() float64 {
	k := v.Kind
	if k == Undecided {
		k = v.Instead
	}
	switch {
	case k == TreatWhole:
		return math.NaN()
	case k == SpotSpray && v.Believed:
		return v.RestMean
	}
	return v.Stats.Mean
}

// beforeOver is how many days at the most go by until the next look, and until a spray at the
// latest: at the rate known the ground that is left is not over the threshold by then. The next
// day is the soonest; of a mean that is there already a line of its own tells.
func (v Verdict) beforeOver(days float64) float64 {
	left := v.Left()
	if !(left < v.Treat) {
		return days
	}
	return min(days, max(1, math.Floor(v.DaysUntilOver(left))))
}

// growing is when the watched ground, at the rate known, is over the threshold:
// not before the visit once colonies are found, not after the usual one.
func growing(f Figures, s Settings) float64 {
	over := f.DaysUntilOver(f.Stats.Max)
	if math.IsInf(over, 1) {
		return s.RevisitFound
	}
	return min(s.Revisit, max(s.RevisitFound, math.Floor(over)))
}
