package survey

import (
	"math"
	"strconv"
	"strings"
)

// class is a count entered as a range of numbers, ends included.
type class struct{ low, high float64 }

// classOf reads a class such as 11-50, 50+, >50 or <10. An open class is taken
// to reach to twice where it begins.
func classOf(text string) (class, bool) {
	text = strings.ToLower(strings.TrimSpace(text))
	if text == "" || isPlain(text) { // nearly all are
		return class{}, false
	}
	if low, high, is := between(text); is {
		c := class{digits(low), digits(high)}
		return c, c.low < c.high
	}
	if number, is := strings.CutSuffix(text, "+"); is {
		return openFrom(trimmedRight(number), 0)
	}
	for _, sign := range [...]string{">=", "≥"} {
		if number, is := strings.CutPrefix(text, sign); is {
			return openFrom(trimmedLeft(number), 0)
		}
	}
	if number, is := strings.CutPrefix(text, ">"); is {
		return openFrom(trimmedLeft(number), 1)
	}
	if number, is := strings.CutPrefix(text, "<"); is && isDigits(trimmedLeft(number)) {
		high := digits(trimmedLeft(number)) - 1
		return class{0, high}, high > 0
	}
	return class{}, false
}

// openFrom is a class that begins so many behind a number.
func openFrom(number string, behind float64) (class, bool) {
	if !isDigits(number) {
		return class{}, false
	}
	low := digits(number) + behind
	return class{low, 2 * low}, low > 0
}

// between cuts a class such as 11-50, 10 to 24 or 11..50 into its ends.
func between(text string) (low, high string, is bool) {
	for _, sign := range [...]string{"-", "–", "—", "to", ".."} {
		if low, high, is = strings.Cut(text, sign); is {
			low, high = trimmedRight(low), trimmedLeft(high)
			return low, high, isDigits(low) && isDigits(high)
		}
	}
	return "", "", false
}

func trimmedLeft(text string) string  { return strings.TrimLeft(text, blanks) }
func trimmedRight(text string) string { return strings.TrimRight(text, blanks) }

// blanks are those of a line.
const blanks = " \t\n\f\r"

func digits(text string) float64 {
	v, _ := strconv.ParseFloat(text, 64) // who asks has looked that all are
	return v
}

// middle is the geometric mid-point, as counts are skewed; a class from 0 is
// taken to begin at 1.
func (c class) middle() float64 { return math.Sqrt(max(c.low, 1) * c.high) }
