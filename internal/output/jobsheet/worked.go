package jobsheet

import (
	"fmt"
	"math"
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
		rows = append(rows, s.row("Trust in the map", trustIn(j.Trust, u)))
	}
	if on := s.onMap(j); on != "" {
		rows = append(rows, s.row("Grown on the map", on))
	}
	if m.Total() > 0 {
		rows = append(rows, s.row("Margin", u.Length(m.Total())+": "+s.marginParts(m)))
	}
	rows = append(rows, []row{
		s.row("With margin, in the field", u.Area(j.Ground.Grown)),
		s.row("Spray ground", u.Area(f.Ground)),
		s.row("Can be sprayed", u.Say("%s of the spray ground", u.Area(f.Treatable))),
		s.row("To spray in all", u.Say("%.2f times what can be sprayed", f.Ratio())),
	}...)
	if f.Missed > leastTold || f.Overlap > leastTold {
		rows = append(rows, s.row("Missed, overlap", u.Area(f.Missed)+", "+u.Area(f.Overlap)))
	}
	if f.Beyond > leastTold {
		rows = append(rows, s.row("Beside the spray ground", u.Area(f.Beyond)))
	}
	if j.Grid != nil {
		rows = append(rows, s.row("Areas are of the grid", s.gridRule(j.Grid)))
	}
	rows = append(rows, s.row("Driven on, off", u.Way(p.On)+", "+u.Way(p.Off)), s.row("Turns", fmt.Sprint(p.Turns)))
	for _, k := range j.Ground.KeptOff {
		rows = append(rows, row{u.Say("Kept off %s", keepOffName(k.Name, u)), u.Say("%s cut out, with a set-back of %s", u.Area(k.Area), u.Length(k.SetBack))})
	}
	for _, r := range j.Places() {
		rows = append(rows, s.row("Left unsprayed", u.Say("%s at %s: %s", u.Patch(r.Area), latLon(j.Frame.Inverse(r.Point)), u.Text(handoff.Reason(r)))))
	}
	return rows
}

// gridRule says by which rule cells are on.
func (s Sheet) gridRule(g *handoff.Grid) string {
	return s.Units.Say("%s cells of %s on: at least half of each is spray ground, none of it closed, all of it in the field, and sections can spray all of it", s.Units.Short(float64(g.On)), s.Units.Length(g.Cell))
}

// onMap tells by how much the map grew the treat zone already; "" where it did not, or
// where nothing tells and no growth is added to it.
func (s Sheet) onMap(j *handoff.Job) string {
	if j.Grown == nil && j.Margin.Spread() > 0 {
		return s.Units.Say("the zones do not say, so growth is added for all %d days", j.Days.Between)
	}
	if g := j.Grown; g != nil && g.Margin > 0 && g.Days > 0 {
		return s.Units.Say("%s, with what patches grow in %g days", s.Units.Length(g.Margin), g.Days)
	}
	return j.OnMap(s.Units.Length)
}

// marginParts is the margin as a sum.
func (s Sheet) marginParts(m spray.Margin) string {
	size, unit := 1.0, "m"
	if s.Units.InUS() {
		size, unit = geo.MetresPerFoot, "ft"
	}
	parts := []string{s.positions(m.StopError/size, m.SprayerError/size, unit)}
	if m.Spread() > 0 {
		parts = append(parts, s.Units.Say("growth %s %s × %s d", figures.Short(m.Growth/size), unit, figures.Short(m.Days)))
	}
	if m.Extra > 0 {
		parts = append(parts, s.Units.Say("asked %s %s", figures.Short(m.Extra/size), unit))
	}
	return strings.Join(parts, " + ")
}

// positions are the GPS errors that a margin allows for, together the root of the sum of
// their squares.
func (s Sheet) positions(stop, sprayer float64, unit string) string {
	if sprayer == 0 {
		return s.Units.Say("GPS error of the stops %s %s", figures.Short(stop), unit)
	}
	return s.Units.Say("GPS error %s %s (stops %s %s, sprayer %s %s)", figures.Short(math.Hypot(stop, sprayer)), unit, figures.Short(stop), unit, figures.Short(sprayer), unit)
}
