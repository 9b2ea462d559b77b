//go:build !small

package engine

import (
	"encoding/json"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"github.com/geocoris/geocoris/internal/geometry/boundary"
	"github.com/geocoris/geocoris/internal/spraying/handoff"
)

// unbound names what was drawn with the fields as a point or a line and is not kept off;
// what is among the keep-offs by its name or that of their file is passed over. How far to
// keep off is the label's to say.
func (q HandoffRequest) unbound(keptOff []handoff.KeepOff) (notes []string, err error) {
	if q.Map == nil || q.Map.Run.Content == nil {
		return nil, nil
	}
	var run struct {
		Unbound []boundary.Unbound `json:"bounds_no_ground"`
	}
	if err := json.Unmarshal(q.Map.Run.Content, &run); err != nil {
		return nil, fmt.Errorf("%s: %w", q.Map.Run.Name, err)
	}
	for _, u := range run.Unbound {
		if !slices.ContainsFunc(keptOff, func(k handoff.KeepOff) bool { return isKeptOff(u.Name, k) }) {
			notes = append(notes, fmt.Sprintf("%s is a %s, so it is not kept off: save it as a file of its own and give --keep-off FILE=DISTANCE", u.Name, u.Kind))
		}
	}
	return notes, nil
}

func isKeptOff(name string, k handoff.KeepOff) bool {
	base := filepath.Base(k.File)
	if strings.EqualFold(strings.TrimSuffix(base, filepath.Ext(base)), name) {
		return true
	}
	for _, f := range k.Features {
		if v, ok := f.Properties.Get("name"); ok && strings.EqualFold(fmt.Sprint(v), name) {
			return true
		}
	}
	return false
}
