package survey

import (
	"fmt"
	"math"
)

// OutOfPlace is the survey without stops that stand at the place of another, so that nobody
// knows where they were counted: their rows are set aside. before gives the name of that other by
// the key of a stop ([StopKey]). What it was given stays as it is.
func (s *Survey) OutOfPlace(before map[string]string) *Survey {
	return s.setAside(func(stop Stop) func(*Record) Problem {
		first, is := before[StopKey(stop)]
		if !is {
			return nil
		}
		return func(r *Record) Problem { return AtPlaceOf(r, first) }
	})
}

// AtPlaceOf is what is said of a row that has the place of another stop, which it cannot be.
func AtPlaceOf(r *Record, first string) Problem {
	p := Problem{File: r.File, Line: r.Line, Column: colStop.String(), Value: r.Stop}
	return p.refuse(fmt.Sprintf("has the place of stop %s above it: did the phone keep one fix, or was it copied down?", first), "give each stop its own place")
}

// WithoutPlace are the rows of a stop that was counted, nobody knows where.
func (s Stop) WithoutPlace(first string) []Unread {
	rows := make([]Unread, len(s.Records))
	for i := range s.Records {
		r := &s.Records[i]
		rows[i] = Unread{Problem: AtPlaceOf(r, first), Row: *r, Units: r.Units}
		if mean := r.Total / r.Units; !math.IsNaN(mean) { // else plants alone were looked at
			rows[i].Least, rows[i].Most = mean, mean
		}
	}
	return rows
}
