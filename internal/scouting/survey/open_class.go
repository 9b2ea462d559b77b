//go:build !small

package survey

import (
	"fmt"
	"strings"
)

// openNote tells of counts such as 500+, of which nothing tells the end, what was taken for
// the highest; "" where there are none.
func openNote(t table, l *layout) string {
	n, text, highest := 0, "", class{}
	for _, r := range t.Rows {
		cell := strings.TrimSpace(l.text(r, colCount))
		if !strings.ContainsAny(cell, "+>≥") {
			continue
		}
		if c, ok := classOf(cell); ok {
			if n++; c.low > highest.low {
				text, highest = cell, c
			}
		}
	}
	switch n {
	case 0:
		return ""
	case 1:
		return fmt.Sprintf("%s: a count of %s was taken as %.0f: it may be higher", t.File, text, highest.middle())
	}
	return fmt.Sprintf("%s: %d counts have no end: the highest, %s, was taken as %.0f and may be higher", t.File, n, text, highest.middle())
}
