package report

import "github.com/geocoris/geocoris/internal/mapping/assess"

// correctedOf are the cells that were read otherwise than they stand in their files.
func correctedOf(r *assess.Result) (cells []string) {
	for _, c := range r.Survey.Corrected {
		cells = append(cells, c.String())
	}
	return cells
}
