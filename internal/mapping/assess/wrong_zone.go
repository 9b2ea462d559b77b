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
	var some []survey.Stop
	for i := 0; i < len(away); i += 1 + len(away)/mostAsked {
		some = append(some, away[i])
	}
	zones := zonesOff(fields, some)
	if zones == 0 {
		return usual
	}
	way := "west"
	if zones > 0 {
		way = "east"
	}
	return fmt.Sprintf("the stops lie %s of UTM %s of the field, so counts or boundary were read in the wrong zone: look at --utm and at the .prj of the Shapefile", figures.Counted(int(math.Abs(float64(zones))), "zone"), way)
}

// mostAsked is of how many stops a wrong zone is asked, from all over a file: it is the file's.
const mostAsked = 100

// zonesOff is how many zones east of a field a stop lies, the first that would lie in one but
// for them; 0 where there is none.
func zonesOff(fields []geo.Field, stops []survey.Stop) int {
	for _, f := range fields {
		site, err := newSite(f)
		if err != nil {
			continue
		}
		for _, s := range stops {
			zones := math.Round(math.Remainder(s.Longitude-site.frame.Centre()[0], 360) / zoneWidth)
			if zones != 0 && site.outside(orb.Point{s.Longitude - zones*zoneWidth, s.Latitude}) <= nearField {
				return int(zones)
			}
		}
	}
	return 0
}
