//go:build !small

package engine

import (
	"path/filepath"
	"reflect"
	"strings"

	"github.com/geocoris/geocoris/internal/files/keyed"
)

// Take takes in a settings file of handoff, in TOML: names as those of the flags,
// quantities as texts with their unit, such as swath = "24m". Keep-offs and a file of rows
// lie from the file's own folder. What is given as a flag goes before it, which the
// caller minds.
func (o *HandoffSettings) Take(file Source) error {
	if len(file.Content) > settingsLimit {
		return hinted(&keyed.Error{Text: file.Base() + ": is too large for a file of settings"}, "give the file of settings of handoff")
	}
	f := fileOf(file)
	f.Lists = map[string]string{"keep-off": "hives.geojson=50m", "product": "product A=3lb/ac", "gate": "-101.6053,35.8925", "only": "North"}
	if err := f.Decode(o); err != nil {
		return keyedError(err)
	}
	beside := func(path string) string {
		if filepath.IsAbs(path) {
			return path
		}
		return filepath.Join(filepath.Dir(file.Name), path)
	}
	for i, k := range o.KeepOff {
		o.KeepOff[i].Path = beside(k.Path)
	}
	if rows := o.Rows.Path(); rows != "" {
		o.Rows.Typed = beside(rows)
	}
	if o.SprayOn != "" {
		day, err := ParseDay(o.SprayOn)
		if err != nil {
			return &keyed.Error{Text: file.Base() + ": spray-on: " + err.Error()}
		}
		o.SprayOn = day
	}
	return nil
}

// Adopt takes the settings that names tell, as flags are called, from others. Keep-offs
// add up: those of a farm stand in its file, and none may go lost by one of the day.
func (o *HandoffSettings) Adopt(from HandoffSettings, given func(name string) bool) {
	from.KeepOff = o.KeepOff.and(from.KeepOff)
	to, source := reflect.ValueOf(o).Elem(), reflect.ValueOf(from)
	for i := range to.NumField() {
		name, _, _ := strings.Cut(to.Type().Field(i).Tag.Get("json"), ",")
		if given(name) {
			to.Field(i).Set(source.Field(i))
		}
	}
}
