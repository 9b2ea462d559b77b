//go:build !small

package engine

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"slices"

	"github.com/geocoris/geocoris/internal/mapping/verdict"
	"github.com/geocoris/geocoris/internal/scouting/survey"
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

		Verdict struct {
			Verdict string `json:"verdict"`
		} `json:"verdict"`
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

// area is that of a field, in ha or ac; ok is false where the map has no such field.
func (m mappedFields) area(field, unit string) (area float64, ok bool) {
	for _, f := range m.Fields {
		switch {
		case f.Field != field:
		case unit == "ac":
			return f.Ac, true
		default:
			return f.Ha, true
		}
	}
	return 0, false
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
	}
	if most, known := m.area(a.Field, a.AreaUnit); known && a.Area > sprayedOver*most {
		return fmt.Errorf("--area %g %s is more than field %q has, %.4g %s: correct the number or its unit", a.Area, a.AreaUnit, a.Field, most, a.AreaUnit)
	}
	if slices.Contains(names, a.Field) {
		return nil
	}
	return fmt.Errorf("--field %q is none of this map: it has %s", a.Field, survey.Listed(names))
}

// againstVerdict asks about a spray of a field of which the map beside says otherwise.
func againstVerdict(a handoff.Applied, summary Source) (notes []string) {
	var m mappedFields
	if json.Unmarshal(summary.Content, &m) != nil {
		return nil // [against] says so
	}
	for _, f := range m.Fields {
		if says := (handoff.Advice{Verdict: f.Verdict.Verdict}); f.Field == a.Field && says.Against() && says.Verdict != verdict.None.String() {
			notes = append(notes, fmt.Sprintf("the map's verdict on %q is %q: is this the right field and map?", a.Field, says.Verdict))
		}
	}
	return notes
}

// twice asks about a spray of a field, day and area that has a record already, whatever else
// the records say: who enters one spray twice has sprayed twice on paper.
func (q RecordRequest) twice(a handoff.Applied) (notes []string) {
	if q.Table == nil {
		return nil
	}
	rows, err := csv.NewReader(bytes.NewReader(q.Table.Content)).ReadAll()
	if err != nil || len(rows) == 0 {
		return nil
	}
	same := map[string]string{"date": a.Date, "field": a.Field, "area": fmt.Sprint(a.Area), "area_unit": a.AreaUnit}
	for _, row := range rows[1:] {
		alike := 0
		for i, column := range rows[0] {
			if want, asked := same[column]; asked && row[i] == want {
				alike++
			}
		}
		if alike == len(same) {
			return []string{fmt.Sprintf("%s has a record of %s on %s already: is this the same spray?", AppliedTable, a.Field, a.Date)}
		}
	}
	return nil
}
