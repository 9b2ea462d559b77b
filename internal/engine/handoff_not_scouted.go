//go:build !small

package engine

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"
)

// notScouted names the fields of the map, of those asked for, that have no zones since
// nobody was there: who hands them over would not miss them.
func (q HandoffRequest) notScouted() (notes []string, err error) {
	if q.Map == nil || q.Map.Summary.Content == nil {
		return nil, nil
	}
	var m mappedFields
	if err := json.Unmarshal(q.Map.Summary.Content, &m); err != nil {
		return nil, fmt.Errorf("%s: %w", q.Map.Summary.Name, err)
	}
	return notScoutedNotes("no job", slices.DeleteFunc(m.Unscouted, func(name string) bool {
		return q.Settings.Only != nil && !slices.ContainsFunc(q.Settings.Only, func(asked string) bool { return strings.EqualFold(strings.TrimSpace(asked), name) })
	})), nil
}

// notScoutedNotes say of fields what lacks them.
func notScoutedNotes(what string, names []string) []string {
	if len(names) == 0 {
		return nil
	}
	shown := slices.Clone(names[:min(len(names), mostNamed)])
	if more := len(names) - len(shown); more > 0 {
		shown = append(shown, fmt.Sprintf("and %d more", more))
	}
	return []string{fmt.Sprintf("%s for fields not scouted, and nothing says they are clear: %s", what, strings.Join(shown, ", "))}
}
