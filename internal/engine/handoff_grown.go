//go:build !small

package engine

import (
	"encoding/json"
	"fmt"

	"github.com/geocoris/geocoris/internal/spraying/handoff"
)

// grownBy is by how much a map grew the treat zone of each field, as its run.json tells.
func grownBy(from Source) (map[string]handoff.Grown, error) {
	var run struct {
		Settings struct {
			SprayIn float64 `json:"spray-in"`
		} `json:"settings"`
		Fields []struct {
			Field  string   `json:"field"`
			Margin float64  `json:"margin_m"`
			Days   *float64 `json:"grown_days"` // records of before have the setting alone
		} `json:"fields"`
	}
	if err := json.Unmarshal(from.Content, &run); err != nil {
		return nil, fmt.Errorf("%s: %w", from.Name, err)
	}
	made := map[string]handoff.Grown{}
	for _, f := range run.Fields {
		g := handoff.Grown{Margin: f.Margin, Days: run.Settings.SprayIn}
		if f.Days != nil {
			g.Days = *f.Days
		}
		made[f.Field] = g
	}
	return made, nil
}
