//go:build !small

package engine

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"github.com/geocoris/geocoris/internal/scouting/survey"
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
	return notScoutedNotes("no job", namedBy(q.Settings.Only, m.Unscouted)), nil
}

// namedBy are those of the fields that only names; all where it is nil.
func namedBy(only, fields []string) (some []string) {
	if only == nil {
		return fields
	}
	names := survey.NewNames(fields)
	for _, asked := range only {
		if i, err := names.Find(asked); err == nil && i >= 0 && !slices.Contains(some, fields[i]) {
			some = append(some, fields[i])
		}
	}
	return some
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
