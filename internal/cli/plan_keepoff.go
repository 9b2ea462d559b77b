package cli

import (
	"strings"

	"github.com/geocoris/geocoris/internal/engine"
)

// keepOff is a file and its set-back; nil where none was typed.
type keepOff struct {
	path    string
	setBack *engine.Typed
}

// keepOffs are a flag that may be given several times: FILE=SETBACK, or FILE alone
// where bare is set.
type keepOffs struct {
	bare  bool
	files []keepOff
}

// Set adds a file.
func (k *keepOffs) Set(text string) error {
	one, err := engine.ParseKeepOff(text, k.bare)
	if err == nil {
		k.files = append(k.files, keepOff{one.Path, one.SetBack.Typed})
	}
	return err
}

// String is what was typed.
func (k *keepOffs) String() string {
	var parts []string
	for _, one := range k.files {
		parts = append(parts, engine.KeepOffFile{Path: one.path, SetBack: engine.Length{Typed: one.setBack}}.String())
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
