package survey

import (
	"math"
	"strconv"
	"strings"
)

// class is a count entered as a range of numbers, ends included.
type class struct{ low, high float64 }

var (
	closedClass = pattern(`^(\d+)\s*(?:-|–|—|to|\.\.)\s*(\d+)$`)
	openClass   = pattern(`^(?:(\d+)\s*\+|(?:>=|≥)\s*(\d+)|>\s*(\d+))$`)
	underClass  = pattern(`^<\s*(\d+)$`)
)

// classOf reads a class such as 11-50, 50+, >50 or <10. An open class is taken
// to reach to twice where it begins.
func classOf(text string) (class, bool) {
	text = strings.ToLower(strings.TrimSpace(text))
	if text == "" || isPlain(text) { // nearly all are
		return class{}, false
	}
	if m := closedClass().FindStringSubmatch(text); m != nil {
		c := class{digits(m[1]), digits(m[2])}
		return c, c.low < c.high
	}
	if m := openClass().FindStringSubmatch(text); m != nil {
		low := digits(m[1] + m[2])
		if m[3] != "" {
			low = digits(m[3]) + 1
		}
		return class{low, 2 * low}, low > 0
	}
	if m := underClass().FindStringSubmatch(text); m != nil {
		high := digits(m[1]) - 1
		return class{0, high}, high > 0
	}
	return class{}, false
}

func digits(text string) float64 {
	v, _ := strconv.ParseFloat(text, 64) // the expressions let nothing else by
	return v
}

// middle is the geometric mid-point, as counts are skewed; a class from 0 is
// taken to begin at 1.
func (c class) middle() float64 { return math.Sqrt(max(c.low, 1) * c.high) }
