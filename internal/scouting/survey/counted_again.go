package survey

import (
	"fmt"

	"github.com/geocoris/geocoris/internal/sorted"
)

// CountedAgain is the survey without stops that were counted again on a later day: their rows
// are set aside. day gives that day, "" for stops that stay. What it was given stays as it is.
func (s *Survey) CountedAgain(day func(Stop) string) *Survey {
	return s.setAside(func(stop Stop) func(*Record) Problem {
		later := day(stop)
		if later == "" {
			return nil
		}
		return func(r *Record) Problem { return AgainOn(r, later) }
	})
}

// setAside is the survey without the stops of whose rows something is said, which are set aside
// for that.
func (s *Survey) setAside(of func(Stop) func(*Record) Problem) *Survey {
	out := *s
	out.Stops, out.Problems = nil, append([]Problem(nil), s.Problems...)
	for _, stop := range s.Stops {
		why := of(stop)
		if why == nil {
			out.Stops = append(out.Stops, stop)
			continue
		}
		for i := range stop.Records {
			out.Problems = append(out.Problems, why(&stop.Records[i]))
		}
		out.Tally.Used -= len(stop.Records)
		out.Tally.SetAside += len(stop.Records)
	}
	out.Dates = countedOn(out.Stops)
	order := map[string]int{}
	for i, f := range s.Files {
		order[f] = i
	}
	sorted.Stably(out.Problems, func(a, b Problem) int { return byLine(order, a, b) })
	return &out
}

// AgainOn is what is said of a row that was counted again on a later day.
func AgainOn(r *Record, day string) Problem {
	return Problem{File: r.File, Line: r.Line, Column: colStop.String(), Value: r.Stop}.refuse(
		fmt.Sprintf(countedAgain, day), "to go by this one, leave out the later rows")
}
