//go:build !small

package survey

import (
	"bytes"
	"fmt"
	"slices"
	"strings"

	"github.com/xuri/excelize/v2"

	"github.com/geocoris/geocoris/geo/geofile"
)

// workbookTable reads the first sheet of a spreadsheet (.xlsx) that has a header with
// a position, one that is shown before one that is hidden, else its first sheet.
// Numbers come as they are stored, not as they are shown: 1204 is 1204 whatever its
// format. Dates are known by their format.
func workbookTable(name string, data []byte, opts Options) (table, error) {
	limits, knows := opts.Limits.withDefaults(), knower(opts.knows)
	if err := checkWorkbook(data, limits); err != nil {
		return table{}, fmt.Errorf("%s: is no spreadsheet that can be read: %s", name, oneLine(err.Error()))
	}
	if err := checkWhole(name, data, limits); err != nil {
		return table{}, err
	}
	book, err := excelize.OpenReader(bytes.NewReader(data), excelize.Options{
		RawCellValue: true, UnzipSizeLimit: limits.Bytes, UnzipXMLSizeLimit: limits.Bytes,
	})
	if err != nil {
		return table{}, fmt.Errorf("%s: is no spreadsheet that can be read: %s", name, oneLine(err.Error()))
	}
	defer book.Close()
	w := workbook{book: book, data: data, name: name, limits: limits, knows: knows, unplaced: opts.Places != nil, incoming: opts.Incoming}
	return w.table()
}

// A workbook is a spreadsheet that is open.
type workbook struct {
	book   *excelize.File
	data   []byte
	name   string
	limits Limits
	knows  knower

	unplaced bool // positions may stand in a file of places
	incoming bool // as [Options] has it
}

func (w *workbook) table() (table, error) {
	chosen, shown, hidden, err := w.choose()
	if err != nil || chosen == "" {
		return table{}, err
	}
	others := shown // that are shown and not read
	t, err := w.sheet(chosen)
	if err != nil {
		return table{}, fmt.Errorf("%s: sheet %q: %w", w.name, chosen, err)
	}
	if len(t.Header) == 0 {
		return table{}, fmt.Errorf("%s: is empty: want a header row and a row for each count", w.name)
	}
	t, instead, err := w.apart(chosen, t)
	if err != nil {
		return table{}, err
	}
	if instead != "" {
		chosen, shown = instead, slices.DeleteFunc(slices.Clone(shown), func(name string) bool { return name == instead })
		others = shown
	}
	if len(shown) > 0 && w.unfilled(t) {
		if chosen, t, shown, err = w.filled(chosen, t, shown); err != nil {
			return table{}, err
		}
		others = slices.DeleteFunc(slices.Clone(others), func(name string) bool { return name == chosen })
	}
	if i := slices.Index(hidden, chosen); i >= 0 { // none is shown
		shown = slices.Delete(slices.Clone(hidden), i, i+1)
	}
	if err := w.meant(chosen, shown); err != nil {
		return table{}, err
	}
	if err := w.beside(chosen); err != nil {
		return table{}, err
	}
	t.Notes = append(t.Notes, w.whichSheet(chosen, others, hidden)...)
	return t, nil
}

// whichSheet tells where others could have been meant which sheet was read: of counts that come in
// the others that are shown have none, or it would have been asked.
func (w *workbook) whichSheet(chosen string, others, hidden []string) (notes []string) {
	hidden = slices.Clone(hidden)
	if i := slices.Index(hidden, chosen); i >= 0 {
		hidden = slices.Delete(hidden, i, i+1)
		notes = append(notes, fmt.Sprintf("%s: read from sheet %q, which is hidden", w.name, chosen))
	} else if chosen != w.book.GetSheetList()[0] {
		notes = append(notes, fmt.Sprintf("%s: read from sheet %q", w.name, chosen))
	}
	switch listed := strings.Join(quoted(others), ", "); {
	case len(others) > 0 && w.incoming:
		notes = append(notes, fmt.Sprintf("%s: only sheet %q is read; no counts were found in %s", w.name, chosen, listed))
	case len(others) > 0:
		notes = append(notes, fmt.Sprintf("%s: only sheet %q is read; %s could be too: save each as a file of its own", w.name, chosen, listed))
	}
	if len(hidden) > 0 {
		notes = append(notes, fmt.Sprintf("%s: not read, as they are hidden: %s", w.name, strings.Join(quoted(hidden), ", ")))
	}
	return notes
}

// choose finds the sheet to read, and the others that have a header with a position too: those
// that are shown, and those that are hidden, the chosen one too where it is. Sheets that may have
// both angles of a position in one column come behind those that name them apart.
func (w *workbook) choose() (chosen string, shown, hidden []string, err error) {
	var paired []string
	sheets := w.book.GetSheetList()
	if len(sheets) == 0 {
		return "", nil, nil, fmt.Errorf("%s: is empty: it has no sheet", w.name)
	}
	for _, sheet := range sheets {
		has, both, err := w.hasHeader(sheet)
		if err != nil {
			return "", nil, nil, fmt.Errorf("%s: sheet %q: %w", w.name, sheet, err)
		}
		switch visible, err := w.book.GetSheetVisible(sheet); {
		case !has && !both:
		case err == nil && !visible:
			hidden = append(hidden, sheet)
		case has:
			shown = append(shown, sheet)
		default:
			paired = append(paired, sheet)
		}
	}
	shown = append(shown, paired...)
	switch {
	case len(shown) > 0:
		return shown[0], shown[1:], hidden, nil
	case len(hidden) > 0:
		return hidden[0], nil, hidden, nil
	}
	return sheets[0], nil, nil, nil
}

// meant refuses a spreadsheet that shows counts in another sheet too, or hides all that have any: the first may be last
// week's, or another field's, and a map of it looks as good as one of the right sheet.
func (w *workbook) meant(chosen string, others []string) error {
	if !w.incoming {
		return nil
	}
	for _, sheet := range others {
		t, err := w.sheet(sheet)
		if err != nil {
			return fmt.Errorf("%s: sheet %q: %w", w.name, sheet, err)
		}
		if !w.counted(t) {
			continue
		}
		said := &geofile.Error{File: w.name, Msg: fmt.Sprintf("has counts in sheet %q and in %q: which of them is meant?", chosen, sheet), Hint: "hide or delete the sheet that is not; if both are, save each as a file of its own and give both"}
		if visible, err := w.book.GetSheetVisible(chosen); err == nil && !visible {
			said.Msg = fmt.Sprintf("has counts in sheet %q and in %q, and both are hidden: which of them is meant?", chosen, sheet)
			said.Hint = "show the sheet that is; if both are, save each as a file of its own and give both"
		}
		return said
	}
	return nil
}

// filled is the first of some sheets with counts in it, and those after it, in place of a sheet
// that nobody filled; that sheet where none has any.
func (w *workbook) filled(chosen string, t table, shown []string) (string, table, []string, error) {
	for i, sheet := range shown {
		u, err := w.sheet(sheet)
		if err != nil {
			return "", table{}, nil, fmt.Errorf("%s: sheet %q: %w", w.name, sheet, err)
		}
		if w.counted(u) {
			return sheet, u, shown[i+1:], nil
		}
	}
	return chosen, t, shown, nil
}

// unfilled reports whether a sheet has stops, as a plan gives them, and nothing that was found
// there. One with columns that are not known may have it in these, but for a cover sheet: its only
// name for a place may be that of both angles, and no cell holds any.
func (w *workbook) unfilled(t table) bool {
	cover := !w.unplaced && !w.knows.names(t.Header) && !w.anyPlace(t)
	for i, h := range t.Header {
		c, known := w.knows(h)
		if _, both := headsPair(h); !known && h != "" && !both && !cover {
			return false
		}
		switch c {
		case colCount, colMean, colGroups, colOver, colEmpty, colInfested, colHoneydew, colColonies:
			if slices.ContainsFunc(t.Rows, func(r row) bool { return i < len(r.Cells) && strings.TrimSpace(r.Cells[i]) != "" }) {
				return false
			}
		}
	}
	return true
}

// hasHeader looks for a header at the top of a sheet, and for one that may have both angles of a
// position in one column.
func (w *workbook) hasHeader(sheet string) (has, both bool, err error) {
	rows, err := w.book.Rows(sheet)
	if err != nil {
		return false, false, err
	}
	defer rows.Close()
	for filled := 0; filled <= mostAbove && rows.Next(); {
		cells, err := rows.Columns()
		if err != nil {
			return false, false, err
		}
		cells = cells[:min(len(cells), w.limits.Columns)]
		if w.knows.names(cells) {
			return true, false, nil
		}
		both = both || w.knows.namesPair(cells) > 0
		if !empty(cells) {
			filled++
		}
	}
	return false, both, nil
}

// sheet reads a sheet.
func (w *workbook) sheet(sheet string) (table, error) {
	t := table{File: w.name, DecimalComma: true, unplaced: w.unplaced, typed: map[cellAt]bool{}, odd: map[cellAt]odd{}}
	budget := newMemoryBudget(w.limits, unpackedSize(w.data))
	rows, err := w.book.Rows(sheet)
	if err != nil {
		return t, err
	}
	defer rows.Close()
	of := w.stylesOf(sheet)
	if of != nil {
		defer of.part.Close()
	}
	hidden, from1904 := 0, w.from1904()
	for line := 1; rows.Next(); line++ {
		cells, err := rows.Columns()
		if err != nil {
			return t, err
		}
		if len(cells) > w.limits.Columns {
			return t, fmt.Errorf("row %d: %d columns, more than %d", line, len(cells), w.limits.Columns)
		}
		if err := budget.take(cells, len(t.Header)); err != nil {
			return t, fmt.Errorf("row %d: %w", line, err)
		}
		if of != nil {
			t.restyle(line, cells, of.at(line), from1904)
		}
		if empty(cells) {
			continue
		}
		if len(t.Header) == 0 {
			t.offer(row{Line: line, Cells: cells}, w.knows)
			continue
		}
		if len(t.Rows) >= w.limits.Rows {
			return t, fmt.Errorf("more than %d rows: is this a table of counts?", w.limits.Rows)
		}
		if rows.GetRowOpts().Hidden {
			hidden++
		}
		t.Rows = append(t.Rows, row{Line: line, Cells: cells})
	}
	t.settle(w.knows)
	t.saySkipped()
	for i, r := range t.Rows {
		for len(r.Cells) < len(t.Header) { // blank cells at the end are not stored
			r.Cells = append(r.Cells, "")
		}
		t.Rows[i] = r
	}
	if hidden > 0 {
		t.Notes = append(t.Notes, fmt.Sprintf("%s: rows that are hidden in the spreadsheet are read too: %d", w.name, hidden))
	}
	if of != nil {
		t.fillMerged(of.merged(), w.knows)
	}
	t.readSerials(w)
	return t, rows.Error()
}

func (w *workbook) stylesOf(sheet string) *sheetStyles {
	return stylesOf(w.book, w.data, sheet, w.limits)
}

func (w *workbook) from1904() bool {
	props, err := w.book.GetWorkbookProps()
	return err == nil && props.Date1904 != nil && *props.Date1904
}

// restyle takes in how the cells of a row look: dates are written as such, and what is
// not the number that it is stored as is remembered.
func (t *table) restyle(line int, cells []string, styles []numberStyle, from1904 bool) {
	for i, cell := range cells {
		if i >= len(styles) {
			return
		}
		at := cellAt{line, i}
		switch styles[i] {
		case styleText:
			if strings.ContainsAny(cell, "0123456789") && !isDigits(cell) {
				t.typed[at] = true
			}
		case styleDate:
			if cell != "" {
				cells[i], t.odd[at] = serialTime(cell, from1904), dateCell
			}
		case stylePercent:
			if cell != "" {
				t.odd[at] = percentCell
			}
		case styleTruth:
			cells[i], t.odd[at] = map[string]string{"0": "FALSE", "1": "TRUE"}[cell], truthCell
		case styleFormula:
			t.odd[at] = formulaCell
		}
	}
}

// readSerials writes days and times of day that are stored as days since the epoch of
// the spreadsheet and have no format that says so, as ISO 8601.
func (t *table) readSerials(w *workbook) {
	said := false
	for i, h := range t.Header {
		if c, known := w.knows(h); !known || c != colDate && c != colTime {
			continue
		}
		for _, r := range t.Rows {
			if i >= len(r.Cells) || !isSerial(r.Cells[i]) || t.typed[cellAt{r.Line, i}] {
				continue
			}
			stored := r.Cells[i]
			r.Cells[i] = serialTime(stored, w.from1904())
			if !said && stored[0] != '0' {
				t.Notes = append(t.Notes, fmt.Sprintf("%s: days such as %q are read as a spreadsheet counts them, %s", t.File, stored, r.Cells[i]))
				said = true
			}
		}
	}
}
