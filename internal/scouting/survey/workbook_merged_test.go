//go:build !small

package survey_test

import (
	"bytes"
	"fmt"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"

	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// Cells that a spreadsheet shows as one are read in each of their rows, but for counts.
func TestMergedCellsAreReadInEachRow(t *testing.T) {
	book := func(merge bool) string {
		f := excelize.NewFile()
		defer f.Close()
		require.NoError(t, f.SetSheetRow("Sheet1", "A1", &[]any{"Stop", "Longitude", "Latitude", "Count", "Date", "Stage"}))
		for i := range 12 {
			row := []any{fmt.Sprint(i/4 + 1), -101.6 + float64(i/4)/1000, 35.9, 3 * i, time.Date(2026, 7, 15, 0, 0, 0, 0, time.UTC), 6}
			require.NoError(t, f.SetSheetRow("Sheet1", fmt.Sprintf("A%d", i+2), &row))
		}
		if merge {
			for s := range 3 {
				for _, c := range "ABC" {
					require.NoError(t, f.MergeCell("Sheet1", fmt.Sprintf("%c%d", c, 4*s+2), fmt.Sprintf("%c%d", c, 4*s+5)))
				}
			}
			for _, c := range "EF" {
				require.NoError(t, f.MergeCell("Sheet1", fmt.Sprintf("%c2", c), fmt.Sprintf("%c13", c)))
			}
		}
		var b bytes.Buffer
		require.NoError(t, f.Write(&b))
		return b.String()
	}
	whole, err := decode(t, "leaves.xlsx", book(false), survey.Options{})
	require.NoError(t, err)
	require.Len(t, whole.Stops, 3)
	s, err := decode(t, "leaves.xlsx", book(true), survey.Options{})
	require.NoError(t, err)
	assert.Equal(t, fmt.Sprintf("%+v", whole.Stops), fmt.Sprintf("%+v", s.Stops))
	assert.Contains(t, s.Notes, "leaves.xlsx: cells that are merged in the spreadsheet are read in each of their rows: 49")
	assert.Empty(t, s.Problems)
}
