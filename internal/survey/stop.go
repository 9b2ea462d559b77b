package survey

import (
	"fmt"
	"math"
	"slices"
)

// A Stop is a place where somebody counted, with all its rows put together.
type Stop struct {
	Name      string
	Longitude float64 // degrees, mean of its rows
	Latitude  float64
	Total     float64 // counted on all units
	Units     float64 // leaves, or what else was counted on
	Plants    int     // names of plants in its rows; 0 where none tells
	Date      string  // of its first row that tells; "" for none
	Time      string  // of the day, as hh:mm, the earliest of its rows; "" for none
	Until     string  // the latest
	Observer  string
	Stage     string
	Accuracy  float64 // metres, the worst of its rows; NaN where none tells
	Records   []Record
}

// Mean is the count per unit: Σ counts / Σ units.
func (s Stop) Mean() float64 { return s.Total / s.Units }

// Share is the part, 0 to 1, of the stop's units with at least tally on them;
// tally is above 0. ok is false where the rows do not tell: where several units
// were counted together and may lie on either side.
func (s Stop) Share(tally float64) (share float64, ok bool) {
	var over float64
	for _, r := range s.Records {
		switch {
		case r.Total < tally: // none of its units can have so many
		case r.Units == 1:
			over++
		case tally <= 1 && !math.IsNaN(r.Infested):
			over += r.Infested
		default:
			return 0, false
		}
	}
	return over / s.Units, s.Units > 0
}

// gather puts the rows of each stop together, in the order of first appearance.
// Rows of one name on two days, or far apart, are two stops; so are rows of two
// files of which neither tells the day, or in which the name stands for two places.
func gather(records []Record) (stops []Stop, problems []Problem) {
	names, order := byName(records)
	var rows [][]int // of each stop, in their order
	for _, name := range order {
		ofPlace := map[int]int{} // place → its stop
		places := places(records, names[name])
		for _, i := range names[name] {
			n, known := ofPlace[places[i]]
			if !known {
				n = len(rows)
				if first := names[name][0]; i != first && records[i].File == records[first].File {
					problems = append(problems, elsewhere(records[i], records[first]))
				}
				ofPlace[places[i]] = n
				rows = append(rows, nil)
			}
			rows[n] = append(rows[n], i)
		}
	}
	slices.SortFunc(rows, func(a, b []int) int { return a[0] - b[0] })
	for number, of := range rows {
		s := newStop(records[of[0]], number)
		s.Records = make([]Record, 0, len(of))
		for _, i := range of {
			s.Records = append(s.Records, records[i])
		}
		s.sum()
		stops = append(stops, s)
	}
	return stops, problems
}

// byName gathers the rows under each name and day, in order of first appearance.
func byName(records []Record) (rows map[stopName][]int, order []stopName) {
	rows = map[stopName][]int{}
	for i, r := range records {
		k := stopName{name: r.Stop, date: r.Date}
		if r.Stop == "" {
			k.lon, k.lat = r.Longitude, r.Latitude
		}
		if r.Date == "" {
			k.file = r.File
		}
		if _, known := rows[k]; !known {
			order = append(order, k)
		}
		rows[k] = append(rows[k], i)
	}
	return rows, order
}

type stopName struct {
	name, date, file string
	lon, lat         float64 // where the name is the position
}

func elsewhere(r, first Record) Problem {
	return Problem{File: r.File, Line: r.Line, Column: "stop", Value: r.Stop}.doubt(
		fmt.Sprintf("lies %.0f m from the stop of that name on line %d; taken as a stop of its own", pointOf(first).distance(pointOf(r)), first.Line),
		"give each place a name of its own")
}

func newStop(r Record, number int) Stop {
	s := Stop{Name: r.Stop, Accuracy: math.NaN()}
	if s.Name == "" {
		s.Name = fmt.Sprint(number + 1)
	}
	return s
}

func (s *Stop) sum() {
	var lon, lat float64
	plants := map[string]bool{}
	for _, r := range s.Records {
		s.Total += r.Total
		s.Units += r.Units
		// From the first row, so that rows at one place keep it to the bit.
		lon += math.Remainder(r.Longitude-s.Records[0].Longitude, 360)
		lat += r.Latitude - s.Records[0].Latitude
		s.Date, s.Observer, s.Stage = first(s.Date, r.Date), first(s.Observer, r.Observer), first(s.Stage, r.Stage)
		if r.Time != "" && (s.Time == "" || r.Time < s.Time) {
			s.Time = r.Time
		}
		s.Until = max(s.Until, r.Time)
		s.Accuracy = larger(s.Accuracy, r.Accuracy)
		if r.Plant != "" {
			plants[r.Plant] = true
		}
	}
	n := float64(len(s.Records))
	s.Plants = len(plants)
	s.Longitude, s.Latitude = s.Records[0].Longitude+lon/n, s.Records[0].Latitude+lat/n
	if math.Abs(s.Longitude) > 180 {
		s.Longitude = math.Remainder(s.Longitude, 360)
	}
}

func first(a, b string) string {
	if a != "" {
		return a
	}
	return b
}

// larger passes over what is not told.
func larger(a, b float64) float64 {
	if math.IsNaN(a) || b > a {
		return b
	}
	return a
}
