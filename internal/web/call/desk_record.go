//go:build !small

package call

import (
	"context"
	"errors"
	"fmt"
	"path"
	"strings"

	"github.com/geocoris/geocoris/internal/engine"
)

// Roles of files of a record.
const (
	Summary Role = "summary" // summary.json of the map
	Sprayed Role = "ground"  // the ground that was sprayed
	Applied Role = "applied" // the table of records
)

type recordFacts struct {
	Name    string `json:"name"`   // of the record
	Folder  string `json:"folder"` // that it was kept in; "" for none
	Command string `json:"command"`
}

// record writes down what was applied, as it was entered: into the folder where that is
// asked for, beside the table of records that lies there, else for the page to save.
func (d Desk) record(ctx context.Context, r request) (any, []engine.File, error) {
	var o struct {
		engine.RecordSettings
		Keep bool `json:"keep"`
	}
	if err := r.settings(&o); err != nil {
		return nil, nil, err
	}
	q := engine.RecordRequest{Settings: o.RecordSettings}
	for role, to := range map[Role]**engine.Source{Summary: &q.Summary, Sprayed: &q.Ground, Applied: &q.Table} {
		from, err := r.atMostOne(role)
		if err != nil {
			return nil, nil, err
		}
		*to = from
	}
	if q.Ground != nil {
		q.Settings.Ground = path.Join(jobOut, q.Ground.Name)
	}
	facts, made := recordFacts{}, &engine.RecordOutcome{}
	write := func() (err error) {
		made, err = engine.Record(q)
		return err
	}
	var err error
	switch {
	case !o.Keep:
		err = write()
	case d.Folder == nil:
		err = errNoFolder
	default:
		facts.Folder = d.Folder.Name()
		err = d.Folder.Change(ctx, func(there func(name string) (*engine.Source, error)) ([]engine.File, error) {
			if q.Table, err = there(engine.AppliedTable); err != nil {
				return nil, err
			}
			q.Taken = func(name string) bool {
				old, err := there(name)
				return old != nil || err != nil
			}
			q.Kept = func(name string) []byte {
				if old, _ := there(name); old != nil {
					return old.Content
				}
				return nil
			}
			if err := write(); err != nil {
				return nil, err
			}
			return made.Files, nil
		})
	}
	if err != nil {
		return nil, nil, asTyped(err)
	}
	facts.Name, facts.Command = made.Name, recordCommand(q.Settings, o.Keep)
	return facts, made.Files, nil
}

// recordCommand is the command that writes the same record, into the folder of the map, or
// into the folder where the page kept it.
func recordCommand(o engine.RecordSettings, kept bool) string {
	folder := mapOut
	if kept {
		folder = "."
	}
	return lineOf("record", []string{folder}, o, engine.RecordSettings{})
}

// asTyped names what was entered wrongly as the page calls it, not as flags are called.
func asTyped(err error) error {
	text, flag := strings.CutPrefix(err.Error(), "--")
	if !flag {
		return err
	}
	return errors.New(text)
}

// sprayed adds the ground of a record to the season of the folder.
func (d Desk) sprayed(ctx context.Context, r request) (any, []engine.File, error) {
	if d.Folder == nil || d.Seasons == nil {
		return nil, nil, errNoFolder
	}
	ground, err := r.one(Sprayed)
	if err != nil {
		return nil, nil, err
	}
	season, there, err := d.Folder.Season()
	if err != nil {
		return nil, nil, err
	}
	if !there {
		return nil, nil, errors.New("the folder has no season yet")
	}
	_, err = d.addTo(ctx, engine.SeasonAddRequest{Season: season, Treated: &ground})
	if err != nil {
		return nil, nil, err
	}
	return map[string]string{"command": fmt.Sprintf("geocoris season add %s --treated %s", quoted(seasonOf(season)), quoted(ground.Name))}, nil, nil
}

// addTo adds to the season of a path, which is closed again.
func (d Desk) addTo(ctx context.Context, q engine.SeasonAddRequest) (engine.SeasonAddOutcome, error) {
	done := func() error { return nil }
	q.Open = func() (file engine.SeasonWriter, err error) {
		file, closeIt, err := d.Seasons.OpenToAdd(q.Season)
		if err == nil {
			done = closeIt
		}
		return file, err
	}
	stored, err := engine.AddToSeason(ctx, q)
	return stored, errors.Join(err, done())
}
