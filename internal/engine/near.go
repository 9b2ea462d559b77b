package engine

import (
	"fmt"
	"math"

	"github.com/geocoris/geocoris/geo"
)

// farFromField is how far from a field, in metres, nobody walks to it (our choice): a place
// beyond is of another field, or of a receiver without a fix.
const farFromField = 100e3

// near refuses a place that is none in degrees, or is nowhere near a field.
func near(what string, at [2]float64, field geo.Field) error {
	if !(math.Abs(at[0]) <= 180 && math.Abs(at[1]) <= 90) {
		return usage(fmt.Errorf("%s %v, %v: want longitude and latitude in degrees", what, at[0], at[1]))
	}
	frame, err := geo.FrameOf(field.Boundary)
	if err != nil {
		return err
	}
	if xy := frame.Forward(at); !(math.Hypot(xy[0], xy[1]) <= farFromField) {
		return hinted(usage(fmt.Errorf("%s %v, %v is more than %v km from field %s", what, at[0], at[1], farFromField/1e3, field.Name)),
			"longitude comes first; leave the place out where it is not known")
	}
	return nil
}
