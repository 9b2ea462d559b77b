//go:build !small

package engine

import (
	"cmp"
	"fmt"
	"slices"

	"github.com/geocoris/geocoris/internal/followup/compare"
	"github.com/geocoris/geocoris/internal/followup/season"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/mapping/visit"
	"github.com/geocoris/geocoris/internal/output/report"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// A seasonVisit is a visit of a season with its counts as they are compared.
type seasonVisit struct {
	line   season.Line
	counts *survey.Survey
}

// whole are the counts of the visits of a season, in their order: those that are parts of one
// walk, in a field of one day or of days that map takes as one visit, stand together at the first
// of them. Two halves of a field would else seem to be its average and, a day later, another.
func (v *visits) whole(file SeasonReader, all []seasonVisit, treated []compare.Treatment, only []string) ([]*survey.Survey, error) {
	beside, err := file.Beside()
	if err != nil {
		return nil, err
	}
	parts := slices.DeleteFunc(slices.Clone(beside), func(b season.Beside) bool { return !b.Parts() })
	later, twice, err := v.finishedLater(all, treated, beside)
	if err != nil {
		return nil, err
	}
	parts = append(parts, later...)
	var lines []season.Line
	for _, one := range all {
		lines = append(lines, one.line)
	}
	if err := sideBySide(twice, lines, only); err != nil {
		return nil, err
	}
	v.notes = append(v.notes, report.BesideTexts(parts, lines)...)
	first := make([]int, len(all)) // the number, in all, of the first visit that each goes with
	for i := range first {
		first[i] = i
	}
	at := func(id int64) int {
		return slices.IndexFunc(all, func(one seasonVisit) bool { return one.line.ID == id })
	}
	for _, b := range parts {
		for _, id := range b.Visits[1:] {
			i, k := first[at(b.Visits[0])], first[at(id)]
			for n := range first {
				if first[n] == max(i, k) {
					first[n] = min(i, k)
				}
			}
		}
	}
	var whole []*survey.Survey
	where := make([]int, len(all))
	for i, one := range all {
		if first[i] == i {
			where[i] = len(whole)
			whole = append(whole, one.counts)
			continue
		}
		k := where[first[i]]
		whole[k] = survey.Joined(whole[k], one.counts, func(name string) string { return fmt.Sprintf("%d-%s", one.line.ID, name) })
	}
	return whole, nil
}

// A fieldWalk is the stops of a visit in a field.
type fieldWalk struct {
	of          int // its number among the visits
	first, last string
	placed      assess.Placed
}

// finishedLater are the visits to a field, each with the next, that are one walk whose other stops
// had to wait: as near in days as no two visits are, at other places, of which one left out much of
// the field, and with no treatment meanwhile. Of one day the season tells itself, but where the
// field has two names; twice are such that are of the same places.
func (v *visits) finishedLater(all []seasonVisit, treated []compare.Treatment, told []season.Beside) (later, twice []season.Beside, err error) {
	known := map[[2]int64]bool{}
	for _, t := range told {
		for _, a := range t.Visits {
			for _, b := range t.Visits {
				known[[2]int64{a, b}] = true
			}
		}
	}
	walks := make([][]fieldWalk, len(v.ground.Fields))
	for n, one := range all {
		placed, _, err := assess.Place(v.ground.Fields, one.counts.Stops)
		if err != nil {
			return nil, nil, err
		}
		for i, p := range placed {
			if first, last := endsOf(p.Stops); first != "" {
				walks[i] = append(walks[i], fieldWalk{n, first, last, p})
			}
		}
	}
	for i, of := range walks {
		slices.SortStableFunc(of, func(a, b fieldWalk) int { return cmp.Compare(a.first, b.first) })
		for k := 1; k < len(of); k++ {
			a, b := of[k-1], of[k]
			pair := []int64{all[a.of].line.ID, all[b.of].line.ID}
			one := season.Beside{Field: v.ground.Fields[i].Name, Date: season.Days(a.first, max(a.last, b.last)), Visits: pair}
			sameDays := a.first == b.first && a.last == b.last
			switch {
			case known[[2]int64{pair[0], pair[1]}]:
				continue
			case b.first <= a.last && !season.Elsewhere(stoodOf(a), stoodOf(b)):
				if sameDays {
					twice = append(twice, one)
				}
				continue
			case !sameDays && !mayBeOne(a, b, treated):
				continue
			}
			both, _, err := assess.Place(v.ground.Fields[i:i+1], slices.Concat(a.placed.Stops, b.placed.Stops))
			if err != nil {
				return nil, nil, err
			}
			if !oneByDays(both[0]) {
				continue
			}
			one.Apart = [][2]int64{{pair[0], pair[1]}}
			of[k] = fieldWalk{b.of, a.first, max(a.last, b.last), both[0]}
			later = append(later, one)
		}
	}
	return later, twice, nil
}

// stoodOf are the stops of a walk as a season has them.
func stoodOf(w fieldWalk) (all []season.Stood) {
	for _, s := range w.placed.Stops {
		all = append(all, season.Stood{At: [2]float64{s.Longitude, s.Latitude}, Name: s.Name, Value: s.Mean()})
	}
	return all
}

// mayBeOne reports whether two walks of a field, the first of which began no later, may be one by
// their days and by how far over the field they went.
func mayBeOne(a, b fieldWalk, treated []compare.Treatment) bool {
	switch {
	case visit.Between(a.last, b.first) >= visit.Settled, visit.Between(a.first, b.last) >= visit.Usual:
		return false
	case a.placed.Layout().Crossed() && b.placed.Layout().Crossed():
		return false
	}
	return !slices.ContainsFunc(treated, func(t compare.Treatment) bool { return a.first <= t.Date && t.Date <= b.last })
}

// endsOf are the first and the last day of stops; "" where none tells its day.
func endsOf(stops []survey.Stop) (first, last string) {
	for _, s := range stops {
		last = max(last, s.Date)
	}
	return firstDay(stops), last
}
