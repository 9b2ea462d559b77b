package assess

import "github.com/geocoris/geocoris/internal/mapping/visit"

// Bounds of a fall that asks for its cause: no pest goes so far so soon by itself, as a rule. Our
// choice, no source.
const (
	fallenWithin = 2  // days
	fallenTo     = 20 // that part of what it was, at the most
)

// A Fallen is a place at the spray level with next to nothing a day or two later.
type Fallen struct {
	Stop           string
	From, To, Days float64 // counts in the field's statistic, both
}

// FellToNothing reports whether counts of one place, so many days apart, are such a fall from the
// spray level.
func FellToNothing(from, to, treatAt, days float64) bool {
	return days > 0 && days <= fallenWithin && from >= treatAt && from > 0 && float64(to*fallenTo) <= from
}

// Fallen are the stops that were counted again with next to nothing, the first counts of which are
// set aside.
func (f *Field) Fallen(s Statistic, treatAt float64) (all []Fallen) {
	for _, stop := range f.Stops {
		if stop.First == nil {
			continue
		}
		days := visit.Between(stop.First.Date, stop.Date)
		if from, ok := s.At(*stop.First); ok && FellToNothing(from, stop.Value, treatAt, days) {
			all = append(all, Fallen{stop.Name, from, stop.Value, days})
		}
	}
	return all
}
