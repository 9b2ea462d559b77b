package paired

import (
	"errors"
	"math"
)

// Groups are the stops inside and outside treated ground, before and after.
// Without a before, both Before are empty.
type Groups struct {
	TreatedBefore, TreatedAfter []float64
	CheckBefore, CheckAfter     []float64
	// Matched says that before and after are the same places, stop by stop.
	Matched bool
}

// Efficacy is how much of the pest a treatment took, in % of what would be there
// without it.
type Efficacy struct {
	Formula  string // "Henderson–Tilton" or "Abbott"
	Percent  float64
	Interval Interval
}

// Worked measures the efficacy of a treatment.
//
// With a before it is Henderson & Tilton 1955 (J. Econ. Entomol. 48:157–161; from
// memory), 100·(1 − Ta·Cb/(Tb·Ca)), which allows for what was there before and
// for what happened outside. Without, it is Abbott 1925 (J. Econ. Entomol.
// 18:265–267; from memory), 100·(1 − Ta/Ca), which takes inside and outside as
// equal before. Groups without stops, or a mean of 0 where the formula divides,
// are an error that says so.
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
	formula, ratio := "Henderson–Tilton", g.hendersonTilton()
	if len(g.TreatedBefore) == 0 || len(g.CheckBefore) == 0 {
		formula, ratio = "Abbott", logRatio{strata: []stratum{{over: g.TreatedAfter}, {under: g.CheckAfter}}}
	}
	log, _ := ratio.of(ratio.whole())
	e := Efficacy{Formula: formula, Percent: percentLess(log), Interval: unknown()}
	if math.IsNaN(e.Percent) || math.IsInf(e.Percent, 0) {
		return e, errors.New("efficacy cannot be told: nothing was found where the formula divides by it (inside before, or outside after)")
	}
	if e.Percent < 100 { // of none left the spread is not known
		logs := set.interval(ratio)
		e.Interval = Interval{percentLess(logs.High), percentLess(logs.Low)}
	}
	return e, nil
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
