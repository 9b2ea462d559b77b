package survey

import (
	"errors"
	"math"
	"strconv"
	"strings"
)

var (
	commaNumber  = pattern(`^[+-]?\d*,\d+$`)
	grouped      = pattern(`^[+-]?[1-9]\d{0,2}([,.' ]\d{3})+$`)
	groupedPart  = pattern(`^[+-]?[1-9]\d{0,2}(?:(?:,\d{3})+\.|(?:\.\d{3})+,|(?:[' ]\d{3})+[.,])\d+$`) // with a fraction
	exponent     = pattern(`^[+-]?(\d+\.?\d*|\.\d+)[eE][+-]?\d+$`)
	errBlank     = errors.New("is blank, and a blank is not a zero")
	errNotNumber = errors.New("is not a number")
	errGrouped   = errors.New("has a sign between its thousands")
	errExponent  = errors.New("is written with an exponent")
	errComma     = errors.New("has a decimal comma, and this file decimal points")
	errPercent   = errors.New("is a percentage")
	errSheet     = errors.New("is an error of the spreadsheet")
	errNarrow    = errors.New("was too wide for its column when the file was saved")
)

// decimals is how a table writes fractions.
type decimals struct {
	comma     bool // a comma may be the decimal sign
	sure      bool // fractions are written so: then a point parts thousands
	marks     marks
	allPoints bool // every count has a point
}

// decimalsOf tells the decimal sign from the positions, which all have
// fractions: where one of them has a point, a comma elsewhere is none. In a
// spreadsheet only texts tell; where they use both signs neither is read as a
// comma for fractions.
func decimalsOf(t table, l *layout) decimals {
	d := decimals{marks: marksOf(t, l), allPoints: pointsInAll(t, l)}
	if !t.DecimalComma || t.typed != nil && d.marks.comma && d.marks.point {
		return d
	}
	for _, row := range t.Rows {
		for _, c := range []column{colLongitude, colLatitude} {
			if i := l.at[c]; i >= 0 && (t.native(row.Line, i) || t.parted.holds(i)) {
				continue // the latter were pasted, and have points whatever the others have
			}
			text := l.text(row, c)
			if strings.Contains(text, ".") {
				return d
			}
			d.sure = d.sure || commaNumber().MatchString(text)
		}
	}
	d.comma = true
	d.sure = d.sure || d.marks.comma && !d.marks.point
	return d
}

// parse reads a number as a person writes it. Numbers with thousands signs or
// exponents are distinguished from words, so that the message can say so, but not guessed
// at.
func (d decimals) parse(text string) (float64, error) {
	text = asText(strings.TrimSpace(text))
	if strings.Contains(text, "\u2212") { // the minus sign of typesetters
		text = strings.ReplaceAll(text, "\u2212", "-")
	}
	switch {
	case text == "":
		return 0, errBlank
	case d.sure && strings.Contains(text, ".") && grouped().MatchString(text):
		return 0, errGrouped
	case isPlain(text):
	case d.comma && !d.marks.comma && grouped().MatchString(text) && commaNumber().MatchString(text):
		return 0, errTwoWays{strings.ReplaceAll(text, ",", ""), strings.Replace(text, ",", ".", 1)}
	case d.comma && commaNumber().MatchString(text):
		text = strings.Replace(text, ",", ".", 1)
	case grouped().MatchString(text):
		return 0, errGrouped
	case exponent().MatchString(text):
		return 0, errExponent
	case commaNumber().MatchString(text):
		return 0, errComma
	default:
		return 0, whatElse(text)
	}
	v, err := strconv.ParseFloat(text, 64)
	if err != nil || math.IsInf(v, 0) {
		return 0, errNotNumber
	}
	return v, nil
}

// whatElse says what a text is that is no number, as far as it can be known.
func whatElse(text string) error {
	class, made := madeDate(text)
	switch {
	case made:
		return errMade{class}
	case strings.Trim(text, "#") == "":
		return errNarrow
	case text[0] == '#':
		return errSheet
	case strings.HasSuffix(text, "%"):
		return errPercent
	case groupedPart().MatchString(text):
		return errGrouped
	}
	return errNotNumber
}

// asText takes off how spreadsheets mark a number as a text: '12 or ="12".
func asText(text string) string {
	if len(text) < 2 || text[0] != '\'' && text[0] != '=' { // nearly all
		return text
	}
	if inner, is := strings.CutPrefix(text, `="`); is && strings.HasSuffix(inner, `"`) {
		return strings.TrimSuffix(inner, `"`)
	}
	return strings.TrimPrefix(text, "'")
}

// isPlain reports whether text is a number of digits with at most a sign before
// and a point among them. It is asked of every cell, so it is no expression.
func isPlain(text string) bool {
	digits, points := 0, 0
	for i := 0; i < len(text); i++ {
		switch c := text[i]; {
		case c >= '0' && c <= '9':
			digits++
		case c == '.':
			points++
		case (c == '-' || c == '+') && i == 0:
		default:
			return false
		}
	}
	return digits > 0 && points <= 1
}

// fixOf says how to fix a number that could not be read.
func fixOf(err error, c column) string {
	switch {
	case errors.Is(err, errBlank):
		return c.fill()
	case errors.Is(err, errGrouped), errors.Is(err, errExponent), errors.As(err, new(errTwoWays)):
		return "write it in digits alone"
	case errors.As(err, new(errMade)):
		return formatAsText
	case errors.Is(err, errFormula):
		return "open the file in the spreadsheet and save it, or write the number"
	case errors.Is(err, errPercent):
		return "write how many were found"
	case errors.Is(err, errSheet):
		return "write the number in place of the formula"
	case errors.Is(err, errNarrow):
		return "make the column wider and save the file again"
	case errors.Is(err, errComma):
		return "write it with a point"
	case errors.Is(err, errNoPair):
		return "write both, such as 35.8972, -101.6016"
	case errors.Is(err, errOst):
		return "write W for west, E for east"
	case errors.Is(err, errAxis):
		return "put each under its own header"
	case c == colLongitude, c == colLatitude:
		return "write decimal degrees, west and south below 0"
	}
	return "write a number"
}

// fill says what a blank cell wants.
func (c column) fill() string {
	switch c {
	case colLongitude, colLatitude:
		return "look the place up"
	case colLeaves:
		return "write how many were looked at"
	}
	return "write the count, 0 if nothing was found"
}
