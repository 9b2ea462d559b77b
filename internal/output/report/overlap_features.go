package report

import (
	"slices"
	"strings"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/geometry/boundary"
)

// OverlapsOn adds to the zones of fields that were drawn over one another what was
// done about it, in a property overlap. Zones of other fields stay as they are.
func OverlapsOn(all []boundary.Overlap) Addition {
	lines := map[string][]string{}
	for _, o := range all {
		lines[o.To] = append(lines[o.To], o.String())
		if o.From != o.To {
			lines[o.From] = append(lines[o.From], o.String())
		}
	}
	return func(f geo.Feature) geo.Feature {
		if of := lines[text(f.Properties.Get("field"))]; len(of) > 0 {
			f.Properties = append(slices.Clone(f.Properties), geo.Property{Name: "overlap", Value: strings.Join(of, "; ")})
		}
		return f
	}
}
