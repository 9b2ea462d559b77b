package handoff

import (
	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/spraying/spray"
)

// Sprayed is a spray of a field that was recorded before its job was made.
type Sprayed struct {
	Date  string   `json:"date"`     // YYYY-MM-DD, "" where nothing tells
	Again *float64 `json:"again_m2"` // of its ground what the job sprays once more; nil where its ground is not known
}

// SprayedAgain is how much of some ground in degrees, m², the job sprays once more. What is
// no polygon has none.
func (j *Job) SprayedAgain(ground []geo.Feature) (float64, error) {
	var before []orb.MultiPolygon
	for _, f := range ground {
		before = append(before, j.Frame.ForwardPolygons(polygonsOf(f.Geometry)))
	}
	once, err := spray.Together(before)
	if err != nil {
		return 0, err
	}
	again, err := spray.Both(j.Swaths(), once)
	return geo.Area(again), err
}
