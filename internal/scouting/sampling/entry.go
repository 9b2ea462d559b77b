package sampling

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// An Entry is one typed line.
type Entry struct {
	Kind  EntryKind
	Count Count
}

// EntryKind says what a line asks for.
type EntryKind uint8

const (
	Blank EntryKind = iota // nothing, or a remark after #
	Next                   // the next stop
	More                   // more units of the last stop
	Undo                   // take the last line back
	End
)

// ParseEntry reads one line: "17/10" is 17 on 10 units; "3 0 12 2" the counts on
// four units, of which those at or above tally count where it is above 0; a plus
// sign in front adds to the last stop; "undo" and "end" are what they say.
// Commas, semicolons and blanks part counts.
func ParseEntry(line string, tally float64) (Entry, error) {
	text, _, _ := strings.Cut(line, "#")
	text = strings.ToLower(strings.TrimSpace(text))
	switch text {
	case "":
		return Entry{}, nil
	case "undo", "u":
		return Entry{Kind: Undo}, nil
	case "end", "e", "quit", "q":
		return Entry{Kind: End}, nil
	}
	kind := Next
	if more, ok := strings.CutPrefix(text, "+"); ok {
		kind, text = More, more
	}
	c, err := parseCount(text, tally)
	if err != nil {
		return Entry{}, fmt.Errorf("%q: %w", strings.TrimSpace(line), err)
	}
	return Entry{Kind: kind, Count: c}, nil
}

func parseCount(text string, tally float64) (Count, error) {
	if total, units, ok := strings.Cut(text, "/"); ok {
		t, errT := parseNumber(total)
		u, errU := parseNumber(units)
		if errT != nil || errU != nil || u == 0 {
			return Count{}, fmt.Errorf("want two numbers, such as 3/10 for 3 on 10")
		}
		return Count{Total: t, Units: u}, nil
	}
	cells := cellsOf(text)
	if len(cells) == 0 {
		return Count{}, fmt.Errorf("no count; a blank is not a zero: write 0/10 for none on 10")
	}
	var c Count
	for _, cell := range cells {
		v, err := parseNumber(cell)
		switch {
		case err != nil:
			return Count{}, fmt.Errorf("%q is no count; want counts such as 3 0 12, or 15/3 for 15 on 3", cell)
		case tally <= 0:
			c.Total += v
		case v >= tally:
			c.Total++
		}
		c.Units++
	}
	return c, nil
}

func cellsOf(text string) []string {
	return strings.FieldsFunc(text, func(r rune) bool { return strings.ContainsRune(" \t,;", r) })
}

// Unsure are the cells of a line that, for a plan on shares, may not be what they are read
// as, the counts on one unit each: a number alone may be how many units count, and of two
// whole ones, the first no larger, the second how many were looked at. Else nil. The line is
// one that [ParseEntry] takes.
func Unsure(line string) []string {
	text, _, _ := strings.Cut(line, "#")
	text = strings.TrimSpace(text)
	joined := strings.HasPrefix(text, "+")
	cells := cellsOf(strings.TrimPrefix(text, "+"))
	if strings.Contains(text, "/") || len(cells) == 0 || len(cells) > 2 {
		return nil
	}
	var numbers []float64
	for _, cell := range cells {
		v, err := parseNumber(cell)
		if err != nil {
			return nil
		}
		numbers = append(numbers, v)
	}
	if len(cells) == 1 || !joined && numbers[0] <= numbers[1] && numbers[1] >= 2 && numbers[0] == math.Trunc(numbers[0]) && numbers[1] == math.Trunc(numbers[1]) {
		return cells
	}
	return nil
}

func parseNumber(text string) (float64, error) {
	v, err := strconv.ParseFloat(strings.TrimSpace(text), 64)
	if err != nil || !(v >= 0) || math.IsInf(v, 0) {
		return 0, fmt.Errorf("%q is not a number of 0 or more", text)
	}
	return v, nil
}
