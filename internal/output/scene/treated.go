package scene

import "math"

// Treated ground is outlined with dashes on white, which no zone is: the zones under it
// stay to be seen.
const (
	treatedWidth  = 0.7 // mm
	treatedGround = 1.4 // mm of white below
	dashLength    = 2.2 // mm
	dashApart     = 1.2 // mm
)

func (s Subject) treated(p Plot, scale float64) (items []Item) {
	for _, ground := range s.Treated {
		rings := p.rings(ground)
		items = append(items,
			Area{Rings: rings, Style: Style{Stroke: white, Width: treatedGround * scale}},
			Lines{Lines: dashes(rings, dashLength*scale, dashApart*scale), Style: Style{Stroke: ink, Width: treatedWidth * scale}})
	}
	return items
}

// dashes go round closed rings.
func dashes(rings [][]Point, on, off float64) (lines [][]Point) {
	for _, r := range rings {
		if len(r) > 1 {
			lines = append(lines, dashed(append(r[:len(r):len(r)], r[0]), on, off)...)
		}
	}
	return lines
}

// dashed cuts a line into dashes of a length and a gap, the first at its beginning; they
// go round its corners.
func dashed(line []Point, on, off float64) (out [][]Point) {
	drawing, left := true, on
	dash := []Point{line[0]}
	for i := 1; i < len(line); i++ {
		a, b := line[i-1], line[i]
		length, at := math.Hypot(b.X-a.X, b.Y-a.Y), 0.0
		for length-at >= left {
			at += left
			cut := Point{a.X + float64((b.X-a.X)*at/length), a.Y + float64((b.Y-a.Y)*at/length)}
			if drawing {
				out = append(out, append(dash, cut))
			}
			drawing, dash, left = !drawing, []Point{cut}, off
			if drawing {
				left = on
			}
		}
		left -= length - at
		if drawing && at < length {
			dash = append(dash, b)
		}
	}
	if drawing && len(dash) > 1 {
		out = append(out, dash)
	}
	return out
}
