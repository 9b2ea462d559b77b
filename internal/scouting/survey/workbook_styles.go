//go:build !small

package survey

import (
	"archive/zip"
	"bytes"
	"encoding/xml"
	"io"
	"path"
	"strings"

	"github.com/xuri/excelize/v2"
)

// A numberStyle is how a spreadsheet shows a cell, as far as it matters for a number.
type numberStyle uint8

const (
	styleNumber numberStyle = iota
	styleText
	styleDate
	stylePercent
	styleTruth
	styleFormula // whose value is not in the file
)

// sheetStyles reads the number formats of a sheet's cells, row by row, beside the reader of their
// values, which tells nothing of formats.
type sheetStyles struct {
	part   io.Closer
	tokens *xml.Decoder
	styles []numberStyle // by number
	line   int           // of the row that was read last
	row    []numberStyle
}

// stylesOf opens a sheet; nil where its part cannot be found.
func stylesOf(book *excelize.File, data []byte, sheet string, limits Limits) *sheetStyles {
	archive, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return nil
	}
	name := sheetPart(book, archive, sheet)
	for _, f := range archive.File {
		if name == "" || !strings.EqualFold(partName(f), name) {
			continue
		}
		r, err := f.Open()
		if err != nil {
			return nil
		}
		tokens := xml.NewDecoder(io.LimitReader(r, limits.Bytes))
		tokens.CharsetReader = charsetReader
		return &sheetStyles{part: r, tokens: tokens, styles: numberStyles(book)}
	}
	return nil
}

func partName(f *zip.File) string {
	return strings.TrimPrefix(strings.ReplaceAll(f.Name, "\\", "/"), "/")
}

// sheetPart is the name of the part that holds a sheet; "" where none is given.
func sheetPart(book *excelize.File, archive *zip.Reader, sheet string) string {
	id := ""
	if book.WorkBook == nil {
		return ""
	}
	for _, s := range book.WorkBook.Sheets.Sheet {
		if s.Name == sheet {
			id = s.ID
		}
	}
	for _, f := range archive.File {
		if !strings.HasPrefix(strings.ToLower(partName(f)), "xl/_rels/workbook") {
			continue
		}
		r, err := f.Open()
		if err != nil {
			return ""
		}
		var links struct {
			Relationship []struct {
				ID     string `xml:"Id,attr"`
				Target string `xml:"Target,attr"`
			}
		}
		err = xml.NewDecoder(io.LimitReader(r, schemaLimit)).Decode(&links)
		r.Close()
		if err != nil {
			return ""
		}
		for _, l := range links.Relationship {
			if l.ID == id && id != "" {
				if strings.HasPrefix(l.Target, "/") {
					return strings.TrimPrefix(l.Target, "/")
				}
				return path.Join("xl", l.Target)
			}
		}
	}
	return ""
}

// numberStyles are the styles that the formats of a spreadsheet give to numbers.
func numberStyles(book *excelize.File) []numberStyle {
	if book.Styles == nil || book.Styles.CellXfs == nil {
		return nil
	}
	own := map[int]string{}
	if book.Styles.NumFmts != nil {
		for _, f := range book.Styles.NumFmts.NumFmt {
			own[f.NumFmtID] = f.FormatCode
		}
	}
	out := make([]numberStyle, len(book.Styles.CellXfs.Xf))
	for i, xf := range book.Styles.CellXfs.Xf {
		if xf.NumFmtID == nil {
			continue
		}
		code, ok := own[*xf.NumFmtID]
		switch {
		case ok:
			out[i] = formatStyle(code)
		case builtInDate(*xf.NumFmtID):
			out[i] = styleDate
		case *xf.NumFmtID == 9 || *xf.NumFmtID == 10:
			out[i] = stylePercent
		}
	}
	return out
}

// builtInDate reports the formats of dates and times that have a number and no code
// (ECMA-376, part 1, 18.8.30, those of East Asian languages included).
func builtInDate(id int) bool {
	return id >= 14 && id <= 22 || id >= 27 && id <= 36 || id >= 45 && id <= 47 || id >= 50 && id <= 58 || id >= 71 && id <= 81
}

// formatStyle reads the code of a format: letters of dates or a percent sign outside
// of quotes, of what a backslash escapes, and of brackets but for elapsed time.
func formatStyle(code string) numberStyle {
	for i := 0; i < len(code); i++ {
		switch c := code[i]; c {
		case '\\', '_', '*':
			i++
		case '"':
			if n := strings.IndexByte(code[i+1:], '"'); n >= 0 {
				i += n + 1
			}
		case '[':
			n := strings.IndexByte(code[i:], ']')
			if n < 0 {
				return styleNumber
			}
			if inner := strings.ToLower(code[i+1 : i+n]); inner != "" && strings.Trim(inner, inner[:1]) == "" && strings.Contains("hms", inner[:1]) {
				return styleDate
			}
			i += n
		case '%':
			return stylePercent
		case 'y', 'Y', 'm', 'M', 'd', 'D', 'h', 'H', 's', 'S':
			return styleDate
		case 'G', 'g': // General
			if len(code) >= i+7 && strings.EqualFold(code[i:i+7], "general") {
				i += 6
			}
		}
	}
	return styleNumber
}

// at are the styles of the cells of a row, counted from 1; none for a row that is not
// in the file. Rows are asked for in their order.
func (l *sheetStyles) at(line int) []numberStyle {
	for l.line < line {
		if !l.next() {
			return nil
		}
	}
	if l.line > line {
		return nil
	}
	return l.row
}

// next reads a row.
func (l *sheetStyles) next() bool {
	for {
		token, err := l.tokens.RawToken()
		if err != nil {
			l.line = excelize.TotalRows + 1
			return false
		}
		if e, is := token.(xml.StartElement); is && e.Name.Local == "row" {
			l.line++
			if n := numberAttr(e, "r"); n > 0 {
				l.line = n
			}
			l.row = l.row[:0]
			l.cells()
			return true
		}
	}
}

// cells reads the cells of a row to its end.
func (l *sheetStyles) cells() {
	column, formula, valued := -1, false, false
	for {
		token, err := l.tokens.RawToken()
		if err != nil {
			return
		}
		switch e := token.(type) {
		case xml.StartElement:
			switch e.Name.Local {
			case "c":
				column, formula, valued = l.cell(e, column), false, false
			case "f":
				formula = true
			case "v", "is":
				valued = true
			}
		case xml.EndElement:
			switch e.Name.Local {
			case "c":
				if formula && !valued && column < len(l.row) {
					l.row[column] = styleFormula
				}
			case "row":
				return
			}
		}
	}
}

// cell enters the style of a cell and returns its column; before is the last one's.
func (l *sheetStyles) cell(e xml.StartElement, before int) (column int) {
	column = before + 1
	kind, style := "", 0
	for _, a := range e.Attr {
		switch a.Name.Local {
		case "t":
			kind = a.Value
		case "r":
			if c, _, err := excelize.CellNameToCoordinates(a.Value); err == nil {
				column = c - 1
			}
		}
	}
	style = numberAttr(e, "s")
	for len(l.row) <= column {
		l.row = append(l.row, styleNumber)
	}
	switch kind {
	case "s", "str", "inlineStr", "e":
		l.row[column] = styleText
	case "b":
		l.row[column] = styleTruth
	case "d":
		l.row[column] = styleDate
	default:
		l.row[column] = styleNumber
		if style < len(l.styles) {
			l.row[column] = l.styles[style]
		}
	}
	return column
}

// numberAttr is an attribute that holds a number of 0 or more; 0 where there is none.
func numberAttr(e xml.StartElement, name string) (n int) {
	for _, a := range e.Attr {
		if a.Name.Local == name && isDigits(a.Value) && len(a.Value) < 9 {
			for _, d := range a.Value {
				n = 10*n + int(d-'0')
			}
		}
	}
	return n
}
