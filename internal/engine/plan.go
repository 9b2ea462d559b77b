package engine

import (
	"fmt"
	"io"
	"slices"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/geometry/boundary"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/output/fieldwork"
	"github.com/geocoris/geocoris/internal/scouting/plan"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// A PlanRequest asks where to stop in a field, and in which order to walk.
type PlanRequest struct {
	PlanSettings
	Boundary Source
	KeepOffs []KeepOff  // ground where nobody may stop
	Rules    *Source    // rules of the user's own; nil for none
	After    *PlanAfter // nil for a first walk
}

// A PlanOutcome is a walk, and the files that are carried.
type PlanOutcome struct {
	Plan  fieldwork.Plan
	Notes []string // on the boundary and the keep-offs
	Files []File
}

// Check refuses what is asked for wrongly, before any file is read.
func (q PlanRequest) Check() error {
	if _, _, err := q.settings(); err != nil {
		return usage(err)
	}
	return nil
}

// PlanStops finds the stops of a walk, without any files.
func PlanStops(q PlanRequest) (*PlanOutcome, error) {
	set, why, err := q.settings()
	if err != nil {
		return nil, usage(err)
	}
	field, notes, err := q.field()
	if err != nil {
		return nil, err
	}
	if q.Start != nil {
		if err := near("start", *q.Start, field); err != nil {
			return nil, err
		}
	}
	keepNotes, err := keepOffIn(&set, field, q.KeepOffs)
	if err != nil {
		return nil, err
	}
	if q.After != nil {
		why = q.After.asked(field.Name).said()
	}
	made, err := q.walk(field, set)
	if err != nil {
		return nil, err
	}
	out := &PlanOutcome{Plan: fieldwork.Plan{Plan: made, Leaves: q.Leaves, Pest: q.Pest, Why: why, Said: figures.Both.In(q.Language)}, Notes: append(notes, keepNotes...)}
	if err := q.forRule(&out.Plan); err != nil {
		return nil, err
	}
	return out, nil
}

func (q PlanRequest) walk(field geo.Field, set plan.Settings) (plan.Plan, error) {
	if q.After == nil {
		return plan.Make(field, set)
	}
	k, err := q.After.known(field)
	if err != nil {
		return plan.Plan{}, err
	}
	return plan.After(field, set, k)
}

// PlanData are the files of a plan but its sheet.
func PlanData(p fieldwork.Plan) ([]File, error) { return render(planData(p)) }

func planData(p fieldwork.Plan) []rendering {
	return []rendering{
		{"stops.gpx", func(w io.Writer) error { return geofile.WriteGPX(w, p.Route()) }},
		{"stops.kml", func(w io.Writer) error { return geofile.WriteKML(w, p.Document()) }},
		{"stops.geojson", collection(p.Features())},
		{"stops.csv", p.WriteTable},
	}
}

// field is the one field of the boundary, or the one asked for.
func (q PlanRequest) field() (geo.Field, []string, error) {
	ground, err := Outlines(q.Boundary, q.NameProperty, q.Inner)
	if err != nil {
		return geo.Field{}, nil, err
	}
	field, err := oneField(ground, q.Only, q.Boundary.Base())
	return field, slices.Concat(ground.Notes, ground.Warnings), err
}

// oneField is the one field of a boundary, or the one called as only has it.
func oneField(o boundary.Outlines, only, file string) (geo.Field, error) {
	names := outlineNames(o)
	at, err := survey.Named(only, names)
	if err != nil {
		return geo.Field{}, usage(fmt.Errorf("--only: %w", err))
	}
	if only == "" && len(names) == 1 {
		at = 0
	}
	if at >= 0 {
		return o.Fields[at], nil
	}
	return geo.Field{}, hinted(fmt.Errorf("%s holds %d fields: %s", file, len(names), survey.Listed(names)), "choose one with --only NAME, or plan each with --all")
}
