package geofile

import (
	"html"
	"strings"
)

// forViewers is a description that viewers which read it as HTML, as the standard
// lets them (OGC KML 2.3, 9.1.3.9, from memory), show as it was written: a name with a
// tag in it runs nothing. A text without one stays as it is for those that do not.
func forViewers(description string) string {
	if !strings.Contains(description, "<") {
		return description
	}
	return html.EscapeString(description)
}
