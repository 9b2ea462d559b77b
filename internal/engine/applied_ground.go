//go:build !small

package engine

import (
	"encoding/json"
	"errors"
	"fmt"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/spraying/handoff"
)

// sprayed are the features of a record's ground; a note where they are not as large as the
// area that was entered. Ground of which nobody sprayed so much, or which the field has not,
// is an error.
func (q RecordRequest) sprayed(a handoff.Applied, features []geo.Feature) (ground []geo.Feature, note string, err error) {
	ground, err = a.Ground(features)
	if errors.Is(err, handoff.ErrNotSprayed) {
		return nil, "", hinted(err, "give swaths.geojson of handoff, or outlines of what was sprayed")
	}
	if err != nil {
		return nil, "", err
	}
	measured, err := a.Measured(ground)
	if err != nil {
		return nil, "", err
	}
	if note, err = a.Differs(measured); err == nil {
		err = q.beyond(a, measured)
	}
	if err != nil {
		return nil, "", HintedError{
			Err:    err,
			Hint:   "correct --area, cut the ground to what was sprayed, or leave out --ground",
			OnPage: "correct the area, or leave out the ground",
		}
	}
	return ground, note, nil
}

// beyond refuses ground of more area than its field has by the map.
func (q RecordRequest) beyond(a handoff.Applied, measured float64) error {
	if q.Summary == nil {
		return nil
	}
	var m mappedFields
	if err := json.Unmarshal(q.Summary.Content, &m); err != nil {
		return fmt.Errorf("%s: %w", q.Summary.Name, err)
	}
	if most, known := m.area(a.Field, a.AreaUnit); known && measured > sprayedOver*most {
		return fmt.Errorf("the ground measures %s %s, and field %q has %s", figures.Short(measured), a.AreaUnit, a.Field, figures.Short(most))
	}
	return nil
}
