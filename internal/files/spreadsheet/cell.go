// Package spreadsheet keeps what stood in a file from becoming a formula when a table
// that we write is opened in a spreadsheet program.
package spreadsheet

import (
	"math"
	"strconv"
	"strings"
)

// starts are the characters with which a spreadsheet program takes a cell for a
// formula (OWASP, CSV Injection, from memory).
const starts = "=+-@\t\r"

// Cell is a text as a cell that stays text: one that would be taken for a formula has
// an apostrophe before it, which spreadsheet programs take for "this is text". Finite
// decimal numbers, such as -101.5 and +3, stay as they are.
func Cell(text string) string {
	if formula(text) {
		return "'" + text
	}
	return text
}

// Text is what [Cell] was made from: the apostrophe goes where it keeps a formula off.
func Text(cell string) string {
	if rest, ok := strings.CutPrefix(cell, "'"); ok && formula(rest) {
		return rest
	}
	return cell
}

// Row is every cell of a row by [Cell].
func Row(texts ...string) []string {
	row := make([]string, len(texts))
	for i, text := range texts {
		row[i] = Cell(text)
	}
	return row
}

func formula(text string) bool {
	return text != "" && strings.IndexByte(starts, text[0]) >= 0 && !number(text)
}

func number(text string) bool {
	if strings.IndexFunc(text, func(r rune) bool { return !strings.ContainsRune("0123456789+-.eE", r) }) >= 0 {
		return false
	}
	v, err := strconv.ParseFloat(text, 64)
	return err == nil && !math.IsInf(v, 0)
}
