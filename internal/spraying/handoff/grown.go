package handoff

import (
	"fmt"

	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/spraying/spray"
)

// Grown is by how much the map grew a field's treat zone already.
type Grown struct {
	Margin float64 `json:"margin_m"`   // metres in all
	Days   float64 `json:"grown_days"` // days after the count whose growth is in it
}

// grown is what the zones say of it, else the record of their map; nil where neither
// does.
func (f *field) grown(s Settings) *Grown {
	margin, hasMargin := f.first.Number("margin_m")
	days, hasDays := f.first.Number("grown_days")
	if hasMargin && hasDays {
		return &Grown{margin, days}
	}
	if g, ok := s.Grown[f.name]; ok {
		return &g
	}
	return nil
}

// marginOf is the margin with the days for which growth is still to be added: those
// until the spraying that the map has not grown its zones by already.
func marginOf(m spray.Margin, d Days, g *Grown) spray.Margin {
	m.Days = float64(d.Between)
	if g != nil {
		m.Days = max(0, m.Days-g.Days)
	}
	return m
}

// OnMap tells by how much the map grew the treat zone; "" where it did not, or that is
// not known.
func (j *Job) OnMap(length func(m float64) string) string {
	if j.Grown == nil || j.Grown.Margin <= 0 {
		return ""
	}
	text := length(j.Grown.Margin)
	if j.Grown.Days > 0 {
		text += fmt.Sprintf(", with what patches grow in %g days", j.Grown.Days)
	}
	return text
}

// grownNotes are what the person should think over of growth.
func (j *Job) grownNotes(asked spray.Margin) (notes []string) {
	if on := j.OnMap(figures.Metric.Length); on != "" {
		text := fmt.Sprintf("the map grew the treat zone by %s, already; the margin here comes on top", on)
		if asked.Growth > 0 && j.Grown.Days > 0 {
			text += fmt.Sprintf(", with growth for %g of the %d days until the spraying", j.Margin.Days, j.Days.Between)
		}
		notes = append(notes, text)
	}
	if j.Grown == nil && j.Margin.Spread() > 0 {
		notes = append(notes, fmt.Sprintf("the zones do not say by how much the map grew them, so growth is added for all %d days: map again if it ran with --spray-in", j.Days.Between))
	}
	return notes
}
