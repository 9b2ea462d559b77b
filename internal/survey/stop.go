package survey

import (
	"fmt"
	"math"
)

// apart is how far in metres two rows of one stop may lie from one another: more
// is another place under the same name. It is three times what two phones may
// disagree by.
const apart = 30

// A Stop is a place where somebody counted, with all its rows put together.
type Stop struct {
	Name      string
	Longitude float64 // degrees, mean of its rows
	Latitude  float64
	Total     float64 // counted on all units
	Units     float64 // leaves, or what else was counted on
	Date      string  // of its first row that tells; "" for none
	Time      string
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
// Rows of one name on two days, or far apart, are two stops.
func gather(records []Record) (stops []Stop, problems []Problem) {
	type key struct{ name, date string }
	known := map[key][]int{} // stops under a name, of a day
	for _, r := range records {
		k := key{r.Stop, r.Date}
		if r.Stop == "" {
			k.name = fmt.Sprint(r.Longitude, r.Latitude)
		}
		at := -1
		for _, i := range known[k] {
			if distance(stops[i].Records[0], r) <= apart {
				at = i
				break
			}
		}
		if at < 0 {
			if n := len(known[k]); n > 0 {
				first := stops[known[k][0]].Records[0]
				problems = append(problems, Problem{File: r.File, Line: r.Line, Column: "stop", Value: r.Stop}.doubt(
					fmt.Sprintf("lies %.0f m from the stop of that name on line %d; taken as a stop of its own", distance(first, r), first.Line),
					"give each place a name of its own"))
			}
			at = len(stops)
			known[k] = append(known[k], at)
			stops = append(stops, newStop(r, at))
		}
		stops[at].Records = append(stops[at].Records, r)
	}
	for i := range stops {
		stops[i].sum()
	}
	return stops, problems
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
	for _, r := range s.Records {
		s.Total += r.Total
		s.Units += r.Units
		// From the first row, so that rows at one place keep it to the bit.
		lon += r.Longitude - s.Records[0].Longitude
		lat += r.Latitude - s.Records[0].Latitude
		s.Date, s.Time = first(s.Date, r.Date), first(s.Time, r.Time)
		s.Observer, s.Stage = first(s.Observer, r.Observer), first(s.Stage, r.Stage)
		s.Accuracy = larger(s.Accuracy, r.Accuracy)
	}
	n := float64(len(s.Records))
	s.Longitude, s.Latitude = s.Records[0].Longitude+lon/n, s.Records[0].Latitude+lat/n
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

// distance is in metres and good to a per cent over some kilometres, enough to
// tell one place from another: degrees of latitude are 111.2 km on a sphere of
// 6371 km.
func distance(a, b Record) float64 {
	const perDegree = 6371e3 * math.Pi / 180
	dy := (b.Latitude - a.Latitude) * perDegree
	dx := math.Remainder(b.Longitude-a.Longitude, 360) * perDegree * math.Cos(a.Latitude*math.Pi/180)
	return math.Hypot(dx, dy)
}
