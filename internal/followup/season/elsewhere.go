package season

import (
	"math"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/geometry/nearby"
)

const (
	// samePlace is how far apart in metres two stops may be taken that stand at one place: three
	// times what a phone is off by under open sky.
	samePlace = 15
	// mostShared is how many stops two scouts may both have counted where each walked a part: those
	// where they met (our choice).
	mostShared = 2
)

// A Stood is a stop of a visit.
type Stood struct {
	At    orb.Point // degrees
	Name  string    // "" for none
	Value float64   // 0 where none is told
}

// Elsewhere reports whether two visits to a field on one day may each be a part of one walk:
// hardly any stop of the smaller one stands where one of the other does, and less than half of
// them. Without a stop there is no part; nor is one where only the places were put right.
func Elsewhere(a, b []Stood) bool {
	few, many := placed(a), placed(b)
	if len(many) < len(few) {
		few, many = many, few
	}
	if len(few) == 0 || moved(few, many) {
		return false
	}
	frame, err := geo.NewFrame(few[0].At)
	if err != nil {
		return false
	}
	inMetres := func(stops []Stood) (all [][2]float64) {
		for _, s := range stops {
			all = append(all, frame.Forward(s.At))
		}
		return all
	}
	cells, shared := nearby.Of(inMetres(many), samePlace), 0
	for _, p := range inMetres(few) {
		if _, squared := cells.Within(p[0], p[1], samePlace); squared <= samePlace*samePlace {
			shared++
		}
	}
	return shared <= mostShared && 2*shared < len(few)
}

// moved reports whether every stop of a visit has one of its name and count in another, some
// with pests: a table whose places were wrong.
func moved(few, many []Stood) bool {
	type key struct {
		name  string
		value float64
	}
	there, some := map[key]bool{}, false
	for _, s := range many {
		there[key{s.Name, s.Value}] = true
	}
	for _, s := range few {
		if s.Name == "" || !there[key{s.Name, s.Value}] {
			return false
		}
		some = some || s.Value > 0
	}
	return some
}

// placed are the stops at a place on the globe: other programs may write anything into a file.
func placed(stops []Stood) (all []Stood) {
	for _, s := range stops {
		if math.Abs(s.At[0]) <= 180 && math.Abs(s.At[1]) <= 90 {
			all = append(all, s)
		}
	}
	return all
}
