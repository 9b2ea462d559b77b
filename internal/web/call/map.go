package call

import (
	"context"
	"encoding/json"
	"fmt"
	"path"

	"github.com/geocoris/geocoris/internal/engine"
	"github.com/geocoris/geocoris/internal/output/report"
)

// answerFacts are the answer of a field, first in words.
type answerFacts struct {
	Field    string   `json:"name"`
	Area     float64  `json:"area_ha"`
	Answer   string   `json:"answer"`
	Why      []string `json:"why"`
	Sure     []string `json:"sure"`
	LookOut  []string `json:"look_out"`
	Day      string   `json:"day"`        // to look again, ISO 8601; "" where the counts tell no day
	Kind     string   `json:"kind"`       // of the verdict
	Good     string   `json:"good_until"` // how long the map is good; "" where that is not known
	Used     string   `json:"used"`       // how many stops, in words
	Unused   int      `json:"unused"`     // stops
	Mean     *float64 `json:"mean"`
	Treat    float64  `json:"treat_at"`
	Watch    float64  `json:"watch_at"`
	Believed bool     `json:"believed"` // its map tells more than its mean
}

// mapFacts are the map of a field.
type mapFacts struct {
	answerFacts
	Areas map[string]float64 `json:"areas_ha"` // by zone
	Zones []json.RawMessage  `json:"zones"`    // features of GeoJSON
	Stops []countedFacts     `json:"stops"`
}

type countedFacts struct {
	Name  string     `json:"name"`
	At    [2]float64 `json:"at"`
	Value *float64   `json:"value"` // of the statistic
	Extra bool       `json:"extra"`
}

type mapsFacts struct {
	Statistic string     `json:"statistic"`
	Fields    []mapFacts `json:"fields"`
	Notes     []string   `json:"notes"`
	Problems  []string   `json:"problems"`     // rows that were refused or doubted
	Cautions  []string   `json:"cautions"`     // the two that a screen has room for
	AllOfThem []string   `json:"all_cautions"` // for what is handed to an applicator
}

func mapped(ctx context.Context, r request) (any, []engine.File, error) {
	o := engine.Defaults()
	if err := r.settings(&o); err != nil {
		return nil, nil, err
	}
	q, err := r.mapRequest(o)
	if err != nil {
		return nil, nil, err
	}
	made, err := engine.MapData(ctx, q)
	if err != nil {
		return nil, nil, err
	}
	facts, err := factsOfMap(made, o)
	return facts, sent(made.Files), err
}

// mapRequest is what asks for the map of the files that came along.
func (r request) mapRequest(o engine.Settings) (q engine.MapRequest, err error) {
	q = engine.MapRequest{Samples: r.all(Counts), Version: Version}
	if q.Setup, err = r.setup(o); err != nil {
		return q, err
	}
	if q.Boundary, err = r.one(Boundary); err != nil {
		return q, err
	}
	if len(q.Samples) == 0 {
		return q, fmt.Errorf("%s: no file of %s came along", r.Do, Counts)
	}
	return q, nil
}

func factsOfMap(made *engine.MapOutcome, o engine.Settings) (facts mapsFacts, err error) {
	facts = mapsFacts{
		Statistic: report.StatisticOf(made.Result), Fields: []mapFacts{}, Notes: some(append(made.Notes, made.Result.Notes...)), Problems: []string{},
		Cautions: report.BriefCautions(o.Said()), AllOfThem: report.CautionsIn(o.Said()),
	}
	for _, p := range made.Result.Survey.Problems {
		facts.Problems = append(facts.Problems, p.String())
	}
	facts.Fields, err = fieldsOfMap(made, o)
	return facts, err
}

// sent are the files that a phone has a use for.
func sent(files []engine.File) (out []engine.File) {
	for _, f := range files {
		if path.Ext(f.Name) != ".kmz" {
			out = append(out, f)
		}
	}
	return out
}

func fieldsOfMap(made *engine.MapOutcome, o engine.Settings) (all []mapFacts, err error) {
	zones, err := zonesOf(made.Files)
	if err != nil {
		return nil, err
	}
	all = []mapFacts{}
	for i := range made.Verdicts {
		answer, ok := answerOf(made, i, o)
		if !ok {
			continue
		}
		f := mapFacts{answerFacts: answer, Areas: map[string]float64{}, Zones: []json.RawMessage{}, Stops: []countedFacts{}}
		for _, z := range zones[answer.Field] {
			f.Zones = append(f.Zones, z.text)
			f.Areas[z.zone] += z.area
		}
		for _, field := range made.Result.Fields {
			if field.Name != answer.Field {
				continue
			}
			for _, s := range field.Stops {
				f.Stops = append(f.Stops, countedFacts{s.Name, [2]float64{s.Longitude, s.Latitude}, known(s.Value), s.Extra})
			}
		}
		all = append(all, f)
	}
	return all, nil
}

// answerOf is the answer of the verdict at a place; false where its field has none.
func answerOf(made *engine.MapOutcome, i int, o engine.Settings) (a answerFacts, ok bool) {
	v := made.Verdicts[i]
	for _, f := range made.Result.Fields {
		if f.Name != v.Field {
			continue
		}
		plain := report.PlainOf(made.Result, f, v, o.Said())
		return answerFacts{
			Field: f.Name, Area: rounded(f.Area/squareMetres, 1e4), Answer: plain.Answer, Why: some(plain.Why), Sure: some(plain.Sure), LookOut: some(plain.LookOut),
			Day: v.On, Kind: v.Kind.String(), Good: report.PlainGoodUntil(v, o.Said()), Used: report.Used(v, o.Said()), Unused: report.Unused(v), Mean: known(f.Mean),
			Treat: f.Levels.TreatAt, Watch: f.Levels.WatchAt, Believed: f.Trust.Believed(),
		}, true
	}
	return a, false
}

// A zoneOf a field is a feature of it.
type zoneOf struct {
	zone string
	area float64 // hectares
	text json.RawMessage
}

// zonesOf are the features of zones.geojson by their field.
func zonesOf(files []engine.File) (map[string][]zoneOf, error) {
	var read struct {
		Features []json.RawMessage `json:"features"`
	}
	for _, f := range files {
		if f.Name == "zones.geojson" {
			if err := json.Unmarshal(f.Content, &read); err != nil {
				return nil, err
			}
		}
	}
	all := map[string][]zoneOf{}
	for _, text := range read.Features {
		var f struct {
			Properties struct {
				Zone  string  `json:"zone"`
				Field string  `json:"field"`
				Area  float64 `json:"area_ha"`
			} `json:"properties"`
		}
		if err := json.Unmarshal(text, &f); err != nil {
			return nil, err
		}
		p := f.Properties
		all[p.Field] = append(all[p.Field], zoneOf{p.Zone, p.Area, text})
	}
	return all, nil
}
