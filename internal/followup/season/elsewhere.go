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

// A stood is a stop of a visit.
type stood struct {
	at    orb.Point // degrees
	name  string    // "" for none
	value float64   // 0 where none is told
}

// elsewhere reports whether two visits to a field on one day may each be a part of one walk:
// hardly any stop of the smaller one stands where one of the other does, and less than half of
// them. Without a stop there is no part; nor is one where only the places were put right.
func elsewhere(a, b []stood) bool {
	few, many := placed(a), placed(b)
	if len(many) < len(few) {
		few, many = many, few
	}
	if len(few) == 0 || moved(few, many) {
		return false
	}
	frame, err := geo.NewFrame(few[0].at)
	if err != nil {
		return false
	}
	inMetres := func(stops []stood) (all [][2]float64) {
		for _, s := range stops {
			all = append(all, frame.Forward(s.at))
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
func moved(few, many []stood) bool {
	type key struct {
		name  string
		value float64
	}
	there, some := map[key]bool{}, false
	for _, s := range many {
		there[key{s.name, s.value}] = true
	}
	for _, s := range few {
		if s.name == "" || !there[key{s.name, s.value}] {
			return false
		}
		some = some || s.value > 0
	}
	return some
}

// placed are the stops at a place on the globe: other programs may write anything into a file.
func placed(stops []stood) (all []stood) {
	for _, s := range stops {
		if math.Abs(s.at[0]) <= 180 && math.Abs(s.at[1]) <= 90 {
			all = append(all, s)
		}
	}
	return all
}
