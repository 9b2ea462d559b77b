package assess

import (
	"math"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/internal/scouting/layout"
	"github.com/geocoris/geocoris/interp"
)

// atPlaces are samples with each that is at the place of an earlier one moved there, so
// that those of one place are left out together, and how many places there are. Two scouts
// who count the same stops stand so near that either would give the other away.
func atPlaces(samples []interp.Sample) (moved []interp.Sample, places int) {
	at := make([]orb.Point, len(samples))
	for i, s := range samples {
		at[i] = orb.Point{s.X, s.Y}
	}
	moved = append(moved, samples...)
	at, places = toPlaces(at)
	for i, p := range at {
		moved[i].X, moved[i].Y = p[0], p[1]
	}
	return moved, places
}

// toPlaces moves each point to the nearest earlier one that stands for a place and is nearer
// than [layout.SamePlace], the first of those as near; else it stands for a place itself.
func toPlaces(at []orb.Point) (moved []orb.Point, places int) {
	type cell struct{ col, row float64 }
	moved = append(moved, at...)
	first := map[cell][]int{} // by squares that are as wide as a place
	for i, p := range at {
		col, row := math.Floor(p[0]/layout.SamePlace), math.Floor(p[1]/layout.SamePlace)
		nearest, least := -1, float64(layout.SamePlace*layout.SamePlace)
		for dc := -1.0; dc <= 1; dc++ {
			for dr := -1.0; dr <= 1; dr++ {
				for _, k := range first[cell{col + dc, row + dr}] {
					dx, dy := at[k][0]-p[0], at[k][1]-p[1]
					if d2 := float64(dx*dx) + float64(dy*dy); d2 < least || d2 == least && k < nearest {
						nearest, least = k, d2
					}
				}
			}
		}
		if nearest >= 0 {
			moved[i] = at[nearest]
			continue
		}
		first[cell{col, row}] = append(first[cell{col, row}], i)
		places++
	}
	return moved, places
}
