package survey

import (
	"fmt"
	"math"
	"slices"

	"github.com/geocoris/geocoris/internal/sorted"
)

// A Stop is a place where somebody counted, with all its rows put together.
type Stop struct {
	Name      string
	Longitude float64 // degrees, mean of its rows
	Latitude  float64
	Total     float64 // counted on all units; NaN where a row was not counted
	Units     float64 // leaves, or what else was counted on
	Plants    int     // looked at: names of plants in its rows and those that a column tells; 0 where none does
	Date      string  // of its first row that tells; "" for none
	Time      string  // of the day, as hh:mm, the earliest of its rows; "" for none
	Until     string  // the latest
	Observer  string
	Stage     string
	Extra     bool    // an extra stop: the field's mean is of the others
	Planned   bool    // marked as a planned stop, which stands for its place
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
		case r.Units == 1 && r.Total >= tally:
			over++
		case tally <= 1 && !math.IsNaN(r.Infested):
			over += r.Infested
		default:
			return 0, false
		}
	}
	return over / s.Units, s.Units > 0
}

// TakenAsOne reports that the stop is one row, of which nothing tells on how many leaves
// it was counted, so that it was taken as one.
func (s Stop) TakenAsOne() bool { return len(s.Records) == 1 && s.Records[0].Looked.Assumed }

// gather puts the rows of each stop together, in the order of first appearance.
// Rows of one name on two days, or far apart, are two stops; so are rows of two
// files of which neither tells the day, or in which the name stands for two places.
func gather(records []Record) (stops []Stop, problems []Problem) {
	var rows [][]int // of each stop, in their order
	for _, named := range gathered(records, nameOf) {
		if onePlace(records, named) {
			rows = append(rows, named)
			continue
		}
		first := &records[named[0]]
		ofPlace := map[int]int{} // place → its stop
		places := places(records, named)
		for _, i := range named {
			n, known := ofPlace[places[i]]
			if !known {
				n = len(rows)
				if i != named[0] && records[i].File == first.File {
					problems = append(problems, elsewhere(&records[i], first))
				}
				ofPlace[places[i]] = n
				rows = append(rows, nil)
			}
			rows[n] = append(rows[n], i)
		}
	}
	sorted.By(rows, func(a, b []int) int { return a[0] - b[0] })
	stops = slices.Grow(stops, len(rows))
	for number, of := range rows {
		s := newStop(&records[of[0]], number)
		s.Records = picked(records, of)
		s.sum()
		stops = append(stops, s)
	}
	return stops, problems
}

// picked are the records at the places given, ascending. Those that stand together,
// as a stop's rows mostly do, are not copied.
func picked(records []Record, at []int) []Record {
	from, to := at[0], at[len(at)-1]+1
	if to-from == len(at) {
		return records[from:to:to]
	}
	out := make([]Record, 0, len(at))
	for _, i := range at {
		out = append(out, records[i])
	}
	return out
}

// gathered puts together the rows that are alike in what of tells, in order of first appearance.
func gathered[K comparable](records []Record, of func(*Record) K) (rows [][]int) {
	numbers := map[K]int{}
	numberOf := make([]int, len(records))
	var counts []int
	var last K
	for i := range records {
		name := of(&records[i])
		if i > 0 && name == last { // rows of a stop mostly stand together
			numberOf[i] = numberOf[i-1]
			counts[numberOf[i]]++
			continue
		}
		n, known := numbers[name]
		if !known {
			n = len(counts)
			numbers[name] = n
			counts = append(counts, 0)
		}
		numberOf[i], last = n, name
		counts[n]++
	}
	return indexesOf(numberOf, counts)
}

// indexesOf lists the indexes that hold each number, from how often each is there.
func indexesOf(numbers, counts []int) [][]int {
	spare := make([]int, len(numbers))
	groups := make([][]int, len(counts))
	for n, count := range counts {
		groups[n], spare = spare[:0:count], spare[count:]
	}
	for i, n := range numbers {
		groups[n] = append(groups[n], i)
	}
	return groups
}

func nameOf(r *Record) stopName {
	n := stopName{name: r.Stop, date: r.Date}
	if r.Stop == "" {
		n.lon, n.lat = r.Longitude, r.Latitude
	}
	if r.Date == "" {
		n.file = r.File
	}
	return n
}

type stopName struct {
	name, date, file string
	lon, lat         float64 // where the name is the position
}

func elsewhere(r, first *Record) Problem {
	return Problem{File: r.File, Line: r.Line, Column: "stop", Value: r.Stop}.doubt(
		fmt.Sprintf("lies %.0f m from the stop of that name on line %d; taken as a stop of its own", pointOf(first).distance(pointOf(r)), first.Line),
		"give each place a name of its own")
}

func newStop(r *Record, number int) Stop {
	s := Stop{Name: r.Stop, Accuracy: math.NaN()}
	if s.Name == "" {
		s.Name = fmt.Sprint(number + 1)
	}
	return s
}

func (s *Stop) sum() {
	var lon, lat float64
	for i := range s.Records {
		r := &s.Records[i]
		s.Total += r.Total
		s.Units += r.Units
		// From the first row, so that rows at one place keep it to the bit.
		lon += math.Remainder(r.Longitude-s.Records[0].Longitude, 360)
		lat += r.Latitude - s.Records[0].Latitude
		s.Date, s.Observer, s.Stage = first(s.Date, r.Date), first(s.Observer, r.Observer), first(s.Stage, r.Stage)
		s.Extra, s.Planned = s.Extra || r.Extra, s.Planned || r.Planned
		if r.Time != "" && (s.Time == "" || r.Time < s.Time) {
			s.Time = r.Time
		}
		s.Until = max(s.Until, r.Time)
		s.Accuracy = larger(s.Accuracy, r.Accuracy)
	}
	n := float64(len(s.Records))
	s.Plants = PlantsOf(s.Records)
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

// larger passes over what is not given.
func larger(a, b float64) float64 {
	if math.IsNaN(a) || b > a {
		return b
	}
	return a
}

// StopKey tells a stop from all others of a survey: by its first row.
func StopKey(s Stop) string { return fmt.Sprintf("%s:%d", s.Records[0].File, s.Records[0].Line) }

// WithDays is a survey with days, ISO 8601, for the stops that tell none; day is "" for
// those of which none is known. What it was given stays as it is.
func (s *Survey) WithDays(day func(Stop) string) *Survey {
	out := *s
	out.Stops = slices.Clone(s.Stops)
	for i, stop := range s.Stops {
		known := day(stop)
		if known == "" || stop.Date != "" {
			continue
		}
		out.Stops[i].Date = known
		out.Stops[i].Records = slices.Clone(stop.Records)
		for k := range out.Stops[i].Records {
			out.Stops[i].Records[k].Date = known
		}
	}
	out.Dates = countedOn(out.Stops)
	return &out
}

// countedOn are the days on which stops were counted, each once, sorted.
func countedOn(stops []Stop) []string {
	var dates []string
	for _, stop := range stops {
		for _, r := range stop.Records {
			if r.Date != "" {
				dates = append(dates, r.Date)
			}
		}
	}
	slices.Sort(dates)
	return slices.Compact(dates)
}
