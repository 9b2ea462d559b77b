package report

import (
	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/mapping/verdict"
)

// SeasonVerdicts are the fields that have a verdict, each as its boundary with what
// [WithVerdicts] tells of it, for a season.
func SeasonVerdicts(r *assess.Result, all []verdict.Verdict) []geo.Feature {
	var features []geo.Feature
	for _, v := range all {
		for _, f := range r.Fields {
			if f.Name != v.Field {
				continue
			}
			own := r.Of(f)
			features = append(features, geo.Feature{Geometry: f.Boundary, Properties: geo.Properties{
				{Name: "field", Value: f.Name},
				{Name: "date", Value: interval(f.Days())},
				{Name: "pest", Value: own.Survey.Pest},
				{Name: "area_ha", Value: figures.Rounded(figures.Hectares(f.Area), areaDecimals)},
				{Name: "threshold", Value: own.Levels.TreatAt},
			}})
		}
	}
	return WithVerdicts(features, all)
}
