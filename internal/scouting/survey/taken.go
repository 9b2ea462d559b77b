//go:build !small

package survey

import (
	"fmt"
	"strings"

	"github.com/geocoris/geocoris/geo/geofile"
)

// taken tells by the keys of places which rows have them: stops of several fields are often
// numbered alike, and only those of one can lie at a place.
type taken map[string]taker

// A taker is the first row that has a place, and the first field told for it.
type taker struct {
	file      string
	line      int
	field     string // "" for none
	fieldLine int
}

// take gives a row the place of its stop. It is an error where a row of another file or of
// another field has it.
func (j *joining) take(key, name string, r row) error {
	field := ""
	if j.field >= 0 && j.field < len(r.Cells) {
		field = strings.TrimSpace(r.Cells[j.field])
	}
	by, known := j.taken[key]
	if !known {
		by = taker{file: j.file, line: r.Line}
	}
	whose := ""
	switch {
	case by.file != j.file:
		whose = fmt.Sprintf("is that of %s:%d already", by.file, by.line)
	case field != "" && by.field != "" && placeKey(field) != placeKey(by.field):
		whose = fmt.Sprintf("is that of field %q (line %d) already, and this row is of %q", by.field, by.fieldLine, field)
	case by.field == "" && field != "":
		by.field, by.fieldLine = field, r.Line
	}
	if whose != "" {
		return &geofile.Error{
			File: j.file, Line: r.Line, Msg: fmt.Sprintf("the place %q of %s %s", name, j.p.File, whose),
			Hint: fmt.Sprintf("give each a name of its own in the counts and in %s, such as North 1, or map one field at a time", j.p.File),
		}
	}
	j.taken[key] = by
	return nil
}
