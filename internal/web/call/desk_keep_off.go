//go:build !small

package call

import (
	"context"
	"slices"

	"github.com/geocoris/geocoris/internal/engine"
)

type drawnFacts struct {
	Name   string `json:"name"`   // of the file
	Folder string `json:"folder"` // that it was kept in; "" for none
}

// keepOff makes a file of ground that was drawn to be kept off, and keeps it in the folder
// where there is one, so that the command line finds it there.
func (d Desk) keepOff(ctx context.Context, r request) (any, []engine.File, error) {
	var o struct {
		engine.KeepOffDrawing
		Taken []string `json:"taken"` // names of files that the page has
	}
	if err := r.settings(&o); err != nil {
		return nil, nil, err
	}
	if d.Folder == nil {
		made, err := o.File(func(name string) bool { return slices.Contains(o.Taken, name) })
		return drawnFacts{Name: made.Name}, []engine.File{made}, err
	}
	var made engine.File
	err := d.Folder.Change(ctx, func(there func(name string) (*engine.Source, error)) (_ []engine.File, err error) {
		made, err = o.File(func(name string) bool {
			old, err := there(name)
			return old != nil || err != nil || slices.Contains(o.Taken, name)
		})
		return []engine.File{made}, err
	})
	return drawnFacts{made.Name, d.Folder.Name()}, []engine.File{made}, err
}
