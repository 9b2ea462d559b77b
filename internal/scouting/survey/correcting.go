package survey

import (
	"fmt"
	"path"
	"path/filepath"
	"strings"

	"github.com/geocoris/geocoris/geo/geofile"
)

// Correcting says how corrections find their files. With the zero value each must be of one
// of the files that are read.
type Correcting struct {
	// Others are files that are not read now, and that a correction may be of.
	Others []string
	// Some lets corrections be that are of no file: they may be of counts of another day.
	Some bool
	// Moved takes a file by its bare name where no path fits: the counts were read before,
	// and may lie elsewhere since.
	Moved bool
}

// cleaned is a path in one form: ./a.csv is a.csv.
func cleaned(file string) string { return path.Clean(filepath.ToSlash(file)) }

// Fit gives each source its corrections. One that fits several files, or none that it may
// be of, is an error, and so are two of one cell.
func (o Correcting) Fit(all []Correction, sources []geofile.Source) ([][]Correction, error) {
	of, first := make([][]Correction, len(sources)), map[string]string{}
	names := make([]string, 0, len(sources)+len(o.Others))
	for _, s := range sources {
		names = append(names, cleaned(s.Name))
	}
	for _, other := range o.Others {
		names = append(names, cleaned(other))
	}
	for _, c := range all {
		at := o.find(c.File, names)
		switch {
		case len(at) > 1:
			return nil, fmt.Errorf("%s: %s fits several files: %s: write it with its folder, as the counts are given", c.At, c.File, filesAt(names, at))
		case len(at) == 0 && !o.Some:
			return nil, fmt.Errorf("%s: no file of counts is called %s; there is %s: write it as the counts are given, or take the correction out", c.At, quote(c.File), filesAt(names, nil))
		case len(at) == 0 || at[0] >= len(sources):
			continue
		}
		cell := fmt.Sprintf("%d:%d:%s", at[0], c.Line, same(c.Column))
		if before, twice := first[cell]; twice {
			return nil, fmt.Errorf("%s: corrects the same cell as %s: leave one of the two", c.At, before)
		}
		first[cell] = c.At
		of[at[0]] = append(of[at[0]], c)
	}
	return of, nil
}

// find are the places of the files that a correction names: by the whole path, else by its
// end, from a folder on.
func (o Correcting) find(file string, names []string) []int {
	file = cleaned(file)
	fits := []func(name string) bool{
		func(name string) bool { return name == file },
		func(name string) bool { return strings.HasSuffix(name, "/"+file) },
	}
	if o.Moved {
		fits = append(fits, func(name string) bool { return path.Base(name) == path.Base(file) })
	}
	for _, fit := range fits {
		var at []int
		for i, name := range names {
			if fit(name) {
				at = append(at, i)
			}
		}
		if len(at) > 0 {
			return at
		}
	}
	return nil
}

// filesAt lists some of some names, all where at is nil.
func filesAt(names []string, at []int) string {
	if at == nil {
		return Listed(names)
	}
	var some []string
	for _, i := range at {
		some = append(some, names[i])
	}
	return Listed(some)
}
