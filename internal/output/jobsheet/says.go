package jobsheet

import (
	"fmt"
	"strings"

	"github.com/geocoris/geocoris/internal/spraying/handoff"
	"github.com/geocoris/geocoris/internal/spraying/spray"
)

// leastTold is the ground, m², below which it is not told that it stays unsprayed, is
// sprayed twice or past the edge: arithmetic.
const leastTold = 1

// says is the order, and what comes of it, in short sentences; nothing of what there is
// none.
func (s Sheet) says(j *handoff.Job) (lines []string) {
	lines = s.order(j)
	u, f := s.Units, j.Figures()
	if f.Left > leastTold {
		lines = append(lines, s.left(j))
	}
	if f.OutOfField > leastTold {
		lines = append(lines, u.Area(f.OutOfField)+" is sprayed past the field's edge. Shut nozzles there where you can.")
	}
	if f.Overlap > leastTold {
		lines = append(lines, u.Area(f.Overlap)+" is sprayed twice.")
	}
	if says := rowsSay(j.Plan); says != "" {
		lines = append(lines, says)
	}
	if f.Missed > leastTold {
		lines = append(lines, u.Area(f.Missed)+" is missed.")
	}
	return lines
}

// grownBy tells what the treat zone was grown by and why; "" where it was not.
func (s Sheet) grownBy(m spray.Margin) string {
	length := s.Units.Estimate
	var parts []string
	for _, part := range []struct {
		metres float64
		why    string
	}{
		{m.Position(), "for GPS error"}, {m.Spread(), "for " + days(m.Days) + " of spread"}, {m.Extra, "as asked"},
	} {
		if part.metres > 0 {
			parts = append(parts, length(part.metres)+" "+part.why)
		}
	}
	switch len(parts) {
	case 0:
		return ""
	case 1:
		return "Grown by " + parts[0] + "."
	}
	return "Grown by " + length(m.Total()) + ": " + strings.Join(parts, ", ") + "."
}

func days(n float64) string {
	if n == 1 {
		return "1 day"
	}
	return fmt.Sprintf("%g days", n)
}

// left tells what stays unsprayed and where to find it.
func (s Sheet) left(j *handoff.Job) string {
	left := s.Units.Area(j.Figures().Left) + " stays unsprayed"
	switch n := len(j.Plan.Cover.Untreatable); {
	case j.Grid != nil:
		return left + ": no cell that is on lies there."
	case n == 0: // crumbs
		return left + "."
	case n == 1:
		return left + ", at 1 place: the cross on the map."
	default:
		return fmt.Sprintf("%s, at %d places: the crosses on the map.", left, n)
	}
}
