//go:build !small

package engine

import (
	"encoding/json"
	"fmt"

	"github.com/geocoris/geocoris/internal/spraying/handoff"
)

// doubts gives jobs what the map says may make its verdict wrong. Maps of before and zones
// without their map tell none.
func (q HandoffRequest) doubts(jobs []*handoff.Job) error {
	if q.Map == nil || q.Map.Summary.Content == nil {
		return nil
	}
	var m struct {
		Fields []struct {
			Field   string `json:"field"`
			Verdict struct {
				LookOut map[string][]string `json:"look_out"`
			} `json:"verdict"`
		} `json:"fields"`
	}
	if err := json.Unmarshal(q.Map.Summary.Content, &m); err != nil {
		return fmt.Errorf("%s: %w", q.Map.Summary.Name, err)
	}
	of := map[string]map[string][]string{}
	for _, f := range m.Fields {
		of[f.Field] = f.Verdict.LookOut
	}
	for _, j := range jobs {
		j.Doubts = of[j.Field]
	}
	return nil
}
