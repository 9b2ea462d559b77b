package survey

import (
	"errors"
	"math"
	"regexp"
	"strconv"
	"strings"
)

var (
	plainNumber  = regexp.MustCompile(`^[+-]?(\d+(\.\d*)?|\.\d+)$`)
	commaNumber  = regexp.MustCompile(`^[+-]?\d*,\d+$`)
	grouped      = regexp.MustCompile(`^\d{1,3}([,.' ]\d{3})+$`)
	exponent     = regexp.MustCompile(`^[+-]?(\d+\.?\d*|\.\d+)[eE][+-]?\d+$`)
	errBlank     = errors.New("is blank, and a blank is not a zero")
	errNotNumber = errors.New("is not a number")
	errGrouped   = errors.New("has a sign between its thousands")
	errExponent  = errors.New("is written with an exponent")
)

// parse reads a number as a person writes it. A comma may be the decimal sign
// only where it does not part cells. Numbers with thousands signs or exponents
// are told from words, so that the message can say so, but not guessed at.
func (l layout) parse(text string) (float64, error) {
	text = strings.TrimSpace(strings.ReplaceAll(text, "\u2212", "-")) // the minus sign of typesetters
	switch {
	case text == "":
		return 0, errBlank
	case plainNumber.MatchString(text):
	case l.decimalComma && commaNumber.MatchString(text):
		text = strings.Replace(text, ",", ".", 1)
	case grouped.MatchString(text):
		return 0, errGrouped
	case exponent.MatchString(text):
		return 0, errExponent
	default:
		return 0, errNotNumber
	}
	v, err := strconv.ParseFloat(text, 64)
	if err != nil || math.IsInf(v, 0) {
		return 0, errNotNumber
	}
	return v, nil
}

// mendOf says how to mend a number that could not be read.
func mendOf(err error) string {
	switch {
	case errors.Is(err, errBlank):
		return "write the count, 0 if nothing was found"
	case errors.Is(err, errGrouped), errors.Is(err, errExponent):
		return "write it in digits alone"
	}
	return "write a number"
}
