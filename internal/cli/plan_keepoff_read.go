package cli

import (
	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/spraying/handoff"
)

// read reads the files, with all that their readers passed over.
func (k *keepOffs) read() (out []handoff.KeepOff, err error) {
	for _, one := range k.files {
		c, err := geofile.Read(one.path, geofile.Limits{})
		if err != nil {
			return nil, err
		}
		file := handoff.KeepOff{File: c.Name, Features: c.Features, Notes: c.Notes, NoSetBack: one.setBack == nil}
		if one.setBack != nil {
			file.SetBack = one.setBack.Base
		}
		out = append(out, file)
	}
	return out, nil
}
