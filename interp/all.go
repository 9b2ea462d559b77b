package interp

import "math"

// all weighs every sample by 1/dᵖ. The loops hold no branch: a sample on the
// place, and sums beyond what a float holds, show in the result and are worked
// out again with care.
func (w *weighting) all(x, y float64, skip int32) float64 {
	if skip == none && math.IsInf(w.radius, 1) && w.shares == nil {
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
		if normal(weights) {
			return w.ratio(sum, weights)
		}
	}
	return w.allWithCare(x, y, skip)
}

// normal tells weights of normal size: neither 0, nor denormal, nor beyond the
// range, nor NaN.
func normal(weights float64) bool { return weights > 1e-140 && weights < 1e140 }

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

// sums2 takes samples by twos, so that they share a division, the dearest step:
// v/a + u/b = (v·b + u·a)/(a·b).
func (w *weighting) sums2(x, y float64) (sum, weights float64) {
	xs, ys, values := w.xs, w.ys, w.values
	for len(xs) >= 2 && len(ys) >= 2 && len(values) >= 2 {
		ax, ay := xs[0]-x, ys[0]-y
		bx, by := xs[1]-x, ys[1]-y
		a := float64(ax*ax) + float64(ay*ay)
		b := float64(bx*bx) + float64(by*by)
		r := 1 / float64(a*b)
		sum += float64((float64(values[0]*b) + float64(values[1]*a)) * r)
		weights += float64((a + b) * r)
		xs, ys, values = xs[2:], ys[2:], values[2:]
	}
	if len(xs) == 1 {
		ax, ay := xs[0]-x, ys[0]-y
		r := 1 / (float64(ax*ax) + float64(ay*ay))
		sum += float64(values[0] * r)
		weights += r
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
		weight := w.shared(w.weigh.ofSquare(nearest/d2), int32(i))
		sum += float64(weight * w.values[i])
		weights += weight
	}
	return w.ratio(sum, weights)
}
