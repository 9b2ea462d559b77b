//go:build !small

package engine

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/output/jobsheet"
	"github.com/geocoris/geocoris/internal/spraying/handoff"
)

// A HandoffRequest asks for treat zones to be handed to the applicator.
type HandoffRequest struct {
	Settings HandoffSettings
	Zones    Source  // zones.geojson of a map
	Closed   *Source // the file of the name [ClosedFile] beside the zones; nil for none
	Stops    *Source // stops.geojson of the map; nil where it is not at hand
	Run      *Source // run.json of the folder of a map; nil where a file of zones was given
	Recorded bool    // a run.json lies beside a file of zones
	// Map is the folder with that run.json, against which the zones are held; nil where
	// there is none.
	Map      *MapFolder
	KeepOffs []Source      // the files that the setting names, in its order
	Sprayed  []SprayRecord // of before, near the zones
	Rows     *Source       // the file that the setting of that name names; nil for none
	Version  string
	Asked    map[string]string // settings of the caller's own, such as the folder, for the record
}

// A HandoffOutcome is the jobs of all fields, and the files that hold them.
type HandoffOutcome struct {
	Sheet jobsheet.Sheet
	Files []File
}

// Handoff hands treat zones to the applicator: spray ground, passes, files for machines
// and receivers, and a job sheet.
func Handoff(q HandoffRequest) (*HandoffOutcome, error) {
	if err := q.Settings.Validate(); err != nil {
		return nil, err
	}
	zones, err := geofile.DecodeSource(q.Zones, geofile.Limits{})
	if err != nil {
		return nil, err
	}
	set, err := q.settings()
	if err != nil {
		return nil, err
	}
	if set.Edited, err = q.edited(zones.Features); err != nil {
		return nil, err
	}
	unbound, err := q.unbound(set.KeepOffs)
	if err != nil {
		return nil, err
	}
	left, err := q.notScouted()
	if err != nil {
		return nil, err
	}
	result, err := handoff.Run(zones.Features, set)
	var keepOff *handoff.KeepOffError
	var none *handoff.NoJobError
	switch {
	case errors.As(err, &none):
		says, hint := jobsheet.NoJob(none.Idle)
		says = strings.Join(append([]string{zones.Name + ": " + says}, slices.Concat(none.Notes, left)...), "; ")
		if hint == "" {
			return nil, errors.New(says)
		}
		return nil, hinted(errors.New(says), hint)
	case errors.As(err, &keepOff): // it is about another file
		return nil, err
	case err != nil:
		return nil, fmt.Errorf("%s: %w", zones.Name, err)
	}
	result.KeepOffNotes = append(result.KeepOffNotes, unbound...)
	if q.Closed == nil && q.Run == nil && !q.Recorded {
		result.KeepOffNotes = append(result.KeepOffNotes, fmt.Sprintf("%s came alone, without %s or run.json of its map. A pond or a yard across a field's edge is not known: name it with --keep-off", zones.Name, ClosedFile))
	}
	if err := q.doubts(result.Jobs); err != nil {
		return nil, err
	}
	q.sprayedBefore(result.Jobs)
	result.Notes = append(result.Notes, left...)
	if q.Settings.Rate.Typed == nil {
		result.Notes = append(result.Notes, "no --rate was given, so no task data and no tank loads")
	}
	out := &HandoffOutcome{Sheet: jobsheet.Sheet{Result: result, Mix: q.Settings.mix(), Air: q.Settings.air(), Units: q.Settings.Units.In(q.Settings.Language)}}
	if out.Files, err = q.files(&out.Sheet); err != nil {
		return nil, err
	}
	return out, nil
}

// settings are those of the work, with what the files of the request hold.
func (q HandoffRequest) settings() (set handoff.Settings, err error) {
	set = q.Settings.handoff()
	if q.Run != nil {
		if set.Grown, err = grownBy(*q.Run); err != nil {
			return set, err
		}
	}
	if q.Closed != nil {
		c, err := geofile.DecodeSource(*q.Closed, geofile.Limits{})
		if err != nil {
			return set, err
		}
		if set.Closed, err = handoff.ClosedOf(c.Features); err != nil {
			return set, fmt.Errorf("%s: %w", q.Closed.Name, err)
		}
	}
	if q.Stops != nil {
		c, err := geofile.DecodeSource(*q.Stops, geofile.Limits{})
		if err != nil {
			return set, err
		}
		set.Stops = c.Features
	}
	if set.Rows, err = q.rows(); err != nil {
		return set, err
	}
	named, err := q.Settings.KeepOff.with(q.KeepOffs)
	if err != nil {
		return set, err
	}
	set.KeepOffs, err = keepOffs(named)
	return set, err
}

// inputs are the files of the map, of sprays before and of keep-offs, as the record lists them.
func (q HandoffRequest) inputs() []Source {
	all := []Source{q.Zones}
	for _, beside := range []*Source{q.Closed, q.Stops, q.Rows} {
		if beside != nil {
			all = append(all, *beside)
		}
	}
	for _, r := range q.Sprayed {
		if r.Ground != nil {
			all = append(all, *r.Ground)
		}
	}
	return append(all, q.KeepOffs...)
}
