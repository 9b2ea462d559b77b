package scene

import "math"

// usualMap is the longer side of a map that stops are sized for, where maps share a
// scale, in mm.
const usualMap = 100

// OneScale gives maps that are looked at together one scale of stops, as those of all
// fields and weeks of a run: a count has a disc of one size on all of them. The highest
// count of all has the full size, which the most crowded map leaves room for. One map
// stays as it is.
func OneScale(subjects []Subject) []Subject {
	if len(subjects) < 2 {
		return subjects
	}
	most, full := 0.0, math.Inf(1)
	for _, s := range subjects {
		if s.Field.Scouted() {
			most = max(most, s.Field.Max)
			full = min(full, s.full(plotInto(s.bound(), Point{}, usualMap, usualMap), 1))
		}
	}
	out := append([]Subject(nil), subjects...)
	for i := range out {
		out[i].Most = most
		if !math.IsInf(full, 1) {
			out[i].Full = full
		}
	}
	return out
}
