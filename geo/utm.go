package geo

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"
)

// The grid's constants: NGA.SIG.0012_2.0.0_UTMUPS (2014), figures from memory.
const (
	utmScale         = 0.9996
	utmFalseEasting  = 500000.0
	utmFalseNorthing = 10000000.0 // in the southern hemisphere
)

// A UTM is one zone of the Universal Transverse Mercator grid on WGS 84, in
// metres. It serves to read and write coordinates that others use; areas and
// distances come from a [Frame], whose scale is not 0.04 % off.
//
// The zero UTM is no zone, and all it gives is NaN.
type UTM struct {
	zone  int
	north bool
}

// NewUTM returns zone 1 to 60 of the northern or southern hemisphere.
func NewUTM(zone int, north bool) (UTM, error) {
	if zone < 1 || zone > 60 {
		return UTM{}, fmt.Errorf("geo: utm zone %d does not exist, zones run from 1 to 60", zone)
	}
	return UTM{zone, north}, nil
}

// UTMZone returns the official zone of a position in degrees, with the
// exceptions for south-west Norway (32V) and Svalbard (31X to 37X). A position
// on the meridian between two zones belongs to the eastern one, so 180 to zone
// 1; one on the equator is north. Outside latitudes -80 to 84, where the grid
// does not reach, and for a position that is not finite, zone is 0.
func UTMZone(lonlat orb.Point) (zone int, north bool) {
	lon, lat := wrap(lonlat.Lon()), lonlat.Lat()
	if math.IsNaN(lon) || !(lat >= -80 && lat <= 84) {
		return 0, false
	}
	zone = int(math.Floor((lon+180)/6))%60 + 1
	switch {
	case lat >= 56 && lat < 64 && lon >= 3 && lon < 12:
		zone = 32
	case lat >= 72 && lon >= 0 && lon < 42:
		zone = svalbardZone(lon)
	}
	return zone, lat >= 0
}

// svalbardZone is for latitudes from 72 and longitudes 0 to 42, where zones 32,
// 34 and 36 are left out and their neighbours are widened.
func svalbardZone(lon float64) int {
	switch {
	case lon < 9:
		return 31
	case lon < 21:
		return 33
	case lon < 33:
		return 35
	default:
		return 37
	}
}

// Forward takes degrees to easting and northing. Positions outside the zone are
// carried on its grid; see [Frame.Forward] for what is not a position.
func (u UTM) Forward(lonlat orb.Point) (xy orb.Point) {
	s := project(lonlat.Lat(), wrap(lonlat.Lon()-u.meridian()))
	return orb.Point{
		utmScale*rectifyingRadius*s.eta + utmFalseEasting,
		utmScale*rectifyingRadius*s.xi + u.falseNorthing(),
	}
}

// Inverse takes easting and northing to degrees, the longitude in [-180, 180].
func (u UTM) Inverse(xy orb.Point) (lonlat orb.Point) {
	lat, dlon := unproject(sphere{
		xi:  (xy[1] - u.falseNorthing()) / (utmScale * rectifyingRadius),
		eta: (xy[0] - utmFalseEasting) / (utmScale * rectifyingRadius),
	})
	return orb.Point{wrap(u.meridian() + dlon), lat}
}

// meridian is the central meridian in degrees, NaN for the zero UTM.
func (u UTM) meridian() float64 {
	if u.zone == 0 {
		return math.NaN()
	}
	return float64(6*u.zone - 183)
}

func (u UTM) falseNorthing() float64 {
	switch {
	case u.zone == 0:
		return math.NaN()
	case u.north:
		return 0
	default:
		return utmFalseNorthing
	}
}
