package survey

import (
	"bytes"
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"github.com/geocoris/geocoris/geo/geofile"
)

// Schema is what a Frictionless Table Schema says of a table: under which names
// its columns are to be read, and which cells mean that nothing was entered.
type Schema struct {
	Rename  map[string]string
	Missing []string
}

// schemaLimit bounds the file of a schema.
const schemaLimit = 1 << 20

// DecodeSchema reads a Table Schema (Frictionless Data). A column whose name is not
// understood is read under its title where that is.
func DecodeSchema(from geofile.Source) (Schema, error) {
	s, err := decodeSchema(from.Content)
	if err != nil {
		return Schema{}, fmt.Errorf("%s: %w", from.Base(), err)
	}
	return s, nil
}

func decodeSchema(text []byte) (Schema, error) {
	if len(text) > schemaLimit {
		return Schema{}, fmt.Errorf("more than %s: is this a table schema?", sizeOf(schemaLimit))
	}
	var raw struct {
		Fields []struct {
			Name  string `json:"name"`
			Title string `json:"title"`
		} `json:"fields"`
		MissingValues []string `json:"missingValues"`
	}
	if err := json.Unmarshal(bytes.TrimPrefix(text, []byte("\xef\xbb\xbf")), &raw); err != nil {
		return Schema{}, fmt.Errorf("is no table schema: %s", oneLine(err.Error()))
	}
	if len(raw.Fields) == 0 {
		return Schema{}, fmt.Errorf("is no table schema: it names no fields")
	}
	s := Schema{Rename: map[string]string{}, Missing: raw.MissingValues}
	for _, field := range raw.Fields {
		_, known := (*meanings())[same(field.Name)]
		if _, title := (*meanings())[same(field.Title)]; !known && title {
			s.Rename[field.Name] = field.Title
		}
	}
	return s, nil
}

// blanked empties the cells that mean that nothing was entered.
func (t table) blanked(missing []string) {
	if len(missing) == 0 {
		return
	}
	for _, r := range t.Rows {
		for i, cell := range r.Cells {
			if slices.Contains(missing, strings.TrimSpace(cell)) {
				r.Cells[i] = ""
			}
		}
	}
}
