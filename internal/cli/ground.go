package cli

import (
	"fmt"

	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/geometry/boundary"
)

// readOutlines reads a boundary; its lines carry the file's name.
func readOutlines(path string, set boundary.Settings) (boundary.Outlines, error) {
	c, err := geofile.Read(path, geofile.Limits{})
	if err != nil {
		return boundary.Outlines{}, err
	}
	o, err := boundary.Read(c.Features, set)
	if err != nil {
		return boundary.Outlines{}, fmt.Errorf("%s: %w", c.Name, err)
	}
	o.Notes = append(append([]string(nil), c.Notes...), o.Notes...)
	for _, lines := range [][]string{o.Notes, o.Warnings} {
		for i := range lines {
			lines[i] = c.Name + ": " + lines[i]
		}
	}
	return o, nil
}

const innerUsage = "an outline inside another is a `hole` (a pond, a yard) or a field; asked for where no name or stop tells"
