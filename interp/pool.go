package interp

import (
	"fmt"
	"math"
)

// maxCoordinate bounds samples in metres, so that squared distances and their
// powers stay finite. No point on earth is farther from another.
const maxCoordinate = 1e8

// maxValue bounds the size of values, so that weighted sums stay finite.
const maxValue = 1e15

// check refuses samples that no predictor can take.
func check(samples []Sample) error {
	if len(samples) == 0 {
		return fmt.Errorf("interp: no samples")
	}
	for i, s := range samples {
		switch {
		case !(math.Abs(s.X) <= maxCoordinate && math.Abs(s.Y) <= maxCoordinate):
			return fmt.Errorf("interp: sample %d at %g, %g: want finite metres within ±%g", i+1, s.X, s.Y, maxCoordinate)
		case !(math.Abs(s.Value) <= maxValue):
			return fmt.Errorf("interp: sample %d has the value %g: want a finite number within ±%g", i+1, s.Value, maxValue)
		case !(s.Share >= 0 && s.Share <= maxValue):
			return fmt.Errorf("interp: sample %d has the share %g: want a number from 0 to %g", i+1, s.Share, maxValue)
		case !(s.Weight >= 0 && s.Weight <= maxValue):
			return fmt.Errorf("interp: sample %d has the weight %g: want a number from 0 to %g", i+1, s.Weight, maxValue)
		}
	}
	return nil
}

// Pool makes one sample of those that share a place: their values are averaged
// by weight, and the weights added up. The order is that of first appearance.
// Samples alone at their place are unchanged.
func Pool(samples []Sample) []Sample {
	pooled, _ := pool(samples)
	return pooled
}

// pool also returns which pooled sample each one went to.
func pool(samples []Sample) (pooled []Sample, at []int) {
	type place struct{ x, y uint64 } // bits, since maps of them are faster
	index := make(map[place]int, len(samples))
	pooled, at = make([]Sample, 0, len(samples)), make([]int, len(samples))
	for i, s := range samples {
		key := place{math.Float64bits(s.X + 0), math.Float64bits(s.Y + 0)} // −0 and 0 are one place
		k, known := index[key]
		if !known {
			k = len(pooled)
			index[key] = k
			pooled = append(pooled, s)
		} else {
			pooled[k] = merged(pooled[k], s)
		}
		at[i] = k
	}
	return pooled, at
}

func merged(a, b Sample) Sample {
	wa, wb := effort(a), effort(b)
	a.Value += (b.Value - a.Value) * (wb / (wa + wb))
	a.Weight = wa + wb
	if a.Share != 0 || b.Share != 0 {
		a.Share = share(a) + share(b)
	}
	return a
}

// effort is the weight with its default.
func effort(s Sample) float64 {
	if s.Weight == 0 {
		return 1
	}
	return s.Weight
}

// share is the part of a say with its default.
func share(s Sample) float64 {
	if s.Share == 0 {
		return 1
	}
	return s.Share
}
