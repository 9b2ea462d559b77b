package jobsheet

import (
	"strings"

	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/spraying/handoff"
	"github.com/geocoris/geocoris/internal/spraying/spray"
)

// leastTold is the ground, m², below which it is not told that it stays unsprayed:
// arithmetic. leastSpilled is that of ground sprayed past the edge or twice: 5 m by 5 m,
// about as well as a stop's place is known.
const (
	leastTold    = 1
	leastSpilled = 25
)

// says is the order, and what comes of it, in short sentences; nothing of what there is
// none.
func (s Sheet) says(j *handoff.Job) (lines []string) {
	lines = s.order(j)
	u, f := s.Units, j.Figures()
	if by := byHandSays(j, u); by != "" {
		lines = append(lines, by)
	}
	if f.Left > leastTold {
		lines = append(lines, s.left(j))
	}
	if f.OutOfField >= leastSpilled {
		lines = append(lines, u.Say("%s is sprayed past the field's edge. Shut nozzles there where you can.", u.Area(f.OutOfField)))
	}
	if f.Overlap >= leastSpilled {
		lines = append(lines, u.Say("%s is sprayed twice.", u.Area(f.Overlap)))
	}
	if says := rowsSay(j.Plan, u); says != "" && j.Plan.Settings.Rows != nil { // else the row of the passes tells
		lines = append(lines, says)
	}
	if f.Missed > leastTold {
		lines = append(lines, u.Say("%s is missed.", u.Area(f.Missed)))
	}
	return lines
}

// grownBy tells what the treat zone was grown by and why; "" where it was not.
func (s Sheet) grownBy(m spray.Margin) string {
	u := s.Units
	var parts []string
	if m.Position() > 0 {
		parts = append(parts, u.Say("%s for GPS error", u.Estimate(m.Position())))
	}
	if m.Spread() > 0 {
		parts = append(parts, u.Say("%s for %s of spread", u.Estimate(m.Spread()), days(m.Days, u)))
	}
	if m.Extra > 0 {
		parts = append(parts, u.Say("%s as asked", u.Estimate(m.Extra)))
	}
	switch len(parts) {
	case 0:
		return ""
	case 1:
		return u.Say("Grown by %s.", parts[0])
	}
	return u.Say("Grown by %s: %s.", u.Estimate(m.Total()), strings.Join(parts, ", "))
}

func days(n float64, u figures.Units) string {
	if n == 1 {
		return u.Text("1 day")
	}
	return u.Say("%g days", n)
}

// left tells what stays unsprayed and where to find it.
func (s Sheet) left(j *handoff.Job) string {
	u, left := s.Units, s.Units.Area(j.Figures().Left)
	switch n := len(j.Places()); {
	case j.Grid != nil:
		return u.Say("%s stays unsprayed: no cell that is on lies there.", left)
	case j.Simplified():
		return u.Say("%s stays unsprayed, some of it beside outlines of few points.", left)
	case n == 0: // crumbs
		return u.Say("%s stays unsprayed.", left)
	case n == 1:
		return u.Say("%s stays unsprayed, at 1 place: the cross on the map.", left)
	default:
		return u.Say("%s stays unsprayed, at %d places: the crosses on the map.", left, n)
	}
}
