package fieldstats

import (
	"cmp"
	"math"
	"slices"

	"github.com/geocoris/geocoris/internal/scouting/layout"
	"github.com/geocoris/geocoris/internal/sorted"
	"github.com/geocoris/geocoris/internal/stat"
)

// A Summary is what the planned stops say of a field: all of them where none was
// planned, since extra ones stand where there is most.
type Summary struct {
	Stops        int // that are summed up
	Doubled      int // of them at the place of another ([layout.SamePlace]): no two scouts make two places of one
	Extra        int // that are not, but for Max
	Mean         float64
	Interval     Interval // of the mean
	Level        float64  // of all intervals
	Median       float64
	Max          float64
	Variance     float64     // between stops
	VarianceMean float64     // variance to mean; NaN where the mean is 0
	AtOrAbove    *Proportion // of units, nil where not given
	Infested     *Proportion // of units, nil where not given
	Found        Proportion  // of stops
	Moran        *Autocorrelation
	Edge         Edge
	Strongest    *Influence // nil for fewer than two stops
	Layout       layout.Layout
}

// Places is how many places the stops that are summed up stand at.
func (s Summary) Places() int { return s.Stops - s.Doubled }

// AtPlaces are the means of the stops at each place.
func AtPlaces(stops []Stop) (means []float64) {
	at := make([][2]float64, len(stops))
	for i, s := range stops {
		at[i] = [2]float64{s.X, s.Y}
	}
	of, _ := layout.Places(at)
	sums, n := make([]float64, len(stops)), make([]float64, len(stops))
	for i, k := range of {
		sums[k], n[k] = sums[k]+stops[i].Value, n[k]+1
	}
	for k, sum := range sums {
		if n[k] > 0 {
			means = append(means, sum/n[k])
		}
	}
	return means
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
// compared with each other for autocorrelation. What the stops do not tell is nil.
func (s Settings) Describe(stops []Stop, near float64) Summary {
	of := planned(stops)
	v, places := values(of), AtPlaces(of)
	interval := make(chan Interval, 1)
	go func() { interval <- s.MeanInterval(places) }() // beside what else is drawn
	d := Summary{
		Stops: len(v), Doubled: len(v) - len(places), Extra: len(stops) - len(v), Mean: Mean(v), Level: s.level(), Median: Median(v),
		Variance: Variance(v), Found: s.InfestedStops(of), Edge: EdgeAgainstInterior(of), Max: math.Inf(-1),
	}
	for _, stop := range stops {
		d.Max = max(d.Max, stop.Value)
	}
	d.VarianceMean = math.NaN()
	if d.Mean > 0 {
		d.VarianceMean = d.Variance / d.Mean
	}
	if p, ok := s.AtOrAbove(of); ok {
		d.AtOrAbove = &p
	}
	if p, ok := s.InfestedUnits(of); ok {
		d.Infested = &p
	}
	placed := byPlace(of)
	if a, err := s.Moran(values(placed), Within(placed, near)); err == nil {
		d.Moran = &a
	}
	if in, ok := Strongest(v); ok {
		in.Stop = numberAmong(stops, in.Stop, d.Extra > 0)
		d.Strongest = &in
	}
	d.Interval = <-interval
	return d
}

// byPlace are stops from west to east, so that what is drawn for them does not depend on
// the order of their rows.
func byPlace(stops []Stop) []Stop {
	order := make([]int, len(stops))
	for i := range order {
		order[i] = i
	}
	sorted.By(order, func(i, k int) int {
		a, b := &stops[i], &stops[k]
		return cmp.Or(cmp.Compare(a.X, b.X), cmp.Compare(a.Y, b.Y), cmp.Compare(a.Value, b.Value), i-k)
	})
	placed := make([]Stop, len(stops))
	for n, i := range order {
		placed[n] = stops[i]
	}
	return placed
}

// numberAmong is the number among all stops of one that has a number among those
// summed up; some says that some were left out.
func numberAmong(stops []Stop, number int, some bool) int {
	if !some {
		return number
	}
	for i, stop := range stops {
		if stop.Extra {
			continue
		}
		if number == 0 {
			return i
		}
		number--
	}
	return -1
}
