package fieldstats

import "math"

// StopsToSettle is how many stops in all would part the mean from a threshold, if
// mean and scatter stay what they are: the interval narrows with the root of their
// number, so n·(width on the threshold's side/gap)². It is no fewer than there are,
// +Inf where the mean is the threshold, and NaN where no spread can be known.
func (s Summary) StopsToSettle(threshold float64) float64 {
	if !s.Interval.Known() || math.IsNaN(s.Mean) || math.IsNaN(threshold) {
		return math.NaN()
	}
	width, gap := s.Interval.High-s.Mean, threshold-s.Mean
	if gap <= 0 {
		width, gap = s.Mean-s.Interval.Low, -gap
	}
	if gap == 0 {
		return math.Inf(1)
	}
	ratio := width / gap
	return max(float64(s.Stops), math.Ceil(float64(s.Stops)*float64(ratio*ratio)))
}
