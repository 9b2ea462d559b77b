//go:build !small

package survey

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// leastApart is from how many columns on they are of the leaves of a stop side by side.
const leastApart = 3

// leafColumn is a header of one leaf by its number: L1, leaf 10, hoja 3.
var leafColumn = pattern(`^(?:l|leaf|h|hoja)[ _.#-]*0*([1-9]\d?)$`)

// leavesApart says how to lay out a table that has the leaves of a stop in columns side by side,
// as a printed sheet has them; "" of others.
func leavesApart(t table) string {
	var numbers []int
	first, last := "", ""
	for _, h := range t.Header {
		m := leafColumn().FindStringSubmatch(strings.ToLower(strings.TrimSpace(h)))
		if m == nil {
			continue
		}
		n, _ := strconv.Atoi(m[1])
		if numbers = append(numbers, n); len(numbers) == 1 {
			first = h
		}
		last = h
	}
	if n := len(numbers); n < leastApart || slices.Max(numbers) != n || len(slices.Compact(slices.Sorted(slices.Values(numbers)))) != n {
		return ""
	}
	return fmt.Sprintf("; columns %s to %s seem to be of one leaf each: add a column count with their sum, and a column leaves with how many were looked at, such as %d", quote(strings.TrimSpace(first)), quote(strings.TrimSpace(last)), len(numbers))
}
