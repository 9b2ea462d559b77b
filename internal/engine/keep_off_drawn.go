//go:build !small

package engine

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/spraying/handoff"
)

// A KeepOffDrawing is ground that is never sprayed, as somebody drew it: one corner is a
// place, such as hives; two are a line, such as a creek; more are an area, or a line too.
type KeepOffDrawing struct {
	Name    string `json:"name"`
	Corners Places `json:"corners"`
	Line    bool   `json:"line"`
}

// File is the drawing as GeoJSON, under a name that is not taken.
func (d KeepOffDrawing) File(taken func(name string) bool) (File, error) {
	if plainName(d.Name) == "" {
		return File{}, errors.New("what is kept off has no name: give one, such as hives")
	}
	ground, err := handoff.DrawnKeepOff(d.Name, d.Corners, d.Line)
	if err != nil {
		return File{}, err
	}
	var b bytes.Buffer
	if err := collection([]geo.Feature{ground})(&b); err != nil {
		return File{}, fmt.Errorf("the corners enclose no ground: %w", err)
	}
	stem := "keep-off-" + plainName(d.Name)
	name := stem + ".geojson"
	for n := 2; taken(name); n++ {
		name = fmt.Sprintf("%s-%d.geojson", stem, n)
	}
	return File{name, b.Bytes()}, nil
}

// IsKeptOff tells a file of ground that was drawn to be kept off.
func IsKeptOff(content []byte) bool {
	var file struct {
		Features []struct {
			Properties map[string]any `json:"properties"`
		} `json:"features"`
	}
	if json.Unmarshal(content, &file) != nil || len(file.Features) == 0 {
		return false
	}
	for _, f := range file.Features {
		if f.Properties[handoff.KeepOffMark] != true {
			return false
		}
	}
	return true
}
