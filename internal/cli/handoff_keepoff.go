package cli

import (
	"fmt"
	"strings"

	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/spraying/handoff"
	"github.com/geocoris/geocoris/internal/spraying/spray"
)

// keepOff is a file and its set-back; nil where none was typed.
type keepOff struct {
	path    string
	setBack *spray.Quantity
}

// keepOffs are a flag that may be given several times: FILE=SETBACK, or FILE alone
// where bare is set.
type keepOffs struct {
	bare  bool
	files []keepOff
}

const maxSetBack = 10000 // m

// Set adds a file.
func (k *keepOffs) Set(text string) error {
	i := strings.LastIndex(text, "=")
	switch {
	case i < 0 && k.bare && text != "":
		k.files = append(k.files, keepOff{path: text})
		return nil
	case i < 1:
		return fmt.Errorf("%q: want FILE=SETBACK, such as hives.geojson=50m", text)
	}
	d, err := spray.ParseLength(text[i+1:])
	if err != nil {
		return err
	}
	if d.Base > maxSetBack {
		return fmt.Errorf("%q: a set-back above %d m", text, maxSetBack)
	}
	k.files = append(k.files, keepOff{text[:i], &d})
	return nil
}

// String is what was typed.
func (k *keepOffs) String() string {
	var parts []string
	for _, one := range k.files {
		part := one.path
		if one.setBack != nil {
			part += "=" + strings.ReplaceAll(one.setBack.String(), " ", "")
		}
		parts = append(parts, part)
	}
	return strings.Join(parts, " ")
}

// Type is the form of the value.
func (k *keepOffs) Type() string { return "FILE=SETBACK" }

func (k *keepOffs) paths() (paths []string) {
	for _, one := range k.files {
		paths = append(paths, one.path)
	}
	return paths
}

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
