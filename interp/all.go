package interp

import "math"

// all weighs every sample by 1/dᵖ. The loops hold no branch: a sample on the
// place, and sums beyond what a float holds, show in the result and are worked
// out again with care.
func (w *weighting) all(x, y float64, skip int32) float64 {
	if skip == none && math.IsInf(w.radius, 1) {
		var sum, weights float64
		switch w.weigh {
		case 1:
			sum, weights = w.sums1(x, y)
		case 2:
			sum, weights = w.sums2(x, y)
		case 3:
			sum, weights = w.sums3(x, y)
		case 4:
			sum, weights = w.sums4(x, y)
		}
		// Weights of normal size: neither 0, nor denormal, nor beyond the range.
		if weights > 1e-280 && weights < 1e280 {
			return sum / weights
		}
	}
	return w.allWithCare(x, y, skip)
}

func (w *weighting) sums1(x, y float64) (sum, weights float64) {
	ys, values := w.ys[:len(w.xs)], w.values[:len(w.xs)]
	for i, sx := range w.xs {
		dx, dy := sx-x, ys[i]-y
		weight := 1 / math.Sqrt(float64(dx*dx)+float64(dy*dy))
		sum += float64(weight * values[i])
		weights += weight
	}
	return sum, weights
}

func (w *weighting) sums2(x, y float64) (sum, weights float64) {
	ys, values := w.ys[:len(w.xs)], w.values[:len(w.xs)]
	for i, sx := range w.xs {
		dx, dy := sx-x, ys[i]-y
		weight := 1 / (float64(dx*dx) + float64(dy*dy))
		sum += float64(weight * values[i])
		weights += weight
	}
	return sum, weights
}

func (w *weighting) sums3(x, y float64) (sum, weights float64) {
	ys, values := w.ys[:len(w.xs)], w.values[:len(w.xs)]
	for i, sx := range w.xs {
		dx, dy := sx-x, ys[i]-y
		d2 := float64(dx*dx) + float64(dy*dy)
		weight := 1 / (d2 * math.Sqrt(d2))
		sum += float64(weight * values[i])
		weights += weight
	}
	return sum, weights
}

func (w *weighting) sums4(x, y float64) (sum, weights float64) {
	ys, values := w.ys[:len(w.xs)], w.values[:len(w.xs)]
	for i, sx := range w.xs {
		dx, dy := sx-x, ys[i]-y
		d2 := float64(dx*dx) + float64(dy*dy)
		weight := 1 / (d2 * d2)
		sum += float64(weight * values[i])
		weights += weight
	}
	return sum, weights
}

// allWithCare weighs by (d₀/d)ᵖ, knows the radius, and can pass over a sample.
func (w *weighting) allWithCare(x, y float64, skip int32) float64 {
	nearest := math.Inf(1)
	for i, sx := range w.xs {
		dx, dy := sx-x, w.ys[i]-y
		if d2 := float64(dx*dx) + float64(dy*dy); d2 < nearest && w.id[i] != skip {
			if d2 == 0 {
				return w.values[i]
			}
			nearest = d2
		}
	}
	var sum, weights float64
	for i, sx := range w.xs {
		dx, dy := sx-x, w.ys[i]-y
		d2 := float64(dx*dx) + float64(dy*dy)
		if d2 > w.radius || w.id[i] == skip {
			continue
		}
		weight := w.weigh.ofSquare(nearest / d2)
		sum += float64(weight * w.values[i])
		weights += weight
	}
	return sum / weights // 0/0, no sample within the radius, is NaN
}
