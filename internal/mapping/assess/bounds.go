package assess

import (
	"math"

	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// Bounds are the least and the most that the statistic's value at a stop may be, by
// the width of counts entered as classes and by the correction for its observers, see
// [survey.Stop.Bounds]; both are the value where nothing widens it. NaN stands
// where the rows do not tell the share at that end: where several units were counted
// together and may lie on either side of the tally.
func (s Statistic) Bounds(stop survey.Stop) (low, high float64) {
	return s.orNaN(stop.Least()), s.orNaN(stop.Most())
}

func (s Statistic) orNaN(stop survey.Stop) float64 {
	if v, ok := s.At(stop); ok {
		return v
	}
	return math.NaN()
}
