//go:build !small

package call

import (
	"context"
	"strings"

	"github.com/geocoris/geocoris/internal/engine"
	"github.com/geocoris/geocoris/internal/output/report"
)

// mapOut is the folder that a command shown writes its map into, and so the name of it
// in records.
const mapOut = "out"

// deskFacts are a map as a laptop shows it.
type deskFacts struct {
	mapsFacts
	Outlines []fieldFacts   `json:"outlines"`
	Worst    []rankFacts    `json:"worst"` // all fields, worst first
	OpenDays []openDayFacts `json:"open_days"`
	Details  string         `json:"details"`
	Command  string         `json:"command"`
	Settings []settingsFile `json:"settings"`
	SetAside int            `json:"set_aside"`
}

// rankFacts are a field in the list.
type rankFacts struct {
	Field  string `json:"name"`
	Short  string `json:"short"` // the answer in a few words
	Kind   string `json:"kind"`
	Unread int    `json:"unread"` // stops whose rows were not read
}

func (d Desk) mapped(ctx context.Context, r request) (any, []engine.File, error) {
	o := engine.Defaults()
	if err := r.settings(&o); err != nil {
		return nil, nil, err
	}
	made, facts, err := d.mapOf(ctx, r, o)
	if err != nil {
		return nil, nil, err
	}
	return facts, made.Files, nil
}

// mapOf makes the map of the files that came along, as the command line does.
func (d Desk) mapOf(ctx context.Context, r request, o engine.Settings) (*engine.MapOutcome, deskFacts, error) {
	q, err := d.mapRequest(r, o)
	if err != nil {
		return nil, deskFacts{}, err
	}
	made, err := engine.Map(ctx, q)
	if err != nil {
		return nil, deskFacts{}, withRows(err)
	}
	facts, err := d.factsOf(made, q)
	return made, facts, err
}

// mapRequest asks as the command that is shown asks.
func (d Desk) mapRequest(r request, o engine.Settings) (engine.MapRequest, error) {
	q, err := r.mapRequest(o)
	if err != nil {
		return q, err
	}
	q.Version, q.Settings.Field = d.Version, q.Boundary.Name
	if q.Settings.Out == "" {
		q.Settings.Out = mapOut
	}
	return q, nil
}

func (d Desk) factsOf(made *engine.MapOutcome, q engine.MapRequest) (facts deskFacts, err error) {
	o := q.Settings
	if facts.mapsFacts, err = factsOfMap(made, o); err != nil {
		return facts, err
	}
	facts.SetAside, facts.Worst, facts.Outlines, facts.OpenDays = made.SetAside(), worstFirst(made, o), []fieldFacts{}, openDaysOf(made.Result.Survey.OpenDays)
	for _, f := range made.Result.Fields {
		b := f.Boundary.Bound()
		facts.Outlines = append(facts.Outlines, fieldFacts{
			Name: f.Name, Area: rounded(f.Area/squareMetres, 1e4), Boundary: geometry{"MultiPolygon", f.Boundary},
			Bounds: [4]float64{b.Min[0], b.Min[1], b.Max[0], b.Max[1]},
		})
	}
	var b strings.Builder
	if err := (report.Screen{Result: made.Result, Verdicts: made.Verdicts, Units: o.Units, Notes: made.Notes, Out: o.Out, Files: engine.Listed(made.Files)}).Write(&b); err != nil {
		return facts, err
	}
	facts.Details, facts.Command = b.String(), commandOf("map", namesOf(q.Samples), o)
	saved, err := mapSettings(namesOf(q.Samples), o)
	facts.Settings = []settingsFile{saved}
	return facts, err
}

// worstFirst are the fields as a list shows them.
func worstFirst(made *engine.MapOutcome, o engine.Settings) []rankFacts {
	unread := map[string]int{}
	for _, f := range made.Result.Fields {
		unread[f.Name] = len(f.Unread)
	}
	out := []rankFacts{}
	for _, v := range made.WorstFirst() {
		out = append(out, rankFacts{v.Field, report.ShortAnswer(v.Kind, o.Said()), v.Kind.String(), unread[v.Field]})
	}
	return out
}
