//go:build !small

package spreadsheet_test

import (
	"bytes"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"

	"github.com/geocoris/geocoris/internal/files/spreadsheet"
)

func written(t *testing.T) []byte {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, spreadsheet.WriteBook(&b, spreadsheet.Sheet{
		Name: "fields", Rows: [][]any{{"field", "acres", "count"}, {"=1+1", 12.5, ""}, {"North", 3, ""}},
		Text: []int{2}, Choices: map[int][]string{0: {"North", "South, the long one"}}, Notes: map[int]string{2: "as counted"}, Blank: 5,
	}, spreadsheet.Sheet{Name: "how", Rows: [][]any{{"write one row for each stop"}}}))
	return b.Bytes()
}

func TestWriteBook(t *testing.T) {
	first := written(t)
	for range 5 {
		require.Equal(t, first, written(t), "the same bytes each time")
	}
	book, err := excelize.OpenReader(bytes.NewReader(first))
	require.NoError(t, err)
	defer book.Close()
	assert.Equal(t, []string{"fields", "how", "choices"}, book.GetSheetList())
	rows, err := book.GetRows("fields")
	require.NoError(t, err)
	assert.Equal(t, [][]string{{"field", "acres", "count"}, {"=1+1", "12.5"}, {"North", "3"}}, rows)
	formula, err := book.GetCellFormula("fields", "A2")
	require.NoError(t, err)
	assert.Empty(t, formula, "a text stays a text")
	kind, err := book.GetCellType("fields", "B2")
	require.NoError(t, err)
	assert.Equal(t, excelize.CellTypeUnset, kind, "a number is a number")
	for cell, text := range map[string]bool{"C2": true, "C8": true, "C9": false, "B2": false} {
		id, err := book.GetCellStyle("fields", cell)
		require.NoError(t, err)
		style, err := book.GetStyle(id)
		require.NoError(t, err)
		assert.Equal(t, text, style.NumFmt == 49, cell)
	}
	lists, err := book.GetDataValidations("fields")
	require.NoError(t, err)
	require.Len(t, lists, 2)
	assert.Equal(t, "A2:A8", lists[0].Sqref)
	assert.Contains(t, lists[0].Formula1, "choices!$A$1:$A$2")
	choices, err := book.GetRows("choices")
	require.NoError(t, err)
	assert.Equal(t, [][]string{{"North"}, {"South, the long one"}}, choices)
	assert.Equal(t, "as counted", *lists[1].Prompt)
}
