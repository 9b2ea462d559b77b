package engine

import (
	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/spraying/handoff"
)

// A KeepOff is a file of ground that is closed.
type KeepOff struct {
	File    Source
	SetBack *float64 // metres round it; nil where none was given
}

// keepOffs reads the files, with all that their readers passed over.
func keepOffs(all []KeepOff) (out []handoff.KeepOff, err error) {
	for _, one := range all {
		c, err := geofile.DecodeSource(one.File, geofile.Limits{})
		if err != nil {
			return nil, err
		}
		file := handoff.KeepOff{File: c.Name, Features: c.Features, Notes: c.Notes, NoSetBack: one.SetBack == nil}
		if one.SetBack != nil {
			file.SetBack = *one.SetBack
		}
		out = append(out, file)
	}
	return out, nil
}
