package assess

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// zoneWidth is that of a zone of UTM, degrees of longitude. A place read in the wrong zone
// keeps its latitude, and its longitude is off by whole zones.
const zoneWidth = 6

// WhyAway asks what may be wrong where no stop lies in a field: whether counts or boundary
// were read in the wrong zone of UTM, if stops lie in fields but for whole zones, else
// whether it is the right boundary.
func WhyAway(fields []geo.Field, away []survey.Stop) string {
	const usual = "is this the right boundary, and longitude not latitude?"
	zones := 0
	for _, s := range away {
		if zones = zonesOff(fields, orb.Point{s.Longitude, s.Latitude}); zones != 0 {
			break
		}
	}
	if zones == 0 {
		return usual
	}
	way := "west"
	if zones > 0 {
		way = "east"
	}
	return fmt.Sprintf("the stops lie %s of UTM %s of the field, so counts or boundary were read in the wrong zone: look at --utm and at the .prj of the Shapefile", figures.Counted(int(math.Abs(float64(zones))), "zone"), way)
}

// zonesOff is how many zones east of a field a place lies that would lie in it but for
// them; 0 where there is no such field.
func zonesOff(fields []geo.Field, lonlat orb.Point) int {
	for _, f := range fields {
		s, err := newSite(f)
		if err != nil {
			continue
		}
		zones := math.Round(math.Remainder(lonlat[0]-s.frame.Centre()[0], 360) / zoneWidth)
		if zones != 0 && s.outside(orb.Point{lonlat[0] - zones*zoneWidth, lonlat[1]}) <= nearField {
			return int(zones)
		}
	}
	return 0
}
