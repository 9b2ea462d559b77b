package paired

import (
	"errors"
	"fmt"
	"math"

	"github.com/geocoris/geocoris/internal/stat"
)

// Groups are the stops inside and outside treated ground, before and after.
// Without a before, both Before are empty.
type Groups struct {
	TreatedBefore, TreatedAfter []float64
	CheckBefore, CheckAfter     []float64
	// Matched says that before and after are the same places, stop by stop.
	Matched bool
}

// The formulas of efficacy, with a count before and without.
const (
	HendersonTilton = "Henderson–Tilton"
	Abbott          = "Abbott"
)

// Efficacy is how much of the pest a treatment took, in % of what would be there
// without it.
type Efficacy struct {
	Formula  string // [HendersonTilton] or [Abbott]
	Percent  float64
	Interval Interval
}

// FewestAfter is how many stops of a side tell an efficacy where nobody counted before. A
// treatment that did nothing seemed to have worked in 9 of 100 invented fields with 3 to 6 stops
// inside and 30 outside, in 8 with 8 or 10 (TestNothingDoneSeldomSeemsToHaveWorked); with a count
// before in none to 4, from [FewestPlaces] on. Our choice, no source.
const FewestAfter = 8

// ErrTooFew is that too few stops were counted to tell an efficacy.
var ErrTooFew = errors.New("too few stops to tell")

// tooFew is [ErrTooFew] with the numbers; nil where there are enough.
func (g Groups) tooFew() error {
	before, fewest := len(g.TreatedBefore)+len(g.CheckBefore) > 0, FewestAfter
	least := min(len(g.TreatedAfter), len(g.CheckAfter))
	if before {
		least, fewest = min(least, len(g.TreatedBefore), len(g.CheckBefore)), FewestPlaces
	}
	switch {
	case least >= fewest:
		return nil
	case before:
		return fmt.Errorf("%w: inside %d before and %d after, outside %d and %d: want %d or more of each", ErrTooFew, len(g.TreatedBefore), len(g.TreatedAfter), len(g.CheckBefore), len(g.CheckAfter), fewest)
	}
	return fmt.Errorf("%w: inside %d, outside %d, and not both counted before: want %d or more of each", ErrTooFew, len(g.TreatedAfter), len(g.CheckAfter), fewest)
}

// Worked measures the efficacy of a treatment.
//
// With a before it is Henderson & Tilton 1955 (J. Econ. Entomol. 48:157–161; from
// memory), 100·(1 − Ta·Cb/(Tb·Ca)), which allows for what was there before and
// for what happened outside. Without, it is Abbott 1925 (J. Econ. Entomol.
// 18:265–267; from memory), 100·(1 − Ta/Ca), which takes inside and outside as
// equal before.
//
// Groups without stops are an error that says so; fewer than [FewestPlaces] in one, or than
// [FewestAfter] without a before, are [ErrTooFew]; and an error is a mean of 0 in Tb, Cb
// or Ca: where the check was empty it tells nothing of what would have happened,
// though the formula, with Cb = 0, would say 100. Of the four only Ta may be 0: it
// is 100 then, without an interval.
func Worked(g Groups, set Settings) (Efficacy, error) {
	if err := set.Validate(); err != nil {
		return Efficacy{}, err
	}
	if len(g.TreatedAfter) == 0 || len(g.CheckAfter) == 0 {
		return Efficacy{}, errors.New("efficacy needs stops inside and outside the treated ground after the treatment")
	}
	if g.Matched && (len(g.TreatedBefore) != len(g.TreatedAfter) || len(g.CheckBefore) != len(g.CheckAfter)) {
		return Efficacy{}, errors.New("efficacy: matched stops want as many before as after")
	}
	formula, ratio := HendersonTilton, g.hendersonTilton()
	if len(g.TreatedBefore) == 0 || len(g.CheckBefore) == 0 {
		g.TreatedBefore, g.CheckBefore = nil, nil
		formula, ratio = Abbott, logRatio{strata: []stratum{{over: g.TreatedAfter}, {under: g.CheckAfter}}}
	}
	if err := g.tooFew(); err != nil {
		return Efficacy{Formula: formula, Percent: math.NaN(), Interval: stat.Unknown()}, err
	}
	if where := g.empty(); where != "" {
		return Efficacy{Formula: formula, Percent: math.NaN(), Interval: stat.Unknown()},
			fmt.Errorf("nothing was found %s, so nothing says what would be there without the treatment", where)
	}
	percent, interval := set.less(ratio)
	return Efficacy{Formula: formula, Percent: percent, Interval: interval}, nil
}

// Fell tells how much less was found after than before, in % of before, at places
// that are the same stop by stop where matched says so. It has no check, so it is
// no efficacy: what would have happened anyway is in it. Sides without stops, or
// nothing found before, are an error.
func Fell(before, after []float64, matched bool, set Settings) (percent float64, interval Interval, err error) {
	switch {
	case len(before) == 0 || len(after) == 0:
		return math.NaN(), stat.Unknown(), errors.New("no stops inside before and after")
	case matched && len(before) != len(after):
		return math.NaN(), stat.Unknown(), errors.New("matched stops want as many before as after")
	case stat.Mean(before) == 0:
		return math.NaN(), stat.Unknown(), errors.New("nothing was found inside before")
	}
	if err := set.Validate(); err != nil {
		return math.NaN(), stat.Unknown(), err
	}
	ratio := logRatio{strata: []stratum{{over: after}, {under: before}}}
	if matched {
		ratio.strata = []stratum{{over: after, under: before}}
	}
	percent, interval = set.less(ratio)
	return percent, interval, nil
}

// less is how much less than the whole a ratio is, in %, with its interval; of
// none left the spread is not known.
func (s Settings) less(ratio logRatio) (percent float64, interval Interval) {
	log, _ := ratio.of(ratio.whole())
	if percent = percentLess(log); percent == 100 {
		return percent, stat.Unknown()
	}
	logs := s.interval(ratio)
	return percent, Interval{Low: percentLess(logs.High), High: percentLess(logs.Low)}
}

// empty names the group that a formula cannot do with at 0; "" where none is.
func (g Groups) empty() string {
	for _, group := range []struct {
		values []float64
		where  string
	}{{g.TreatedBefore, "inside before"}, {g.CheckBefore, "outside before"}, {g.CheckAfter, "outside after"}} {
		if len(group.values) > 0 && stat.Mean(group.values) == 0 {
			return group.where
		}
	}
	return ""
}

// hendersonTilton is Ta·Cb/(Tb·Ca): matched places are drawn as such.
func (g Groups) hendersonTilton() logRatio {
	if g.Matched {
		return logRatio{strata: []stratum{{over: g.TreatedAfter, under: g.TreatedBefore}, {over: g.CheckBefore, under: g.CheckAfter}}}
	}
	return logRatio{strata: []stratum{{over: g.TreatedAfter}, {under: g.TreatedBefore}, {over: g.CheckBefore}, {under: g.CheckAfter}}}
}

// percentLess is how much less than the whole a ratio is, in %.
func percentLess(log float64) float64 { return 100 * (1 - math.Exp(log)) }
