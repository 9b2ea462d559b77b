package layout

import "math"

// Places tells each stop, in metres, the one that stands for its place: the nearest earlier
// one that does and is nearer than [SamePlace], the first of those as near, else itself; and
// how many places there are.
func Places(at [][2]float64) (of []int, places int) {
	of = make([]int, len(at))
	first := make(map[square][]int, len(at))
	for i, p := range at {
		nearest, least := -1, float64(SamePlace*SamePlace)
		low, high := squareOf(p[0]-nearBy, p[1]-nearBy), squareOf(p[0]+nearBy, p[1]+nearBy)
		for col := low.col; col <= high.col; col++ {
			for row := low.row; row <= high.row; row++ {
				for _, k := range first[square{col, row}] {
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
		own := squareOf(p[0], p[1])
		first[own] = append(first[own], i)
		places++
	}
	return of, places
}

// nearBy is how far off places are looked for: a hair farther than any is, for rounding.
const nearBy = SamePlace * (1 + 1e-9)

// square is one of those by which places are looked for, so wide that four of them at the
// most are near a stop.
type square struct{ col, row int }

func squareOf(x, y float64) square {
	return square{int(math.Floor(x / (2 * SamePlace))), int(math.Floor(y / (2 * SamePlace)))}
}
