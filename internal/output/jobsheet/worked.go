package jobsheet

import (
	"fmt"
	"strings"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/spraying/handoff"
	"github.com/geocoris/geocoris/internal/spraying/spray"
)

// workedRows are the figures behind those that the sheet begins with, and how these
// came to be.
func (s Sheet) workedRows(j *handoff.Job) []row {
	u, m, f, p := s.Units, j.Margin, j.Figures(), j.Plan
	var rows []row
	if j.Trust != "" {
		rows = append(rows, row{"Trust in the map", j.Trust})
	}
	if on := s.onMap(j); on != "" {
		rows = append(rows, row{"Grown on the map", on})
	}
	if m.Total() > 0 {
		rows = append(rows, row{"Margin", u.Length(m.Total()) + ": " + s.marginParts(m)})
	}
	rows = append(rows, []row{
		{"With margin, in the field", u.Area(j.Ground.Grown)},
		{"Spray ground", u.Area(f.Ground)},
		{"Treatable", fmt.Sprintf("%s of the spray ground", u.Area(f.Treatable))},
		{"To spray by treatable", fmt.Sprintf("%.2f", f.Ratio())},
	}...)
	if f.Missed > leastTold || f.Overlap > leastTold {
		rows = append(rows, row{"Missed, overlap", u.Area(f.Missed) + ", " + u.Area(f.Overlap)})
	}
	if f.Beyond > leastTold {
		rows = append(rows, row{"Beside the spray ground", u.Area(f.Beyond)})
	}
	if j.Grid != nil {
		rows = append(rows, row{"Areas are of the grid", s.gridRule(j.Grid)})
	}
	rows = append(rows, row{"Driven on, off", u.Way(p.On) + ", " + u.Way(p.Off)}, row{"Turns", fmt.Sprint(p.Turns)})
	for _, k := range j.Ground.KeptOff {
		rows = append(rows, row{"Kept off " + k.Name, fmt.Sprintf("%s cut out, with a set-back of %s", u.Area(k.Area), u.Length(k.SetBack))})
	}
	for _, r := range p.Cover.Untreatable {
		rows = append(rows, row{"Left unsprayed", fmt.Sprintf("%s at %s: %s", u.Patch(r.Area), latLon(j.Frame.Inverse(r.Point)), handoff.Reason(r))})
	}
	return rows
}

// gridRule says by which rule cells are on.
func (s Sheet) gridRule(g *handoff.Grid) string {
	return fmt.Sprintf("%s cells of %s on: at least half of each is spray ground, none of it closed, all of it in the field", figures.Short(float64(g.On)), s.Units.Length(g.Cell))
}

// onMap tells by how much the map grew the treat zone already; "" where it did not, or
// where nothing tells and no growth is added to it.
func (s Sheet) onMap(j *handoff.Job) string {
	if j.Grown == nil && j.Margin.Spread() > 0 {
		return fmt.Sprintf("the zones do not say, so growth is added for all %d days", j.Days.Between)
	}
	return j.OnMap(s.Units.Length)
}

// marginParts is the margin as a sum.
func (s Sheet) marginParts(m spray.Margin) string {
	size, unit := 1.0, "m"
	if s.Units.InUS() {
		size, unit = geo.MetresPerFoot, "ft"
	}
	parts := []string{fmt.Sprintf("positions √(%s² stop + %s² sprayer) %s", figures.Short(m.StopError/size), figures.Short(m.SprayerError/size), unit)}
	if m.Spread() > 0 {
		parts = append(parts, fmt.Sprintf("growth %s %s × %s d", figures.Short(m.Growth/size), unit, figures.Short(m.Days)))
	}
	if m.Extra > 0 {
		parts = append(parts, fmt.Sprintf("asked %s %s", figures.Short(m.Extra/size), unit))
	}
	return strings.Join(parts, " + ")
}
