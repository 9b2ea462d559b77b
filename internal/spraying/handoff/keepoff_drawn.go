package handoff

import (
	"errors"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
)

// KeepOffMark is the property of ground that somebody drew to be kept off, by which its
// file is known again.
const KeepOffMark = "keep_off"

// DrawnKeepOff is ground to keep off as it was drawn by its corners, longitude and
// latitude: one is a place, such as hives; two, or more where line is set, are a line, such
// as a creek; else they enclose an area, whose edges may cross as those of a field's file.
func DrawnKeepOff[P ~[2]float64](name string, corners []P, line bool) (geo.Feature, error) {
	var drawn orb.LineString
	for _, p := range corners {
		if at := orb.Point(p); len(drawn) == 0 || drawn[len(drawn)-1] != at { // who taps twice means one
			drawn = append(drawn, at)
		}
	}
	f := geo.Feature{Properties: geo.Properties{{Name: "name", Value: name}, {Name: KeepOffMark, Value: true}}}
	switch n := len(drawn); {
	case n == 0:
		return f, errors.New("nothing is drawn: tap the map, or type a corner")
	case n == 1:
		f.Geometry = drawn[0]
		return f, nil
	case n == 2 || line:
		f.Geometry = drawn
		return f, nil
	}
	ground := enclosed(append(drawn, drawn[0]))
	if len(ground) == 0 {
		return f, errors.New("the corners enclose no ground: is it a line?")
	}
	f.Geometry = ground
	return f, nil
}
