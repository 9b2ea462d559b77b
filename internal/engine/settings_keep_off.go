package engine

import (
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"github.com/geocoris/geocoris/internal/spraying/spray"
)

// A KeepOffFile names a file of ground that is closed, and how far to stay away from it.
type KeepOffFile struct {
	Path    string
	SetBack Length
}

// A KeepOff is a file of ground that is closed.
type KeepOff struct {
	File    Source
	SetBack *float64 // metres round it; nil where none was given
}

const maxSetBack = 10000 // m

// ParseKeepOff takes FILE=SETBACK; where bare is set, FILE alone too.
func ParseKeepOff(text string, bare bool) (k KeepOffFile, err error) {
	i := strings.LastIndex(text, "=")
	switch {
	case i < 0 && bare && text != "":
		return KeepOffFile{Path: text}, nil
	case i < 1:
		return k, fmt.Errorf("%q: want FILE=SETBACK, such as hives.geojson=50m", text)
	}
	d, err := spray.ParseLength(text[i+1:])
	if err != nil {
		return k, err
	}
	if d.Base > maxSetBack {
		return k, fmt.Errorf("%q: a set-back above %d m", text, maxSetBack)
	}
	return KeepOffFile{text[:i], Length{&d}}, nil
}

func (k KeepOffFile) String() string {
	if k.SetBack.Typed == nil {
		return k.Path
	}
	return k.Path + "=" + k.SetBack.text()
}

// UnmarshalText takes FILE=SETBACK.
func (k *KeepOffFile) UnmarshalText(text []byte) (err error) {
	*k, err = ParseKeepOff(string(text), false)
	return err
}

// MarshalText writes what [ParseKeepOff] reads.
func (k KeepOffFile) MarshalText() ([]byte, error) { return []byte(k.String()), nil }

// KeepOffFiles are several.
type KeepOffFiles []KeepOffFile

// Set adds one.
func (k *KeepOffFiles) Set(text string) error {
	one, err := ParseKeepOff(text, false)
	if err == nil {
		*k = append(*k, one)
	}
	return err
}

func (k *KeepOffFiles) String() string { return spaced(*k) }
func (k *KeepOffFiles) Type() string   { return "FILE=SETBACK" }

// and are these and others, each once: the same file by the same set-back.
func (k KeepOffFiles) and(others KeepOffFiles) KeepOffFiles {
	all := slices.Clone(k)
	for _, one := range others {
		same := func(k KeepOffFile) bool {
			return filepath.Clean(k.Path) == filepath.Clean(one.Path) && k.SetBack.text() == one.SetBack.text()
		}
		if !slices.ContainsFunc(all, same) {
			all = append(all, one)
		}
	}
	return all
}

// Paths are those of the files, in their order.
func (k KeepOffFiles) Paths() (paths []string) {
	for _, one := range k {
		paths = append(paths, one.Path)
	}
	return paths
}

// with are the files themselves, which came along in the order of the setting.
func (k KeepOffFiles) with(files []Source) (all []KeepOff, err error) {
	for i, one := range k {
		if i >= len(files) {
			return nil, fmt.Errorf("--keep-off %s: the file did not come along", one.Path)
		}
		named := KeepOff{File: files[i]}
		if one.SetBack.Typed != nil {
			named.SetBack = &one.SetBack.Typed.Base
		}
		all = append(all, named)
	}
	return all, nil
}

// spaced are several in one line.
func spaced[T fmt.Stringer](all []T) string {
	var parts []string
	for _, one := range all {
		parts = append(parts, one.String())
	}
	return strings.Join(parts, " ")
}
