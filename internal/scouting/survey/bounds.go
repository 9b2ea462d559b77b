package survey

import "slices"

// Least is the stop as if every row held the least that it may, see [Record]: the
// lower end of a class, of a corrected estimate the lower end of what it stands for.
// What was counted exactly stays.
func (s Stop) Least() Stop { return s.with(func(r *Record) float64 { return r.Low }) }

// Most is the stop as if every row held the most that it may.
func (s Stop) Most() Stop { return s.with(func(r *Record) float64 { return r.High }) }

// Bounds are the least and the most that the mean per unit may be, by the width of
// classes and the correction by observer alone: how much few leaves say of a place
// comes on top. All rows are taken to err the same way, so classes bound the mean
// safely and not narrowly. Both are the mean where every row was counted exactly.
func (s Stop) Bounds() (low, high float64) { return s.Least().Mean(), s.Most().Mean() }

// with is the stop with other counts; what it was given stays as it is.
func (s Stop) with(total func(*Record) float64) Stop {
	given := s.Records
	s.Total = 0
	for i := range given {
		of := total(&given[i])
		s.Total += of
		if of == given[i].Total { // most rows were counted exactly
			continue
		}
		if &s.Records[0] == &given[0] {
			s.Records = slices.Clone(given)
		}
		s.Records[i].Total = of
	}
	return s
}
