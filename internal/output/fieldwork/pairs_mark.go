package fieldwork

import (
	"fmt"
	"math"
	"strings"
)

// A pairMark is the sign of an observer on a plot.
type pairMark struct {
	colour, path string
	open         bool // not filled
	number       int  // within the sign, where shapes have run out; else 0
}

// shapes are kept apart without colour, largest difference first.
func shapes() []string {
	return []string{
		"M-4.5 0a4.5 4.5 0 1 0 9 0a4.5 4.5 0 1 0 -9 0Z", // circle
		"M0 -6L5.5 4H-5.5Z",                             // triangle
		"M-4.2 -4.2L4.2 4.2M-4.2 4.2L4.2 -4.2",          // cross
		"M-4.2 -4.2H4.2V4.2H-4.2Z",                      // square
		"M0 -6L1.6 -1.9L6 -1.9L2.4 .9L3.7 5.2L0 2.6L-3.7 5.2L-2.4 .9L-6 -1.9L-1.6 -1.9Z", // star
		"M0 -5.5V5.5M-5.5 0H5.5",              // plus
		"M0 -6L5 0L0 6L-5 0Z",                 // diamond
		"M0 6L5.5 -4H-5.5Z",                   // triangle on its point
		"M-6 0H6M-3 -5.2L3 5.2M-3 5.2L3 -5.2", // asterisk
		"M-5.5 -1.8H5.5V1.8H-5.5Z",            // bar
	}
}

// markOf is the sign of the observer of a number from 0: no two are alike in shape, nor
// in colour. Shapes are filled first, then open; after both have been used the number
// stands in a ring.
func markOf(i int) pairMark {
	all := shapes()
	m := pairMark{colour: colourOf(i)}
	switch {
	case i < len(all):
		m.path = all[i]
	case i < 2*len(all):
		m.open = true
		m.path = openShape(all[i-len(all)])
	default:
		m.path, m.open, m.number = "M-8 0a8 8 0 1 0 16 0a8 8 0 1 0 -16 0Z", true, i+1
	}
	return m
}

// openShape is a shape that can be empty: a cross or the like stands in a ring.
func openShape(path string) string {
	if strings.HasSuffix(path, "Z") {
		return path
	}
	return path + "M-7 0a7 7 0 1 0 14 0a7 7 0 1 0 -14 0Z"
}

// colourOf is a colour for a number from 0: the dark ones of Okabe & Ito 2008, then hues
// a golden angle apart, which never come again. All are dark enough on white.
func colourOf(i int) string {
	first := []string{"#0072B2", "#B84A00", "#000000", "#007A58", "#A0508A"}
	if i < len(first) {
		return first[i]
	}
	_, turn := math.Modf(float64(i-len(first)) * 0.6180339887498949)
	return fmt.Sprintf("hsl(%.2f,%d%%,%d%%)", 360*turn, 75, 26+6*(i%3))
}

func (m pairMark) draw(b *strings.Builder, x, y float64) {
	fill := m.colour
	if m.open {
		fill = "none"
	}
	fmt.Fprintf(b, `<path transform="translate(%.1f %.1f)" d="%s" fill="%s" fill-opacity=".7" stroke="%s" stroke-width="1.5"/>`, x, y, m.path, fill, m.colour)
	if m.number > 0 {
		fmt.Fprintf(b, `<text x="%.1f" y="%.1f" font-size="9" text-anchor="middle" fill="%s">%d</text>`, x, y+3, m.colour, m.number)
	}
	b.WriteByte('\n')
}
