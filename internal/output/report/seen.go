package report

import (
	"math"
	"slices"
	"strings"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// seenProperties are what was written down of a stop's plants beside its counts, under
// the names by which they are read again, where any row tells them. Of a share of plants
// they are those by which it is fed again.
func seenProperties(stat assess.Statistic, s *assess.Stop) (all geo.Properties) {
	switch over, atOrAbove, told := overOf(s.Stop); {
	case stat.Share() && stat.Unit != "leaf" && s.Plants > 0:
		all = append(all, plantsLooked(s.Stop), geo.Property{Name: "plants_over", Value: math.Round(s.Value * float64(s.Plants) / 100)})
		if stat.Sign != "" {
			all = append(all, geo.Property{Name: "at_or_above", Value: stat.Sign})
		} else {
			all = append(all, geo.Property{Name: "at_or_above", Value: stat.Tally})
		}
	case told:
		all = append(all, plantsLooked(s.Stop), geo.Property{Name: "plants_over", Value: over})
		if atOrAbove != "" {
			all = append(all, geo.Property{Name: "at_or_above", Value: atOrAbove})
		}
	case s.Plants > 0 && anySign(s.Stop):
		all = append(all, plantsLooked(s.Stop))
	}
	if !slices.ContainsFunc(s.Records, func(r survey.Record) bool { return r.Seen != nil }) {
		return all
	}
	for i, name := range survey.SignNames() {
		if value, told := signOf(s.Stop, i); told {
			all = append(all, geo.Property{Name: name, Value: value})
		}
	}
	return all
}

func plantsLooked(s survey.Stop) geo.Property {
	return geo.Property{Name: "plants", Value: float64(s.Plants)}
}

// overOf is how many plants the rows themselves tell to be over one tally; told is false
// where some do not, or by another one.
func overOf(s survey.Stop) (over float64, atOrAbove string, told bool) {
	for i, r := range s.Records {
		if r.Seen == nil || math.IsNaN(r.Seen.Over) || i > 0 && r.Seen.AtOrAbove != atOrAbove {
			return 0, "", false
		}
		over, atOrAbove = over+r.Seen.Over, r.Seen.AtOrAbove
	}
	return over, atOrAbove, len(s.Records) > 0
}

func anySign(s survey.Stop) bool {
	for i := range survey.SignNames() {
		if _, told := signOf(s, i); told {
			return true
		}
	}
	return false
}

// signOf is a sign of a stop: the sum of its rows where all that tell it tell a number,
// else what was entered.
func signOf(s survey.Stop, i int) (value any, told bool) {
	sum := 0.0
	var texts []string
	for _, r := range s.Records {
		if r.Seen == nil || !r.Seen.Signs()[i].Entered() {
			continue
		}
		sign := r.Seen.Signs()[i]
		sum, texts = sum+sign.Number, append(texts, sign.Text)
	}
	if math.IsNaN(sum) {
		return strings.Join(texts, ", "), true
	}
	return sum, len(texts) > 0
}
