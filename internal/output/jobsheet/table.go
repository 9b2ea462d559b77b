package jobsheet

import (
	"encoding/csv"
	"fmt"
	"io"

	"github.com/geocoris/geocoris/internal/files/spreadsheet"
)

// WriteTable writes the runs of the boom in driving order as CSV (RFC 4180): where the
// switch is to be thrown, in degrees.
func (s Sheet) WriteTable(w io.Writer) error {
	out := csv.NewWriter(w)
	out.UseCRLF = true
	rows := [][]string{{"field", "pass", "on_lat", "on_lon", "off_lat", "off_lon"}}
	for _, j := range s.Result.Jobs {
		for _, r := range runs(j) {
			rows = append(rows, []string{j.Field, r.pass, place(r.on[1]), place(r.on[0]), place(r.off[1]), place(r.off[0])})
		}
	}
	for _, r := range rows {
		if err := out.Write(spreadsheet.Row(r...)); err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}

func place(degrees float64) string { return fmt.Sprintf("%.7f", degrees) }
