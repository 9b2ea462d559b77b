package roster

import (
	"fmt"
	"slices"
	"strings"

	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// cellsOf cuts a file into cells: a table, or the properties of features.
func cellsOf(from geofile.Source) (survey.Cells, error) {
	if from.Beside == nil && !geofile.IsFeatures(from.Content) {
		return survey.ReadCells(from)
	}
	c, err := geofile.DecodeSource(from, geofile.Limits{})
	if err != nil {
		return survey.Cells{}, err
	}
	cells := survey.Cells{File: c.Name, Features: true}
	for i, f := range c.Features {
		row := survey.CellRow{Line: f.Line}
		if row.Line == 0 { // a format without lines
			row.Line = i + 1
		}
		for _, p := range f.Properties {
			at := slices.Index(cells.Header, p.Name)
			if at < 0 {
				at, cells.Header = len(cells.Header), append(cells.Header, p.Name)
			}
			for len(row.Cells) <= at {
				row.Cells = append(row.Cells, "")
			}
			if p.Value != nil {
				row.Cells[at] = strings.Join(strings.Fields(fmt.Sprint(p.Value)), " ")
			}
		}
		cells.Rows = append(cells.Rows, row)
	}
	return cells, nil
}
