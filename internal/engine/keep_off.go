//go:build !small

package engine

import (
	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/scouting/plan"
	"github.com/geocoris/geocoris/internal/spraying/handoff"
)

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

// keepOffIn gives a plan the ground of its field where nobody may stop, and says what is said
// of it.
func keepOffIn(set *plan.Settings, field geo.Field, files []KeepOff) (notes []string, err error) {
	all, err := keepOffs(files)
	if err != nil {
		return nil, err
	}
	set.KeepOff, notes, err = handoff.Closed(field, all)
	return notes, err
}
