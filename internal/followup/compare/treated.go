package compare

import (
	"fmt"
	"slices"
	"strings"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// Treatments makes records of treatment out of features: polygons with the
// properties date (as people write days; on where it is missing), note, and reentry_hours,
// which the person reads off the label. Features of one day and note are one
// treatment, wherever they stand, in the order of their first ones; of several
// re-entry times the longest holds. Features that are no ground are an error, and so
// is a date that is not on, where on is given: which is meant is not known.
func Treatments(features []geo.Feature, on string) (out []Treatment, err error) {
	for i, f := range features {
		ground := groundOf(f.Geometry)
		if len(ground) == 0 {
			return nil, fmt.Errorf("feature %d of the treated ground is no polygon", i+1)
		}
		t := Treatment{Date: on, Note: textOf(f.Properties, "note"), Ground: ground}
		if date := survey.LocalDay(dayTreated(f.Properties), ground.Bound().Center()[0]); date != "" {
			if date, err = survey.ParseDay(date); err != nil {
				return nil, fmt.Errorf("feature %d of the treated ground: the property date %w", i+1, err)
			}
			if on != "" && date != on {
				return nil, fmt.Errorf("feature %d of the treated ground gives its day itself, %s, and --treated-on says %s: leave out the flag, or correct the property date", i+1, date, on)
			}
			t.Date = date
		}
		if t.Date == "" {
			return nil, fmt.Errorf("feature %d of the treated ground does not give its day: give it a property date, or --treated-on", i+1)
		}
		if _, err := dayNumber(t.Date); err != nil {
			return nil, fmt.Errorf("feature %d of the treated ground: %w", i+1, err)
		}
		if t.ReentryHours, err = numberOf(f.Properties, "reentry_hours"); err != nil {
			return nil, fmt.Errorf("feature %d of the treated ground: %w", i+1, err)
		}
		out = append(out, t)
	}
	return grouped(out), nil
}

// dayTreated is the day of a treatment. Ground of a hand-off names the day of its count
// counted; before it did, it called that date, which is no day of a treatment.
func dayTreated(p geo.Properties) string {
	_, counted := p.Get("counted")
	if kind := textOf(p, "kind"); !counted && (kind == "ground" || kind == "swath") {
		return ""
	}
	return textOf(p, "date")
}

// grouped puts treatments of one day and note together.
func grouped(treatments []Treatment) (out []Treatment) {
	for _, t := range treatments {
		k := slices.IndexFunc(out, func(other Treatment) bool { return other.Date == t.Date && other.Note == t.Note })
		if k < 0 {
			t.Ground = slices.Clip(t.Ground)
			out = append(out, t)
			continue
		}
		out[k].Ground = append(out[k].Ground, t.Ground...)
		out[k].ReentryHours = max(out[k].ReentryHours, t.ReentryHours)
	}
	return out
}

func groundOf(g orb.Geometry) orb.MultiPolygon {
	switch g := g.(type) {
	case orb.Polygon:
		return orb.MultiPolygon{g.Clone()}
	case orb.MultiPolygon:
		return g.Clone()
	}
	return nil
}

func textOf(p geo.Properties, name string) string {
	v, ok := p.Get(name)
	if !ok || v == nil {
		return ""
	}
	return strings.TrimSpace(fmt.Sprint(v))
}

func numberOf(p geo.Properties, name string) (float64, error) {
	switch v, _ := p.Get(name); v := v.(type) {
	case nil:
		return 0, nil
	case float64:
		return v, nil
	case int64:
		return float64(v), nil
	default:
		return 0, fmt.Errorf("%s %v: want a number", name, v)
	}
}
