package boundary

import (
	"strings"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
)

// Unbound is a named point or open line of a file: a ditch or a pond that was not drawn as
// ground, so that it is neither left out of a field nor kept off.
type Unbound struct {
	Name string `json:"name"`
	Kind string `json:"kind"` // point or line
}

// leave keeps the name of what outlines no ground; what has none, or is neither point nor
// line, is passed over.
func (r *reading) leave(f geo.Feature) {
	kind := ""
	switch f.Geometry.(type) {
	case orb.Point, orb.MultiPoint:
		kind = "point"
	case orb.LineString, orb.MultiLineString:
		kind = "line"
	}
	if name := ofProperty(f, usual[:]); kind != "" && name != "" {
		r.unbound = append(r.unbound, Unbound{name, kind})
	}
}

// mostLeft is how many of them are named in a note.
const mostLeft = 5

// namesOf are those of what outlines no ground, in brackets; "" for none.
func namesOf(all []Unbound) string {
	var names []string
	for i, u := range all {
		if i == mostLeft {
			names = append(names, "...")
			break
		}
		names = append(names, u.Name)
	}
	if names == nil {
		return ""
	}
	return " (" + strings.Join(names, ", ") + ")"
}
