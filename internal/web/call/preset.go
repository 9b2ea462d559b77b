package call

import (
	"encoding/json"

	"github.com/geocoris/geocoris/internal/engine"
)

// Preset is what a page begins with that was made for a walk, as JSON: the field, its
// stops, the settings, and the field as a boundary to be handed back.
func Preset(made *engine.PlanOutcome, o engine.PlanSettings) ([]byte, error) {
	field, err := engine.FieldFile(made.Plan.Field)
	if err != nil {
		return nil, err
	}
	read, err := engine.Fields(engine.FieldsRequest{Boundary: engine.Source{Name: field.Name, Content: field.Content}})
	if err != nil {
		return nil, err
	}
	stops := factsOf(made).Stops
	return json.Marshal(map[string]any{
		"field": fieldsOf(*read).Fields[0], "stops": stops,
		"settings":      map[string]string{"rule": o.Rule, "stage": o.Stage, "pest": made.Plan.Pest},
		"boundary_file": map[string]string{"name": field.Name, "text": string(field.Content)},
	})
}
