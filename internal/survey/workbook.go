package survey

import (
	"bytes"
	"fmt"
	"strconv"
	"strings"
	"time"

	"github.com/xuri/excelize/v2"
)

// workbookTable reads the first sheet of a spreadsheet (.xlsx) whose first filled
// row names a longitude or an easting, else its first sheet. Cells come as they
// are stored, not as they are shown: 1204 is 1204 whatever its format.
func workbookTable(name string, data []byte, limits Limits) (table, error) {
	if err := checkWorkbook(data, limits); err != nil {
		return table{}, fmt.Errorf("%s: is no spreadsheet that can be read: %s", name, oneLine(err.Error()))
	}
	book, err := excelize.OpenReader(bytes.NewReader(data), excelize.Options{
		RawCellValue: true, UnzipSizeLimit: limits.Bytes, UnzipXMLSizeLimit: limits.Bytes,
	})
	if err != nil {
		return table{}, fmt.Errorf("%s: is no spreadsheet that can be read: %s", name, oneLine(err.Error()))
	}
	defer book.Close()
	sheets := book.GetSheetList()
	room := newRoom(limits, unpackedSize(data))
	var first table
	for i, sheet := range sheets {
		t, err := sheetTable(book, sheet, &room)
		if err != nil {
			return table{}, fmt.Errorf("%s: sheet %q: %w", name, sheet, err)
		}
		t.File = name
		if t.hasPosition() {
			if i > 0 {
				t.Notes = append(t.Notes, fmt.Sprintf("%s: read from sheet %q", name, sheet))
			}
			return t, nil
		}
		if i == 0 {
			first = t
		}
	}
	if len(first.Header) == 0 {
		return table{}, fmt.Errorf("%s: is empty: want a header row and a row for each count", name)
	}
	return first, nil
}

func oneLine(text string) string { return strings.Join(strings.Fields(text), " ") }

func sheetTable(book *excelize.File, sheet string, room *room) (table, error) {
	var t table
	limits := room.limits
	rows, err := book.Rows(sheet)
	if err != nil {
		return t, err
	}
	defer rows.Close()
	for line := 1; rows.Next(); line++ {
		cells, err := rows.Columns()
		if err != nil {
			return t, err
		}
		if len(cells) > limits.Columns {
			return t, fmt.Errorf("row %d: %d columns, more than %d", line, len(cells), limits.Columns)
		}
		if err := room.take(cells, len(t.Header)); err != nil {
			return t, fmt.Errorf("row %d: %w", line, err)
		}
		switch {
		case empty(cells):
		case len(t.Header) == 0:
			t.Header = cells
		case len(t.Rows) >= limits.Rows:
			return t, fmt.Errorf("more than %d rows: is this a table of counts?", limits.Rows)
		default:
			for len(cells) < len(t.Header) { // blank cells at the end are not stored
				cells = append(cells, "")
			}
			t.Rows = append(t.Rows, row{Line: line, Cells: cells})
		}
	}
	t.readSerials(book)
	return t, rows.Error()
}

func (t table) hasPosition() bool {
	for _, h := range t.Header {
		if c, known := meanings[same(h)]; known && (c == colLongitude || c == colEasting || c == colWKT) {
			return true
		}
	}
	return false
}

// readSerials writes dates and times of day, which a spreadsheet stores as days
// since its epoch, as ISO 8601.
func (t *table) readSerials(book *excelize.File) {
	props, err := book.GetWorkbookProps()
	from1904 := err == nil && props.Date1904 != nil && *props.Date1904
	for i, h := range t.Header {
		if c, known := meanings[same(h)]; !known || c != colDate && c != colTime {
			continue
		}
		for _, r := range t.Rows {
			if i < len(r.Cells) {
				r.Cells[i] = serialTime(r.Cells[i], from1904)
			}
		}
	}
}

// serialTime leaves what is no serial number as it is.
func serialTime(cell string, from1904 bool) string {
	v, err := strconv.ParseFloat(cell, 64)
	if err != nil || v < 0 || v > 110_000 { // the year 2201
		return cell
	}
	at, err := excelize.ExcelDateToTime(v, from1904)
	if err != nil {
		return cell
	}
	at = at.Round(time.Second)
	switch {
	case v < 1:
		return at.Format("15:04")
	case v == float64(int64(v)):
		return at.Format(time.DateOnly)
	}
	return at.Format("2006-01-02T15:04")
}
