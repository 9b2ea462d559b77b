package survey

import (
	"errors"
	"fmt"
	"strconv"
	"strings"
	"time"
)

// errMade is a number that a spreadsheet made a date or a time of.
type errMade struct{ of string }

func (e errMade) Error() string { return "the spreadsheet made a date of " + e.of }

const formatAsText = "format the column as text and type it again"

// An odd cell of a spreadsheet is not the number that it is stored as.
type odd uint8

const (
	plainCell odd = iota
	dateCell
	percentCell
	truthCell
	formulaCell // whose value the file does not hold
)

var (
	errTruth   = errors.New("is true or false, not a number")
	errFormula = errors.New("is a formula, and the file does not hold its value")
)

// oddity says what is odd about a cell in a column that is no day and no time.
func (rd *reader) oddity(c column) error {
	if len(rd.table.odd) == 0 || rd.at[c] < 0 {
		return nil
	}
	switch rd.table.odd[cellAt{rd.row.Line, rd.at[c]}] {
	case dateCell:
		if of, made := madeDate(rd.text(c)); made {
			return errMade{of}
		}
		return errMade{rd.text(c)}
	case percentCell:
		return errPercent
	case truthCell:
		return errTruth
	case formulaCell:
		return errFormula
	}
	return nil
}

// refuseMade refuses a row whose names a spreadsheet made dates of: a stop called
// 3-4 is not found again.
func (rd *reader) refuseMade() {
	if len(rd.table.odd) == 0 {
		return
	}
	for _, c := range []column{colStop, colPlant, colLeaf, colStage, colOver, colInfested, colAtOrAbove, colHoneydew, colColonies, colPredators, colMummies, colAccuracy} {
		if err := rd.oddity(c); errors.As(err, new(errMade)) {
			rd.refuse(c, err.Error(), formatAsText)
		}
	}
}

var (
	// monthAndNumber is how a spreadsheet shows a day or a year with its month.
	monthAndNumber = pattern(`^(\pL+)\.?[- .]\s*(\d{1,2}|\d{4})$`)
	numberAndMonth = pattern(`^(\d{1,2})\.?[- .]\s*(\pL+)\.?$`)
	twoNumbers     = pattern(`^(\d{1,2})/(\d{1,2})$`)
)

// madeDate says what was typed where a spreadsheet shows a date: 11-50 for Nov-50,
// 1-10 for 10-Jan and for 1-Oct. A class goes up, so the smaller number comes first.
func madeDate(text string) (typed string, made bool) {
	text = strings.TrimSpace(text)
	if len(text) < 3 || len(text) > longestTime {
		return "", false
	}
	if m := monthAndNumber().FindStringSubmatch(text); m != nil {
		return rising((*monthOf())[plainWord(m[1])], m[2])
	}
	if m := numberAndMonth().FindStringSubmatch(text); m != nil {
		return rising((*monthOf())[plainWord(m[2])], m[1])
	}
	if m := twoNumbers().FindStringSubmatch(text); m != nil {
		return rising(small(m[1]), m[2])
	}
	rest, clock, ok := splitClock(text)
	if !ok {
		return "", false
	}
	if rest == "" {
		return clock, true
	}
	if len(rest) < len("1.1.26") || isDigits(rest) {
		return "", false
	}
	month, day := readDay(rest)
	for _, iso := range []string{month, day} {
		if t, err := time.Parse(time.DateOnly, iso); err == nil {
			return typedAs(t), true
		}
	}
	return "", false
}

// typedAs is what makes a spreadsheet store a day: month and year where the year is
// no day of that month, else the two numbers of day and month.
func typedAs(t time.Time) string {
	year := t.Year() % 100
	lastDay := time.Date(t.Year(), t.Month()+1, 0, 0, 0, 0, 0, time.UTC).Day()
	if t.Year() < 1930 { // a number under a format for dates
		return t.Format(time.DateOnly)
	}
	if t.Day() == 1 && year > lastDay {
		typed, _ := rising(int(t.Month()), strconv.Itoa(year))
		return typed
	}
	typed, _ := rising(int(t.Month()), strconv.Itoa(t.Day()))
	return typed
}

// rising writes a month and a number as the class they were; a month of 0 is none.
func rising(month int, number string) (typed string, made bool) {
	v, err := strconv.Atoi(number)
	if err != nil || month == 0 {
		return "", false
	}
	if v >= 1000 { // Nov-1950
		v %= 100
	}
	return fmt.Sprintf("%d-%d", min(month, v), max(month, v)), true
}
