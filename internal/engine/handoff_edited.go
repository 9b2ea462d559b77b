//go:build !small

package engine

import (
	"errors"
	"fmt"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/spraying/handoff"
)

const (
	trustEdited = "run map again; or, where you edited the zones on purpose, give --trust-edited"
	whereMapRan = "run handoff from the folder in which map ran, with the boundary as it was; or run map again"
)

// edited compares the zones, and what lies beside them, with the record of their map. It is
// nil where the zones are the map's; where they are not they must be trusted.
func (q HandoffRequest) edited(zones []geo.Feature) (*handoff.Edited, error) {
	if q.Map == nil {
		return q.alone(zones)
	}
	run, err := q.Map.record(giveFolder)
	if err != nil {
		return nil, err
	}
	for _, beside := range []*Source{q.Closed, q.Stops} {
		if beside != nil {
			if err := q.Map.unchanged(run, *beside); err != nil {
				return nil, err
			}
		}
	}
	if run.asWritten(q.Zones) {
		return nil, nil
	}
	fields, noFields := q.Map.fields(run)
	wrong := handoff.CheckZones(zones, fields)
	if _, own := run.output(q.Zones.Base()); own && wrong == nil {
		wrong = errors.New("it was changed since, though areas and verdicts fit")
	}
	switch {
	case q.Settings.TrustEdited && noFields != nil:
		return nil, hinted(fmt.Errorf("--trust-edited cuts the zones at the field: %w", noFields), whereMapRan)
	case q.Settings.TrustEdited:
		said, err := q.Map.verdicts()
		return &handoff.Edited{Fields: fields, Verdicts: said}, err
	case wrong != nil:
		return nil, hinted(fmt.Errorf("%s is not what map wrote: %w", q.Zones.Name, wrong), trustEdited)
	}
	return nil, nil
}

// alone checks zones without a record of their map.
func (q HandoffRequest) alone(zones []geo.Feature) (*handoff.Edited, error) {
	if q.Settings.TrustEdited {
		return &handoff.Edited{}, nil
	}
	if err := handoff.CheckZones(zones, nil); err != nil {
		return nil, hinted(fmt.Errorf("%s: %w", q.Zones.Name, err), trustEdited)
	}
	return nil, nil
}

// fields are those that the map was made for.
func (f MapFolder) fields(run keptRecord) ([]geo.Field, error) {
	_, boundary, _ := run.read()
	if boundary == nil {
		return nil, fmt.Errorf("%s does not name its boundary", f.Run.Name)
	}
	from, err := f.again(*boundary)
	if err != nil {
		return nil, err
	}
	set, err := run.again()
	if err != nil {
		return nil, fmt.Errorf("%s: %w", f.Run.Name, err)
	}
	o, err := Outlines(from, set.NameProperty, set.Inner)
	return o.Fields, err
}
