//go:build !small

package engine

import (
	"strconv"
	"strings"

	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/spraying/spray"
)

// Planned is what the record of each field begins with: what its job planned, for people
// to change to what was done. Carrier and products are those that were typed in for the
// job, with their sums; who applied, the weather and the times nobody knows beforehand.
func (o *HandoffOutcome) Planned() (all []RecordSettings) {
	s := o.Sheet
	for _, j := range s.Result.Jobs {
		area := j.Figures().Sprayed
		r := RecordSettings{Date: j.SprayOn, Field: j.Field, Area: plannedArea(area, s.Units.InUS() || s.Mix.Rate != nil && strings.HasSuffix(s.Mix.Rate.Unit, "/ac")), Product: []string{}}
		if s.Mix.Rate != nil {
			r.Carrier = s.Units.Volume(spray.Carrier(area, s.Mix.Rate.Base))
		}
		for _, p := range s.Mix.Products {
			r.Product = append(r.Product, p.Name+"="+plain(p.Total(area), 2)+" "+p.Unit)
		}
		all = append(all, r)
	}
	return all
}

func plannedArea(m2 float64, acres bool) string {
	if acres {
		return plain(figures.Acres(m2), 2) + "ac"
	}
	return plain(figures.Hectares(m2), 2) + "ha"
}

// plain is a number as people type it, with so many decimals at the most.
func plain(v float64, decimals int) string {
	return strconv.FormatFloat(figures.Rounded(v, decimals), 'f', -1, 64)
}
