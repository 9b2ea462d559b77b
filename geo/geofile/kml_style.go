package geofile

import (
	"fmt"
	"math"
)

// checkStyles wants what OGC 07-147r2 asks of styles: an ID is an XML name
// without colon and stands once, sizes are numbers of 0 or more.
func checkStyles(styles []Style) error {
	seen := map[string]bool{}
	for _, s := range styles {
		switch {
		case !isXMLName(s.ID):
			return &Error{File: "KML", Msg: fmt.Sprintf("%q is no ID of a style", s.ID), Hint: "begin with a letter; then letters, digits, -, _ and full stops"}
		case seen[s.ID]:
			return &Error{File: "KML", Msg: fmt.Sprintf("the style %q stands twice", s.ID)}
		}
		for _, size := range []float64{s.Width, s.Scale, s.LabelScale} {
			if !(size >= 0) || math.IsInf(size, 1) {
				return &Error{File: "KML", Msg: fmt.Sprintf("the style %q has a size of %v", s.ID, size)}
			}
		}
		seen[s.ID] = true
	}
	return nil
}

// isXMLName allows the names of ASCII letters.
func isXMLName(id string) bool {
	for i, c := range id {
		letter := c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c == '_'
		later := c >= '0' && c <= '9' || c == '-' || c == '.'
		if !letter && (i == 0 || !later) {
			return false
		}
	}
	return id != ""
}
