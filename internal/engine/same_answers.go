//go:build !small

package engine

import (
	"encoding/json"
	"fmt"

	"github.com/geocoris/geocoris/internal/mapping/verdict"
)

// sameAnswers refuses a folder whose answer for a field is not the one that is worked
// out now: its page would say one thing, and its summary and zones another. Fields that
// the summary has no answer for are not looked at.
func (f MapFolder) sameAnswers(now []verdict.Verdict) error {
	then, err := f.verdicts()
	if err != nil {
		return err
	}
	for _, v := range now {
		if kind, ok := then[v.Field]; ok && kind != v.Kind.String() {
			return hinted(fmt.Errorf("%s was mapped by an earlier version that answers otherwise for %s (then: %s, now: %s)", f.Name, v.Field, kind, v.Kind), "map again")
		}
	}
	return nil
}

// verdicts are what the summary says of the fields, by their names.
func (f MapFolder) verdicts() (map[string]string, error) {
	var summary struct {
		Fields []struct {
			Name    string `json:"field"`
			Verdict *struct {
				Kind string `json:"verdict"`
			} `json:"verdict"`
		} `json:"fields"`
	}
	if f.Summary.Content == nil {
		return nil, hinted(fmt.Errorf("%s holds no summary.json", f.Name), giveFolder)
	}
	if err := json.Unmarshal(f.Summary.Content, &summary); err != nil {
		return nil, fmt.Errorf("%s: %w", f.Summary.Name, err)
	}
	said := map[string]string{}
	for _, field := range summary.Fields {
		if field.Verdict != nil {
			said[field.Name] = field.Verdict.Kind
		}
	}
	return said, nil
}
