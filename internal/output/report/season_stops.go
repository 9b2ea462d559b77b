package report

import (
	"encoding/json"
	"fmt"
	"path/filepath"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/mapping/assess"
)

// SeasonStops are [StopFeatures] with the rows of the counts that each was put
// together from, as a JSON list of "file:line".
func SeasonStops(r *assess.Result) ([]geo.Feature, error) {
	features := StopFeatures(r)
	i := 0
	for _, f := range r.Fields {
		for _, s := range f.Stops {
			rows := make([]string, len(s.Records))
			for k, record := range s.Records {
				rows[k] = fmt.Sprintf("%s:%d", filepath.Base(record.File), record.Line)
			}
			text, err := json.Marshal(rows)
			if err != nil {
				return nil, err
			}
			features[i].Properties = append(features[i].Properties, geo.Property{Name: "rows", Value: string(text)})
			i++
		}
	}
	return features, nil
}

// Dates is the day of a result, or the first and the last as an ISO 8601 interval.
func Dates(r *assess.Result) string { return dates(r) }
