package survey

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/geocoris/geocoris/internal/language/vocabulary"
)

// A stop is doubted whose leaves are so many times the median of all, or as few:
// most often a 0 too many or too few was typed. Where more than one in mostOdd of the stops
// differ so, they do by design, and of two stops nobody can say which. Our choices, no
// source.
const (
	oddTimes      = 5
	leastOfOthers = 2
	mostOdd       = 4
)

// OddUnits is a stop of which far more or far fewer leaves are told than of the others; the
// mean of the stop is off as many times if that is a slip.
type OddUnits struct {
	Stop  Stop
	Usual float64 // median of all stops
}

// More reports that the leaves are too many rather than too few.
func (o OddUnits) More() bool { return o.Stop.Units > o.Usual }

// What is said of the stop, behind its name, and Fix how to fix it.
func (o OddUnits) What() (what, fix string) {
	if o.More() {
		return fmt.Sprintf("has %s, most others about %g: is there a 0 too many?", o.looked(), o.UsualThings()), fixOddUnits
	}
	return fmt.Sprintf("has %s, most others about %g: is a 0 missing?", o.looked(), o.UsualThings()), fixOddUnits
}

const fixOddUnits = "check how many were looked at"

// Of is what the stop was counted on: a leaf where nothing tells.
func (s Stop) Of() vocabulary.Unit { return vocabulary.UnitOf(s.Records[0].Looked.Of) }

// Things is how many leaves, or what else it was counted on, the stop has.
func (o OddUnits) Things() float64 { return o.Stop.Units * float64(o.Stop.Of().Size) }

// UsualThings are those of most others.
func (o OddUnits) UsualThings() float64 { return o.Usual * float64(o.Stop.Of().Size) }

func (o OddUnits) looked() string {
	n := 2
	if o.Things() == 1 {
		n = 1
	}
	return fmt.Sprintf("%g %s", o.Things(), vocabulary.English.Things(n, o.Stop.Of().Thing))
}

// OddNotes are the stops of odd leaves on one line each for more and fewer; none without any.
func (s *Survey) OddNotes() (notes []string) {
	for _, more := range []bool{true, false} {
		var at []string
		many := ""
		for _, o := range s.Odd {
			if o.More() == more {
				at, many = append(at, fmt.Sprintf("%s (stop %s, %s)", StopKey(o.Stop), o.Stop.Name, o.looked())), vocabulary.English.Things(2, o.Stop.Of().Thing)
			}
		}
		doubt := fmt.Sprintf("far fewer %s than at most other stops: is a 0 missing?", many)
		if more {
			doubt = fmt.Sprintf("far more %s than at most other stops: a 0 too many?", many)
		}
		if len(at) > 0 {
			notes = append(notes, strings.Join(at, ", ")+": "+doubt)
		}
	}
	return notes
}

// oddUnits are the stops of odd leaves, in their order; none where they are too many for a
// slip. A single one is never too many. A stop of few leaves with rows that were not read has
// few by these.
func oddUnits(stops []Stop, unread []Unread) (odd []OddUnits) {
	var units []float64
	for _, s := range stops {
		if !math.IsNaN(s.Total) { // else plants were looked at, and nothing counted on leaves
			units = append(units, s.Units)
		}
	}
	if len(units) <= leastOfOthers {
		return nil
	}
	slices.Sort(units)
	usual := median(units)
	type name struct{ file, stop string }
	lacks := map[name]bool{}
	for _, u := range unread {
		lacks[name{u.File, u.Row.Stop}] = true
	}
	for _, s := range stops {
		if s.Units < usual && lacks[name{s.Records[0].File, s.Records[0].Stop}] {
			continue
		}
		if odds := s.Units >= oddTimes*usual || oddTimes*s.Units <= usual; odds && !math.IsNaN(s.Total) {
			odd = append(odd, OddUnits{s, usual})
		}
	}
	if len(odd) > max(1, len(units)/mostOdd) {
		return nil
	}
	return odd
}

// median of sorted values, one at least.
func median(all []float64) float64 { return (all[(len(all)-1)/2] + all[len(all)/2]) / 2 }
