//go:build !small

package engine

import (
	"errors"
	"fmt"

	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/spraying/handoff"
)

// RowsSetting is how the rows run: a direction such as 12°, or a file that tells it. The
// zero value is not known.
type RowsSetting struct {
	Typed   string
	Heading *float64 // degrees clockwise from north; nil for a file
}

// Set takes a direction or the path of a file; what begins like a number is none.
func (r *RowsSetting) Set(text string) error {
	if text == "" {
		*r = RowsSetting{}
		return nil
	}
	*r = RowsSetting{Typed: text}
	if v, err := handoff.ParseRows(text); err == nil {
		r.Heading = &v
	} else if c := text[0]; c == '-' || c == '+' || c >= '0' && c <= '9' && !isFileName(text) {
		return err
	}
	return nil
}

// isFileName tells whether a text ends as names of files do, such as 2026-rows.kml.
func isFileName(text string) bool {
	for i := len(text) - 1; i > 0 && len(text)-i < 10; i-- {
		if text[i] == '.' {
			return i+1 < len(text) && text[i+1] >= 'A'
		}
	}
	return false
}

func (r *RowsSetting) String() string { return r.Typed }

// Type implements the value of a flag.
func (r *RowsSetting) Type() string { return "DEGREES|FILE" }

// UnmarshalText takes what [RowsSetting.Set] takes.
func (r *RowsSetting) UnmarshalText(text []byte) error { return r.Set(string(text)) }

// MarshalText writes it as it was typed.
func (r RowsSetting) MarshalText() ([]byte, error) { return []byte(r.Typed), nil }

// Path is that of the file; "" where the direction was typed, or nothing.
func (r RowsSetting) Path() string {
	if r.Heading != nil {
		return ""
	}
	return r.Typed
}

// rows are the rows as the work takes them, with the file where one was named.
func (q HandoffRequest) rows() (rows handoff.Rows, err error) {
	set := q.Settings.Rows
	rows.Heading = set.Heading
	if set.Path() == "" {
		return rows, nil
	}
	if q.Rows == nil {
		return rows, fmt.Errorf("--rows %s: the file did not come along", set.Path())
	}
	c, err := geofile.DecodeSource(*q.Rows, geofile.Limits{})
	if err != nil {
		return rows, err
	}
	rows.File, rows.Features = c.Name, c.Features
	if !rows.Tell() {
		return rows, hinted(fmt.Errorf("%s: nothing in it tells how the rows run", c.Name), "draw a line along a row, or give --rows in degrees clockwise from north, such as 12°")
	}
	return rows, nil
}

var errTwoHeadings = errors.New("--heading and --fewest-passes are two headings: give one")
