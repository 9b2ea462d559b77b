package layout

import "math"

// Places tells each stop, in metres, the one that stands for its place: the nearest earlier
// one that does and is nearer than [SamePlace], the first of those as near, else itself; and
// how many places there are.
func Places(at [][2]float64) (of []int, places int) {
	type cell struct{ col, row float64 }
	of = make([]int, len(at))
	first := map[cell][]int{} // by squares that are as wide as a place
	for i, p := range at {
		col, row := math.Floor(p[0]/SamePlace), math.Floor(p[1]/SamePlace)
		nearest, least := -1, float64(SamePlace*SamePlace)
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
		if of[i] = nearest; nearest >= 0 {
			continue
		}
		of[i] = i
		first[cell{col, row}] = append(first[cell{col, row}], i)
		places++
	}
	return of, places
}
