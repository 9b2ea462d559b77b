package handoff

import (
	"errors"
	"fmt"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/spraying/spray"
)

// mostTries bounds how often jobs are planned to find how many points are enough.
const mostTries = 12

// enough says of too few points how many do for all jobs. Each step of a job tells how
// many it takes at least, and the next one may take more: what is offered was tried.
func (s Settings) enough(zones []geo.Feature, why error, least int) error {
	for range mostTries {
		s.MaxPoints = least
		_, err := run(zones, s)
		if err == nil {
			return fmt.Errorf("%w: %d points do, or %s", why, least, s.simpler())
		}
		var few *spray.PointsError
		if !errors.As(err, &few) {
			break
		}
		least = max(few.Least, least+1+least/16)
	}
	return fmt.Errorf("%w: allow many more, or %s", why, s.simpler())
}

// simpler is what else has fewer points.
func (s Settings) simpler() string {
	if s.Cell > 0 {
		return "choose larger cells"
	}
	return "have fewer sections"
}
