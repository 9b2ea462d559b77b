package engine

import (
	"encoding/json"
	"fmt"
	"strings"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/scouting/plan"
)

// A PlanAfter is a folder that map wrote, for which further stops are planned.
type PlanAfter struct {
	Name           string
	Summary, Stops Source // summary.json and stops.geojson
}

// known is what the folder holds of a field: stops and levels.
func (a PlanAfter) known(field geo.Field) (k plan.Known, err error) {
	if k.Levels, err = a.levels(field.Name); err != nil {
		return k, err
	}
	c, err := geofile.DecodeSource(a.Stops, geofile.Limits{})
	if err != nil {
		return k, err
	}
	var others []string
	for _, f := range c.Features {
		name, _ := f.Properties.Get("field")
		value, counted := f.Properties.Number("value")
		if f.Geometry == nil || !counted {
			continue
		}
		if name != field.Name {
			if text, ok := name.(string); ok && (len(others) == 0 || others[len(others)-1] != text) {
				others = append(others, text)
			}
			continue
		}
		units, ok := f.Properties.Number("leaves")
		if !ok || units <= 0 {
			units = 1
		}
		k.Stops = append(k.Stops, plan.Counted{Lonlat: f.Geometry.Bound().Min, Mean: value, Units: units})
	}
	if len(k.Stops) == 0 {
		return k, hinted(fmt.Errorf("%s holds no stop of field %s; it has %s", a.Name, field.Name, strings.Join(others, ", ")), "give the boundary that the map was made with")
	}
	return k, nil
}

// levels are where the zones of a field part, treat and watch: its own, or those of all.
func (a PlanAfter) levels(field string) ([]float64, error) {
	type judged struct {
		Field     string `json:"field"`
		Statistic string `json:"statistic"`
		Levels    *struct {
			Treat float64 `json:"treat_at"`
			Watch float64 `json:"watch_at"`
		} `json:"levels"`
	}
	var summary struct {
		judged
		Fields []judged `json:"fields"`
	}
	if err := json.Unmarshal(a.Summary.Content, &summary); err != nil {
		return nil, fmt.Errorf("%s: %w; want a summary that map wrote", a.Summary.Name, err)
	}
	by := summary.judged
	for _, f := range summary.Fields {
		if f.Field == field && f.Levels != nil {
			by = f
		}
	}
	switch {
	case by.Levels == nil:
		return nil, fmt.Errorf("%s gives no levels of field %q; want a summary that map wrote", a.Summary.Name, field)
	case !strings.HasPrefix(by.Statistic, "mean"):
		return nil, hinted(fmt.Errorf("%s is a map of %s", a.Name, by.Statistic), "--after works on maps of a mean")
	}
	return []float64{by.Levels.Treat, by.Levels.Watch}, nil
}
