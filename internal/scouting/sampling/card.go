package sampling

import "math"

// A CardLine is what the lines ask for after a number of stops of equal size.
type CardLine struct {
	Stops    int
	Units    float64
	Under    float64 // stop, under, at this total or less; below 0 where no total is
	Over     float64 // stop, over (or enough), at this total or more
	UnderNow bool    // some total is under
	OverNow  bool    // some total can be over: for shares not more than Units
}

// Card lists the lines from the least number of stops to the most, for stops of
// perStop units. Totals are whole numbers, since insects are.
func Card(rule Rule, set Settings, perStop float64) []CardLine {
	set = set.withDefaults()
	var out []CardLine
	for stops := set.Least; stops <= set.Most; stops++ {
		n := float64(stops) * perStop
		lower, upper := rule.Bounds(n)
		l := CardLine{Stops: stops, Units: n, Under: math.Floor(lower), Over: math.Ceil(upper)}
		l.UnderNow = lower >= 0
		w, ok := rule.(Wald)
		l.OverNow = !(ok && w.Distribution == Binomial && l.Over > n)
		if !l.UnderNow {
			l.Under = -1
		}
		out = append(out, l)
	}
	return out
}
