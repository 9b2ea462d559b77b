//go:build !small

package engine

import (
	"bytes"
	"errors"
	"fmt"
	"path/filepath"
	"strings"

	"github.com/pelletier/go-toml/v2"
)

// Take takes in a settings file, in TOML. A key that is no setting is an error that
// names its line. Paths in it go from the file's own folder.
func (o *Settings) Take(file Source) error {
	if len(file.Content) > settingsLimit {
		return fmt.Errorf("%s: more than %d KiB: is this a file of settings?", file.Base(), settingsLimit>>10)
	}
	d := toml.NewDecoder(bytes.NewReader(file.Content)).DisallowUnknownFields()
	read := earlierSettings{Settings: o}
	if err := d.Decode(&read); err != nil {
		return settingsError(file.Base(), err)
	}
	if !read.adopt() {
		return hinted(fmt.Errorf("%s: fix and mend are one setting, given twice", file.Base()), "leave out mend")
	}
	for _, p := range []*string{&o.Field, &o.Out, &o.Schema, &o.Rules, &o.Observers} {
		if *p != "" && !filepath.IsAbs(*p) {
			*p = filepath.Join(filepath.Dir(file.Name), *p)
		}
	}
	return nil
}

func settingsError(name string, err error) error {
	var unknown *toml.StrictMissingError
	if errors.As(err, &unknown) && len(unknown.Errors) > 0 {
		line, column := unknown.Errors[0].Position()
		return hinted(fmt.Errorf("%s:%d:%d: no setting is called %q", name, line, column, joined(unknown.Errors[0].Key())),
			"settings are called as the flags are, without the dashes in front")
	}
	var wrong *toml.DecodeError
	if errors.As(err, &wrong) {
		line, column := wrong.Position()
		key := joined(wrong.Key())
		if kind := wanted(key); kind != "" && (strings.Contains(wrong.Error(), "cannot decode") || strings.Contains(wrong.Error(), "cannot store")) {
			return fmt.Errorf("%s:%d:%d: %s: want %s", name, line, column, key, kind)
		}
		return fmt.Errorf("%s:%d:%d: %s", name, line, column, wrong.Error())
	}
	return fmt.Errorf("%s: %w", name, err)
}

func joined(key toml.Key) (out string) {
	for i, part := range key {
		if i > 0 {
			out += "."
		}
		out += part
	}
	return out
}
