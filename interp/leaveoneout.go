package interp

import "math"

// LeftOut is what the other samples say of the place of one that was left out.
type LeftOut struct {
	Value    float64 // NaN where they say nothing
	Distance float64 // metres to the nearest of the others; +Inf without any
}

// LeaveOneOut predicts each sample from all that lie elsewhere, in the order of
// the samples: those that share a place are left out together, as either would
// give the other away. It equals fitting anew without them, at the price of one
// fit. Errors are those of [IDW.Fit].
func (s IDW) LeaveOneOut(samples []Sample) ([]LeftOut, error) {
	if err := s.Validate(); err != nil {
		return nil, err
	}
	if err := check(samples); err != nil {
		return nil, err
	}
	pooled, at := pool(samples)
	w := newWeighting(s.WithDefaults(), pooled)
	each := make([]LeftOut, len(pooled))
	for k, p := range pooled {
		each[k].Value, each[k].Distance = w.without(p.X, p.Y, int32(k))
	}
	out := make([]LeftOut, len(samples))
	for i, k := range at {
		out[i] = each[k]
	}
	if len(pooled) == 1 {
		for i := range out {
			out[i] = LeftOut{Value: math.NaN(), Distance: math.Inf(1)}
		}
	}
	return out, nil
}
