package survey

import (
	"errors"
	"math"
	"regexp"
	"strconv"
	"strings"
)

var (
	commaNumber  = regexp.MustCompile(`^[+-]?\d*,\d+$`)
	grouped      = regexp.MustCompile(`^[+-]?\d{1,3}([,.' ]\d{3})+$`)
	exponent     = regexp.MustCompile(`^[+-]?(\d+\.?\d*|\.\d+)[eE][+-]?\d+$`)
	errBlank     = errors.New("is blank, and a blank is not a zero")
	errNotNumber = errors.New("is not a number")
	errGrouped   = errors.New("has a sign between its thousands")
	errExponent  = errors.New("is written with an exponent")
	errComma     = errors.New("has a decimal comma, and this file decimal points")
)

// decimals is how a table writes fractions.
type decimals struct {
	comma bool // a comma may be the decimal sign
	sure  bool // positions are written so: then a point parts thousands
}

// decimalsOf tells the decimal sign from the positions, which all have
// fractions: where one of them has a point, a comma elsewhere is none.
func decimalsOf(t table, l *layout) decimals {
	if !t.DecimalComma {
		return decimals{}
	}
	var d decimals
	for _, row := range t.Rows {
		for _, c := range []column{colLongitude, colLatitude} {
			text := l.text(row, c)
			if strings.Contains(text, ".") {
				return decimals{}
			}
			d.sure = d.sure || commaNumber.MatchString(text)
		}
	}
	d.comma = true
	return d
}

// parse reads a number as a person writes it. Numbers with thousands signs or
// exponents are told from words, so that the message can say so, but not guessed
// at.
func (d decimals) parse(text string) (float64, error) {
	text = strings.TrimSpace(text)
	if strings.Contains(text, "\u2212") { // the minus sign of typesetters
		text = strings.ReplaceAll(text, "\u2212", "-")
	}
	switch {
	case text == "":
		return 0, errBlank
	case d.sure && strings.Contains(text, ".") && grouped.MatchString(text):
		return 0, errGrouped
	case isPlain(text):
	case d.comma && commaNumber.MatchString(text):
		text = strings.Replace(text, ",", ".", 1)
	case grouped.MatchString(text):
		return 0, errGrouped
	case exponent.MatchString(text):
		return 0, errExponent
	case commaNumber.MatchString(text):
		return 0, errComma
	default:
		return 0, errNotNumber
	}
	v, err := strconv.ParseFloat(text, 64)
	if err != nil || math.IsInf(v, 0) {
		return 0, errNotNumber
	}
	return v, nil
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

// mendOf says how to mend a number that could not be read.
func mendOf(err error, c column) string {
	switch {
	case errors.Is(err, errBlank):
		return c.fill()
	case errors.Is(err, errGrouped), errors.Is(err, errExponent):
		return "write it in digits alone"
	case errors.Is(err, errComma):
		return "write it with a point"
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
