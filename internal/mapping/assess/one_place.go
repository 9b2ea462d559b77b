package assess

import (
	"math"

	"github.com/geocoris/geocoris/interp"
)

// samePlace is how near a stop is to another, in metres, to be at its place: phones are off
// by about as much (GPS.gov: 4.9 m in the open, 95 %). Two scouts who count the same stops
// stand so near, and either would give the other away.
const samePlace = 5

// atPlaces are samples with each that is at the place of an earlier one moved there, so
// that those of one place are left out together, and how many places there are.
func atPlaces(samples []interp.Sample) (moved []interp.Sample, places int) {
	type cell struct{ col, row float64 }
	moved = append(moved, samples...)
	first := map[cell][]int{} // of each place, by squares that are as wide as a place
	for i, s := range samples {
		col, row := math.Floor(s.X/samePlace), math.Floor(s.Y/samePlace)
		nearest, least := -1, float64(samePlace*samePlace)
		for dc := -1.0; dc <= 1; dc++ {
			for dr := -1.0; dr <= 1; dr++ {
				for _, k := range first[cell{col + dc, row + dr}] {
					dx, dy := samples[k].X-s.X, samples[k].Y-s.Y
					if d2 := float64(dx*dx) + float64(dy*dy); d2 <= least && (nearest < 0 || d2 < least || k < nearest) {
						nearest, least = k, d2
					}
				}
			}
		}
		if nearest >= 0 {
			moved[i].X, moved[i].Y = samples[nearest].X, samples[nearest].Y
			continue
		}
		first[cell{col, row}] = append(first[cell{col, row}], i)
		places++
	}
	return moved, places
}
