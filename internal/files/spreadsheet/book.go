//go:build !small

package spreadsheet

import (
	"fmt"
	"io"
	"unicode/utf8"

	"github.com/xuri/excelize/v2"
)

// A Sheet is a sheet of a workbook to be written. The first row is its header.
type Sheet struct {
	Name string
	Rows [][]any // texts, and numbers as float64 or int
	// Text are columns, from 0, whose cells are of the format of texts, filled or not, so
	// that a spreadsheet program takes nothing typed there for a date.
	Text []int
	// Choices are what the cells of a column, from 0, take from a drop-down; other values
	// are taken too.
	Choices map[int][]string
	Notes   map[int]string // what is shown beside a cell of a column, from 0, that is typed into
	Blank   int            // rows below those filled that are formatted likewise
}

// WriteBook writes a workbook (.xlsx, ECMA-376). The same sheets give the same bytes.
// Texts stay texts, whatever they begin with.
func WriteBook(w io.Writer, sheets ...Sheet) error {
	f := excelize.NewFile()
	defer f.Close()
	lists := &lists{file: f}
	for i, s := range sheets {
		if i == 0 {
			if err := f.SetSheetName(f.GetSheetName(0), s.Name); err != nil {
				return err
			}
		} else if _, err := f.NewSheet(s.Name); err != nil {
			return err
		}
	}
	for _, s := range sheets {
		if err := s.write(f, lists); err != nil {
			return fmt.Errorf("sheet %q: %w", s.Name, err)
		}
	}
	return f.Write(w)
}

// lists are the choices of columns, on a sheet of their own, as what stands in a drop-down
// itself may be 255 characters long at most and holds no commas.
type lists struct {
	file *excelize.File
	n    int
}

const listsSheet = "choices"

// add writes a list and returns where it stands.
func (l *lists) add(choices []string) (where string, err error) {
	if l.n == 0 {
		if _, err := l.file.NewSheet(listsSheet); err != nil {
			return "", err
		}
	}
	l.n++
	column, err := excelize.ColumnNumberToName(l.n)
	if err != nil {
		return "", err
	}
	if err := l.file.SetSheetCol(listsSheet, column+"1", &choices); err != nil {
		return "", err
	}
	return fmt.Sprintf("%s!$%s$1:$%s$%d", listsSheet, column, column, len(choices)), nil
}

func (s Sheet) write(f *excelize.File, l *lists) error {
	if err := s.format(f); err != nil {
		return err
	}
	for i, row := range s.Rows {
		at, err := excelize.CoordinatesToCellName(1, i+1)
		if err != nil {
			return err
		}
		if err := f.SetSheetRow(s.Name, at, &row); err != nil {
			return err
		}
	}
	return s.choices(f, l)
}

// format sets widths, the header in bold, which stays where it is, and columns of texts.
func (s Sheet) format(f *excelize.File) error {
	bold, err := f.NewStyle(&excelize.Style{Font: &excelize.Font{Bold: true}})
	if err != nil {
		return err
	}
	const asText = 49 // the format "@" (ECMA-376 §18.8.30)
	text, err := f.NewStyle(&excelize.Style{NumFmt: asText})
	if err != nil {
		return err
	}
	for i := range s.Rows[0] {
		column, err := excelize.ColumnNumberToName(i + 1)
		if err != nil {
			return err
		}
		if err := f.SetColWidth(s.Name, column, column, s.width(i)); err != nil {
			return err
		}
	}
	for _, i := range s.Text {
		column, err := excelize.ColumnNumberToName(i + 1)
		if err != nil {
			return err
		}
		if err := f.SetCellStyle(s.Name, column+"2", fmt.Sprintf("%s%d", column, len(s.Rows)+s.Blank), text); err != nil {
			return err
		}
	}
	if err := f.SetRowStyle(s.Name, 1, 1, bold); err != nil {
		return err
	}
	return f.SetPanes(s.Name, &excelize.Panes{Freeze: true, YSplit: 1, TopLeftCell: "A2", ActivePane: "bottomLeft"})
}

// width is wide enough for what a column holds, in characters.
func (s Sheet) width(column int) float64 {
	const least, most = 9, 60
	wide := least
	for _, row := range s.Rows {
		if column < len(row) {
			wide = max(wide, utf8.RuneCountInString(fmt.Sprint(row[column]))+2)
		}
	}
	return float64(min(wide, most))
}

func (s Sheet) choices(f *excelize.File, l *lists) error {
	for column := range s.Rows[0] {
		choices, note := s.Choices[column], s.Notes[column]
		if choices == nil && note == "" {
			continue
		}
		name, err := excelize.ColumnNumberToName(column + 1)
		if err != nil {
			return err
		}
		v := excelize.NewDataValidation(true)
		v.SetSqref(fmt.Sprintf("%s2:%s%d", name, name, len(s.Rows)+s.Blank))
		if choices != nil {
			where, err := l.add(choices)
			if err != nil {
				return err
			}
			v.SetSqrefDropList(where)
			v.ShowErrorMessage = false // other words may be meant
		}
		if note != "" {
			v.SetInput(fmt.Sprint(s.Rows[0][column]), note)
		}
		if err := f.AddDataValidation(s.Name, v); err != nil {
			return err
		}
	}
	return nil
}
