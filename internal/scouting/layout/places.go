package layout

import "math"

// Places tells each stop, in metres, the one that stands for its place: the nearest earlier
// one that does and is nearer than [SamePlace], the first of those as near, else itself; and
// how many places there are.
func Places(at [][2]float64) (of []int, places int) {
	of = make([]int, len(at))
	// Of each square the last of its places, and of each of these the one before it, numbered
	// from 1.
	last, before := make(map[square]int, len(at)), make([]int, len(at)+1)
	for i, p := range at {
		nearest, least := -1, float64(SamePlace*SamePlace)
		low, high := squareOf(p[0]-nearBy, p[1]-nearBy), squareOf(p[0]+nearBy, p[1]+nearBy)
		for col := low.col; col <= high.col; col++ {
			for row := low.row; row <= high.row; row++ {
				for n := last[square{col, row}]; n > 0; n = before[n] {
					k := n - 1
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
		before[i+1], last[own] = last[own], i+1
		places++
	}
	return of, places
}

// nearBy is how far off places are looked for: a hair farther than any is, for rounding.
const nearBy = SamePlace * (1 + 1e-9)

// square is one of those by which places are looked for, so wide that one alone is near most
// stops, and that few places lie in one.
type square struct{ col, row int }

func squareOf(x, y float64) square {
	const wide = 8 * SamePlace
	return square{int(math.Floor(x / wide)), int(math.Floor(y / wide))}
}
