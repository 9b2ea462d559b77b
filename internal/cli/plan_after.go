package cli

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/scouting/plan"
)

// known reads from a folder that map wrote what it holds of a field: stops and
// levels.
func known(folder string, field geo.Field) (plan.Known, error) {
	var k plan.Known
	levels, err := knownLevels(filepath.Join(folder, "summary.json"))
	if err != nil {
		return k, err
	}
	k.Levels = levels
	c, err := geofile.Read(filepath.Join(folder, "stops.geojson"), geofile.Limits{})
	if err != nil {
		return k, err
	}
	var others []string
	for _, f := range c.Features {
		name, _ := f.Properties.Get("field")
		value, counted := number(f.Properties, "value")
		if f.Geometry == nil || !counted {
			continue
		}
		if name != field.Name {
			if text, ok := name.(string); ok && (len(others) == 0 || others[len(others)-1] != text) {
				others = append(others, text)
			}
			continue
		}
		units, ok := number(f.Properties, "leaves")
		if !ok || units <= 0 {
			units = 1
		}
		k.Stops = append(k.Stops, plan.Counted{Lonlat: f.Geometry.Bound().Min, Mean: value, Units: units})
	}
	if len(k.Stops) == 0 {
		return k, hintedError{fmt.Errorf("%s holds no stop of field %s; it has %s", folder, field.Name, strings.Join(others, ", ")), "give the boundary that the map was made with"}
	}
	return k, nil
}

// number is a property that may be written as a whole number.
func number(p geo.Properties, name string) (float64, bool) {
	v, _ := p.Get(name)
	switch v := v.(type) {
	case float64:
		return v, true
	case int64:
		return float64(v), true
	}
	return 0, false
}

func knownLevels(path string) ([]float64, error) {
	text, err := os.ReadFile(path)
	if err != nil {
		return nil, hintedError{err, "--after wants a folder that map wrote"}
	}
	var summary struct {
		Statistic string `json:"statistic"`
		Levels    struct {
			Treat float64 `json:"treat_at"`
			Watch float64 `json:"watch_at"`
		} `json:"levels"`
	}
	if err := json.Unmarshal(text, &summary); err != nil {
		return nil, fmt.Errorf("%s: %w; want a summary that map wrote", path, err)
	}
	if !strings.HasPrefix(summary.Statistic, "mean") {
		return nil, hintedError{fmt.Errorf("%s is a map of %s", filepath.Dir(path), summary.Statistic), "--after works on maps of a mean"}
	}
	return []float64{summary.Levels.Treat, summary.Levels.Watch}, nil
}
