package engine

import (
	"errors"
	"fmt"

	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// mostGap bounds the gap of a track, in minutes.
const mostGap = 60

// places reads the file of the setting places; nil where none is given.
func (w Setup) places() (*survey.Places, error) {
	gap := w.Settings.TrackGap
	from, ok, err := w.named("places", w.Settings.Places)
	switch {
	case err != nil || !ok && gap == 0:
		return nil, err
	case !ok:
		return nil, usage(errors.New("--track-gap goes with --places"))
	case !(gap >= 0 && gap <= mostGap):
		return nil, usage(fmt.Errorf("--track-gap %g: want up to %d minutes", gap, mostGap))
	}
	p, err := survey.ReadPlaces(from)
	if err != nil {
		return nil, hinted(err, "--places wants the stops of plan, waypoints or a track of GPX, or a table with stop, longitude, latitude")
	}
	p.Gap, p.Offset = gap, string(w.Settings.UTCOffset)
	return p, nil
}
