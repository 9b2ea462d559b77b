//go:build !small

package engine

import (
	"errors"
	"fmt"
	"math"
	"path/filepath"

	"github.com/geocoris/geocoris/internal/files/keyed"
)

// Take takes in a settings file, in TOML. A key that is no setting is an error that
// names its line. Paths in it go from the file's own folder.
func (o *Settings) Take(file Source) error {
	if len(file.Content) > settingsLimit {
		return fmt.Errorf("%s: more than %d KiB: is this a file of settings?", file.Base(), settingsLimit>>10)
	}
	read, given := earlierSettings{Settings: o}, o.given()
	if err := fileOf(file).Decode(&read); err != nil {
		return keyedError(err)
	}
	if err := given(); err != nil {
		return fmt.Errorf("%s: %w", file.Base(), err)
	}
	if !read.adopt() {
		return hinted(fmt.Errorf("%s: fix and mend are one setting, given twice", file.Base()), "leave out mend")
	}
	paths := []*string{&o.Field, &o.Out}
	for _, n := range o.NamedFiles() {
		paths = append(paths, n.Path)
	}
	for _, p := range paths {
		if *p != "" && !filepath.IsAbs(*p) {
			*p = filepath.Join(filepath.Dir(file.Name), *p)
		}
	}
	return nil
}

// given tells, once a file was read, whether it gives a 0 where a number above 0 is wanted:
// what it does not name stays as it was.
func (o *Settings) given() (refuse func() error) {
	const not = -math.MaxFloat64 // nobody types it
	all := o.AboveZero()
	before := make([]float64, len(all))
	for i, z := range all {
		before[i], *z.value = *z.value, not
	}
	return func() (err error) {
		for i, z := range all {
			if *z.value == not {
				*z.value = before[i]
			} else if err == nil {
				err = z.Refuse()
			}
		}
		return err
	}
}

// fileOf is a file of settings to be read.
func fileOf(file Source) keyed.File {
	return keyed.File{
		Name: file.Base(), Text: file.Content,
		Unknown: "no setting is called", Hint: "settings are called as the flags are, without the dashes in front", Lists: inLists,
	}
}

// inLists are what may stand in settings that are lists.
var inLists = map[string]string{"fix": "swap", "mend": "swap", "write": "report"}

// keyedError is an error of a file of settings, with how to fix it where that is known.
func keyedError(err error) error {
	var wrong *keyed.Error
	if errors.As(err, &wrong) && wrong.Hint != "" {
		return hinted(err, wrong.Hint)
	}
	return err
}
