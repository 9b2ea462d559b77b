package engine

import (
	"encoding/json"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/scouting/plan"
	"github.com/geocoris/geocoris/internal/scouting/survey"
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
	asked := a.asked(field.Name)
	k.Fill = asked.Fill
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
		at := f.Geometry.Bound().Min
		kind, _ := f.Properties.Get("kind")
		k.Stops = append(k.Stops, plan.Counted{Lonlat: at, Mean: value, Units: units, Extra: kind == "extra"})
		stop, _ := f.Properties.Get("stop")
		named := fmt.Sprint(stop)
		if number, err := strconv.Atoi(strings.TrimPrefix(named, "A")); err == nil && strings.HasPrefix(named, "A") {
			k.Added = max(k.Added, number)
		}
		if slices.Contains(asked.Round, named) {
			k.Round = append(k.Round, at)
		} else if slices.Contains(asked.Beside, named) {
			k.Beside = append(k.Beside, at)
		}
	}
	if len(k.Stops) == 0 {
		return k, hinted(fmt.Errorf("%s holds no stop of field %s; it has %s", a.Name, field.Name, survey.Listed(others)), "give the boundary that the map was made with")
	}
	return k, nil
}

// askedStops are the stops that a map's verdict asks to be walked round, or inside of, or
// whether those it asks for are to fill the ground that lies farthest from any.
type askedStops struct {
	Fill   bool     `json:"walk_farthest"`
	Round  []string `json:"walk_round"`
	Beside []string `json:"walk_inside_of"`
}

// asked are those of a field; none where the summary names none.
func (a PlanAfter) asked(field string) askedStops {
	var summary struct {
		Fields []struct {
			Field   string     `json:"field"`
			Verdict askedStops `json:"verdict"`
		} `json:"fields"`
	}
	if json.Unmarshal(a.Summary.Content, &summary) != nil {
		return askedStops{} // levels has refused it
	}
	for _, f := range summary.Fields {
		if f.Field == field {
			return f.Verdict
		}
	}
	return askedStops{}
}

// said tells why further stops stand where they do.
func (s askedStops) said() string {
	switch {
	case len(s.Round) > 0:
		return "round " + stopsNamed(s.Round) + ", as the map asks"
	case len(s.Beside) > 0:
		return "inside, beside " + stopsNamed(s.Beside) + " of the edge, as the map asks"
	case s.Fill:
		return "on the ground farthest from any stop, as the map asks"
	}
	return ""
}

func stopsNamed(names []string) string {
	if len(names) == 1 {
		return "stop " + names[0]
	}
	return "stops " + strings.Join(names, ", ")
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
