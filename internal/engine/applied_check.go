//go:build !small

package engine

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"github.com/geocoris/geocoris/internal/spraying/handoff"
)

// sprayedOver is how far an area as entered may go beyond that of its field: what a
// boom sprays past the edge, and the rounding of a monitor. Our choice, no source.
const sprayedOver = 1.1

// mappedFields is what summary.json tells of a map that a record can be compared with.
type mappedFields struct {
	Dates  []string `json:"dates"`
	Fields []struct {
		Field string   `json:"field"`
		Dates []string `json:"dates"` // maps of before tell those of all fields only
		Ha    float64  `json:"area_ha"`
		Ac    float64  `json:"area_ac"`
	} `json:"fields"`
	Unscouted []string `json:"fields_not_scouted"`
}

// firstCount is the day of the first count of a field, or of all fields where the map
// does not tell its own; "" where it tells none.
func (m mappedFields) firstCount(field string) string {
	days := m.Dates
	for _, f := range m.Fields {
		if f.Field == field && len(f.Dates) > 0 {
			days = f.Dates
		}
	}
	if len(days) == 0 {
		return ""
	}
	return days[0]
}

// against compares a record with the map beside it.
func against(a handoff.Applied, summary Source) error {
	var m mappedFields
	if err := json.Unmarshal(summary.Content, &m); err != nil {
		return fmt.Errorf("%s: %w", summary.Name, err)
	}
	if first := m.firstCount(a.Field); a.Date < first {
		return fmt.Errorf("--date %s lies before the count of %s: correct the year or the day", a.Date, first)
	}
	names := append([]string(nil), m.Unscouted...)
	for _, f := range m.Fields {
		names = append(names, f.Field)
		most := f.Ha
		if a.AreaUnit == "ac" {
			most = f.Ac
		}
		if f.Field == a.Field && a.Area > sprayedOver*most {
			return fmt.Errorf("--area %g %s is more than field %q has, %.4g %s: correct the number or its unit", a.Area, a.AreaUnit, a.Field, most, a.AreaUnit)
		}
	}
	if slices.Contains(names, a.Field) {
		return nil
	}
	return fmt.Errorf("--field %q is none of this map: it has %s", a.Field, strings.Join(names, ", "))
}
