package assess

import (
	"github.com/geocoris/geocoris/internal/scouting/layout"
	"github.com/geocoris/geocoris/interp"
)

// atPlaces are samples with each that is at the place of an earlier one moved there, so
// that those of one place are left out together, and how many places there are. Two scouts
// who count the same stops stand so near that either would give the other away.
func atPlaces(samples []interp.Sample) (moved []interp.Sample, places int) {
	at := make([][2]float64, len(samples))
	for i, s := range samples {
		at[i] = [2]float64{s.X, s.Y}
	}
	moved = append(moved, samples...)
	of, places := layout.Places(at)
	for i, k := range of {
		moved[i].X, moved[i].Y = samples[k].X, samples[k].Y
	}
	return moved, places
}
