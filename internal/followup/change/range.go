package change

import "math"

// A Range holds an area between two ends; both are NaN where it is not known.
type Range struct{ Low, High float64 }

// InDoubt is the range of an area that is in doubt for two reasons that have nothing to
// do with one another, such as the growth of what is there and the map of it: on each
// side the root of the sum of squares of how far either reaches, within 0 and the whole.
// A range that is not known adds nothing.
func InDoubt(area, whole float64, reasons ...Range) Range {
	var below, above float64
	for _, r := range reasons {
		if d := area - r.Low; d > 0 {
			below += float64(d * d)
		}
		if d := r.High - area; d > 0 {
			above += float64(d * d)
		}
	}
	return Range{max(0, area-math.Sqrt(below)), min(max(whole, area), area+math.Sqrt(above))}
}
