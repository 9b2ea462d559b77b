package scene

import (
	"fmt"
	"math"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/language/figures"
)

// scaleBar is a length of ground, the half of it black, and its name beside it: no longer
// than most mm, from its lower left corner on.
func scaleBar(p Plot, at Point, most, text, line float64, u figures.Units) []Item {
	length, word := barOf(most/p.Scale, u)
	w, top := length*p.Scale, at.Y-0.5*text
	half := func(x float64, fill Style) Area {
		return Area{Rings: [][]Point{{{x, top}, {x + w/2, top}, {x + w/2, at.Y}, {x, at.Y}}}, Style: fill}
	}
	return []Item{
		half(at.X, Style{Fill: ink, Stroke: ink, Width: line}),
		half(at.X+w/2, Style{Fill: white, Stroke: ink, Width: line}),
		Text{At: Point{at.X + w + 0.5*text, at.Y}, Size: text, Colour: ink, Text: word},
	}
}

// northArrow points up from below a tip, over its letter: 3.5 times the size of text high.
func northArrow(tip Point, text float64) []Item {
	x, top := tip.X, tip.Y
	return []Item{
		Area{Rings: [][]Point{{{x, top}, {x + 0.8*text, top + 2.4*text}, {x, top + 1.8*text}, {x - 0.8*text, top + 2.4*text}}}, Style: Style{Fill: ink}},
		Text{At: Point{x, top + 3.5*text}, Size: text, Bold: true, Anchor: Middle, Colour: ink, Text: "N"},
	}
}

// barOf is the longest length of 1, 2 or 5 times a power of ten that is no longer than
// most metres, and its name: in metres or, from 1 km on, kilometres; in feet or, from a
// mile on, miles, where those are chosen; where both are, in metres, with what that is in
// the others.
func barOf(most float64, u figures.Units) (metres float64, name string) {
	unit, per := unitOfBar(most, u)
	best := RoundLength(most / per)
	metres, name = best*per, fmt.Sprintf("%g %s", best, unit)
	if u.InBoth() {
		name += " (" + besides(metres) + ")"
	}
	return metres, name
}

// RoundLength is the largest of 1, 2 and 5 times a power of ten that is no more than most,
// which is above 0.
func RoundLength(most float64) float64 {
	decade := math.Pow(10, math.Floor(math.Log10(most)))
	for _, k := range [...]float64{5, 2} {
		if k*decade <= most {
			return k * decade
		}
	}
	return decade
}

func unitOfBar(most float64, u figures.Units) (name string, metres float64) {
	switch {
	case u.InUS() && most >= geo.MetresPerMile:
		return "mi", geo.MetresPerMile
	case u.InUS():
		return "ft", geo.MetresPerFoot
	case most >= perKilometre:
		return "km", perKilometre
	}
	return "m", 1
}

// besides is a length in feet, or in miles.
func besides(metres float64) string {
	if metres < perKilometre {
		return figures.US.Length(metres)
	}
	return figures.US.Way(metres)
}

const perKilometre = 1000
