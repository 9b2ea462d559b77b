package survey

import (
	"strconv"
	"strings"
)

// MadeOf reports whether a spreadsheet makes a text of a name that was typed: 7 of 007,
// 1.00E+05 of 1E5, 2-Jan of 1-2. Names alike are not.
func MadeOf(text, name string) bool {
	text, name = strings.TrimSpace(text), strings.TrimSpace(name)
	if text == name || name == "" || !strings.ContainsAny(name, "0123456789") {
		return false
	}
	was, errWas := strconv.ParseFloat(name, 64)
	is, errIs := strconv.ParseFloat(text, 64)
	if errWas == nil && errIs == nil {
		return was == is
	}
	typed, made := madeDate(text)
	if !made {
		return false
	}
	parts := strings.FieldsFunc(name, func(r rune) bool { return r == '-' || r == '/' || r == '.' || r == ' ' })
	if len(parts) != 2 {
		return false
	}
	a, errA := strconv.Atoi(parts[0])
	b, errB := strconv.Atoi(parts[1])
	return errA == nil && errB == nil && typed == strconv.Itoa(min(a, b))+"-"+strconv.Itoa(max(a, b))
}
