package handoff

import (
	"errors"
	"fmt"
	"math"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/geometry/zones"
	"github.com/geocoris/geocoris/internal/language/figures"
)

// ErrNotSprayed is that a file of ground is not of what was sprayed.
var ErrNotSprayed = errors.New("not what was sprayed")

// Ground gives features of the ground that was sprayed, such as the swaths of a
// hand-off, the day and the note of the record, as comparing the field before and
// after wants them. Where features name fields, those of other fields are left
// out; none left is an error. So are features without area, and what files of a hand-off or
// a map tell of that is never sprayed ([ErrNotSprayed]).
func (a Applied) Ground(features []geo.Feature) (out []geo.Feature, err error) {
	for i, f := range features {
		if name := word(f.Properties, "field"); name != "" && name != a.Field {
			continue
		}
		if what := unsprayed(f); what != "" {
			return nil, fmt.Errorf("feature %d %s: %w", i+1, what, ErrNotSprayed)
		}
		out = append(out, geo.Feature{Geometry: f.Geometry, Properties: geo.Properties{
			{Name: "date", Value: a.Date}, {Name: "field", Value: a.Field}, {Name: "note", Value: a.doses()},
		}})
	}
	if len(out) == 0 {
		return nil, fmt.Errorf("no ground of the field %q in it", a.Field)
	}
	return out, nil
}

// unsprayed tells what a feature is that is no ground that was sprayed; "" for all that may be.
func unsprayed(f geo.Feature) string {
	switch word(f.Properties, "kind") {
	case "keep_off", "obstacle":
		return "is ground that is kept off"
	case "left":
		return "is ground that stays unsprayed"
	}
	switch zone := word(f.Properties, "zone"); {
	case zone == zones.Watch.String(), zone == zones.Clear.String():
		return "is a " + zone + " zone of a map"
	case len(polygonsOf(f.Geometry)) == 0:
		return "is a line or a point, which has no area"
	}
	return ""
}

const (
	// alike is within what share of each other an area typed in and one measured are the
	// same: the typed one has three figures. Judgement, no source.
	alike = 0.03
	// farOff is the share of the larger of both below which the smaller one is not of the
	// same spray: a job that was half done may still be told by its planned ground.
	// Judgement, no source.
	farOff = 0.5
)

// Measured is the area that features outline, in the unit of the area that was entered.
func (a Applied) Measured(ground []geo.Feature) (measured float64, err error) {
	unit := geo.SquareMetresPerHectare
	if a.AreaUnit == "ac" {
		unit = geo.SquareMetresPerAcre
	}
	for _, f := range ground {
		polygons := polygonsOf(f.Geometry)
		if len(polygons) == 0 {
			continue
		}
		frame, err := geo.FrameOf(polygons)
		if err != nil {
			return 0, err
		}
		measured += geo.Area(frame.ForwardPolygons(polygons)) / unit
	}
	return measured, nil
}

// Differs compares the area as it was entered with a measured one; "" where they are
// alike. Areas of which one is less than half of the other are an error.
func (a Applied) Differs(measured float64) (string, error) {
	if math.Abs(measured-a.Area) <= alike*measured {
		return "", nil
	}
	says := fmt.Sprintf("the ground measures %s %s, and %s %s was typed", figures.Short(measured), a.AreaUnit, figures.Short(a.Area), a.AreaUnit)
	if min(measured, a.Area) < farOff*max(measured, a.Area) {
		return "", errors.New(says)
	}
	return says + ": which was sprayed?", nil
}
