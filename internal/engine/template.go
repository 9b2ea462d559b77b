//go:build !small

package engine

import (
	"io"
	"strings"

	"github.com/geocoris/geocoris/internal/mapping/check"
	"github.com/geocoris/geocoris/internal/output/report"
	"github.com/geocoris/geocoris/internal/output/sheet"
)

// Template is what a morning begins with: an empty table of counts, its schema and a
// sheet to print.
func Template() ([]File, error) {
	columns := check.CleanColumns(false)
	var names []string
	for _, c := range columns {
		names = append(names, c.Name)
	}
	return render([]rendering{
		{"counts.csv", func(w io.Writer) error {
			_, err := io.WriteString(w, strings.Join(names, ",")+"\n")
			return err
		}},
		{"counts.schema.json", func(w io.Writer) error { return report.WriteJSON(w, check.Schema(columns)) }},
		{"sheet.html", sheet.WriteHTML},
	})
}
