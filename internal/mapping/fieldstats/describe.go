package fieldstats

import (
	"math"
	"slices"

	"github.com/geocoris/geocoris/internal/scouting/layout"
	"github.com/geocoris/geocoris/internal/stat"
)

// A Summary is what the stops say of a field.
type Summary struct {
	Stops        int
	Mean         float64
	Interval     Interval // of the mean
	Level        float64  // of all intervals
	Median       float64
	Max          float64
	Variance     float64     // between stops
	VarianceMean float64     // variance to mean; NaN where the mean is 0
	AtOrAbove    *Proportion // of units, nil where not told
	Infested     *Proportion // of units, nil where not told
	Found        Proportion  // of stops
	Moran        *Autocorrelation
	Edge         Edge
	Strongest    *Influence // nil for fewer than two stops
	Layout       layout.Layout
}

func planned(stops []Stop) []Stop {
	out := slices.DeleteFunc(slices.Clone(stops), func(s Stop) bool { return s.Extra })
	if len(out) == 0 {
		return stops
	}
	return out
}

// Over is the summary of stops that lie so over their field: where they span little
// of it they tell nothing of its mean, and the interval is unknown.
func (s Summary) Over(l layout.Layout) Summary {
	s.Layout = l
	if l.Partial() {
		s.Interval = stat.Unknown()
	}
	return s
}

// Describe sums up a field; near is the distance in metres within which stops are
// compared with each other for autocorrelation. The mean and its interval are of the
// planned stops, of all where none was planned: extra ones stand where there is most. What the stops do not tell is nil.
func (s Settings) Describe(stops []Stop, near float64) Summary {
	v, of := values(stops), values(planned(stops))
	d := Summary{
		Stops: len(v), Mean: Mean(of), Interval: s.MeanInterval(of), Level: s.level(), Median: Median(v),
		Variance: Variance(v), Found: s.InfestedStops(stops), Edge: EdgeAgainstInterior(stops), Max: math.Inf(-1),
	}
	for _, x := range v {
		d.Max = max(d.Max, x)
	}
	d.VarianceMean = math.NaN()
	if d.Mean > 0 {
		d.VarianceMean = d.Variance / d.Mean
	}
	if p, ok := s.AtOrAbove(stops); ok {
		d.AtOrAbove = &p
	}
	if p, ok := s.InfestedUnits(stops); ok {
		d.Infested = &p
	}
	if a, err := s.Moran(v, Within(stops, near)); err == nil {
		d.Moran = &a
	}
	if in, ok := Strongest(v); ok {
		d.Strongest = &in
	}
	return d
}
