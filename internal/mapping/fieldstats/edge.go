package fieldstats

import "math"

// EdgeStrip is how near the edge, in metres, a stop tells of the edge rather than
// of the field: counting starts 25 ft (7.6 m) inside (Texas A&M AgriLife; Alabama
// Extension 2015).
const EdgeStrip = 8

// Edge compares the stops on the edge with those inside.
type Edge struct {
	EdgeStops, InteriorStops int
	EdgeMean, InteriorMean   float64 // NaN where there are none
}

// EdgeAgainstInterior parts the planned stops, or all where none was planned, at
// [EdgeStrip].
func EdgeAgainstInterior(stops []Stop) Edge {
	edge, inside := []float64{}, []float64{}
	for _, s := range planned(stops) {
		if s.Inside < EdgeStrip {
			edge = append(edge, s.Value)
		} else {
			inside = append(inside, s.Value)
		}
	}
	return Edge{len(edge), len(inside), Mean(edge), Mean(inside)}
}

// Influence is what one stop does to the field's mean.
type Influence struct {
	Stop    int     // its number
	Without float64 // the mean without it; NaN where it is the only one
	Change  float64 // the mean less Without
}

// Influences are those of all stops, in their order.
func Influences(v []float64) []Influence {
	n := float64(len(v))
	m := Mean(v)
	all := make([]Influence, len(v))
	for i, x := range v {
		without := m + (m-x)/(n-1)
		if len(v) < 2 {
			without = math.NaN()
		}
		all[i] = Influence{Stop: i, Without: without, Change: m - without}
	}
	return all
}

// Strongest is the stop that moves the mean the most, the first of several; ok is
// false for fewer than two stops.
func Strongest(v []float64) (in Influence, ok bool) {
	if len(v) < 2 {
		return Influence{}, false
	}
	for i, x := range Influences(v) {
		if i == 0 || math.Abs(x.Change) > math.Abs(in.Change) {
			in = x
		}
	}
	return in, true
}
