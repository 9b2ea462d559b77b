package survey

import (
	"bytes"
	"fmt"
	"math"
)

// Limits bound what is read, so that no file can take the machine's memory. Fields
// of 0 or less mean the defaults.
type Limits struct {
	Bytes     int64 // of a file; 64 MiB
	Rows      int   // of a file, the header and blank lines apart; 1,000,000
	Columns   int   // of a row; 500
	CellBytes int   // of a cell, as UTF-8 with its quotes; 64 KiB
}

func (l Limits) withDefaults() Limits {
	if l.Bytes <= 0 {
		l.Bytes = 64 << 20
	}
	l.Bytes = min(l.Bytes, math.MaxInt64-1) // one more is read to see that there is more
	if l.Rows <= 0 {
		l.Rows = 1_000_000
	}
	if l.Columns <= 0 {
		l.Columns = 500
	}
	if l.CellBytes <= 0 {
		l.CellBytes = 64 << 10
	}
	return l
}

// checkShape refuses rows with too many or too long cells before any memory is
// taken for them. Quotes count as in RFC 4180: one that does not start a cell is a
// character like others.
func checkShape(text []byte, delimiter rune, limits Limits) error {
	line, columns, start := 1, 1, 0
	quoted := false
	for i := 0; i < len(text); i++ {
		if i == start && columns == 1 && !quoted { // a line begins
			if n := plainLine(text[i:], min(limits.Columns, limits.CellBytes)); n > 0 {
				i, start, line = i+n-1, i+n, line+1
				continue
			}
		}
		c := text[i]
		switch {
		case c == '"' && i == start:
			quoted = true
		case c == '"' && quoted: // closes, or is the first of two that stand for one
			quoted = false
		case c == '"' && i > start+1 && text[i-1] == '"' && text[start] == '"':
			quoted = true // it was the first of two
		case c == '\n' && !quoted:
			columns, start = 1, i+1
		case c == byte(delimiter) && !quoted:
			columns, start = columns+1, i+1
		}
		if c == '\n' {
			line++
		}
		if columns > limits.Columns {
			return fmt.Errorf("line %d: more than %d columns", line, limits.Columns)
		}
		if i-start >= limits.CellBytes {
			return fmt.Errorf("line %d: a cell of more than %s; does a quote open there and never close?", line, sizeOf(int64(limits.CellBytes)))
		}
	}
	return nil
}

// plainLine is the length of the first line, its line feed included, where it is
// shorter than most and has no quote: so many columns or so long a cell it cannot
// hold. Else it is 0.
func plainLine(text []byte, most int) int {
	n := bytes.IndexByte(text, '\n') + 1
	if n > most || bytes.IndexByte(text[:n], '"') >= 0 {
		return 0
	}
	return n
}

// sizeOf writes a number of bytes in the largest unit that it is whole in.
func sizeOf(bytes int64) string {
	switch {
	case bytes > 0 && bytes%(1<<20) == 0:
		return fmt.Sprintf("%d MiB", bytes>>20)
	case bytes > 0 && bytes%(1<<10) == 0:
		return fmt.Sprintf("%d KiB", bytes>>10)
	}
	return fmt.Sprintf("%d bytes", bytes)
}
