package report

import (
	"slices"
	"strings"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/geometry/boundary"
)

// WithOverlaps adds to the zones of fields that were drawn over one another what was
// done about it, in a property overlap. Zones of other fields stay as they are.
func WithOverlaps(features []geo.Feature, all []boundary.Overlap) []geo.Feature {
	if len(all) == 0 {
		return features
	}
	out := slices.Clone(features)
	for i, f := range out {
		name := text(f.Properties.Get("field"))
		var lines []string
		for _, o := range all {
			if o.To == name || o.From == name {
				lines = append(lines, o.String())
			}
		}
		if len(lines) > 0 {
			out[i].Properties = append(slices.Clone(f.Properties), geo.Property{Name: "overlap", Value: strings.Join(lines, "; ")})
		}
	}
	return out
}
