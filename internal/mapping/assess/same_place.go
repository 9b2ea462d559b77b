package assess

import (
	"math"
	"slices"

	"github.com/geocoris/geocoris/internal/geometry/nearby"
	"github.com/geocoris/geocoris/internal/scouting/layout"
)

const (
	// sameFix is how far apart in metres stops of other names may be and be one place: what two
	// phones under open sky may disagree by.
	sameFix = 2 * layout.PhoneError
	// mostRound is how many stops are looked at round one; where more stand in a heap, none is
	// told to be the place of another.
	mostRound = 512
)

// onOtherDays gives, for each stop, the stops of other days at its place: those of its name
// within [sameStop] or, where there are none, those as near as phones can tell and less than half
// as far off as any other of their own days. A stop that is marked as extra is of another place
// than those of other names. It is nil where all stops are of one day.
func (p Placed) onOtherDays() [][]int {
	if !p.severalDays() {
		return nil
	}
	others := make([][]int, len(p.Stops))
	cells := nearby.Of(p.at, sameStop)
	own := make([]float64, len(p.Stops)) // metres to the next stop of the day, where that is near
	var near []int
	for i := range p.Stops {
		s := &p.Stops[i]
		own[i] = math.Inf(1)
		near = round(cells, p.at, i, sameStop, near)
		for _, k := range near {
			switch o := &p.Stops[k]; {
			case s.Date == "" || o.Date == "":
			case s.Date != o.Date && s.Name != "" && s.Name == o.Name:
				others[i] = append(others[i], k)
			case s.Date == o.Date && !s.Extra && !o.Extra:
				own[i] = min(own[i], p.apart(i, k))
			}
		}
	}
	p.renamed(cells, own, others)
	return others
}

// renamed adds the stops of other days at the place of those that have none of their name there.
func (p Placed) renamed(cells *nearby.Cells, own []float64, others [][]int) {
	alone := make([]bool, len(p.Stops))
	for i := range p.Stops {
		alone[i] = len(others[i]) == 0 && p.Stops[i].Date != "" && !p.Stops[i].Extra
	}
	var near []int
	for i := range p.Stops {
		if !alone[i] {
			continue
		}
		near = round(cells, p.at, i, sameFix, near)
		for _, k := range near {
			if alone[k] && p.Stops[i].Date != p.Stops[k].Date && 2*p.apart(i, k) < min(own[i], own[k]) {
				others[i] = append(others[i], k)
			}
		}
	}
}

// round are the places no farther than reach from one of them, ascending, without that one; none
// of a heap. The room is that of a list no longer needed.
func round(cells *nearby.Cells, at [][2]float64, i int, reach float64, room []int) []int {
	near, looked := room[:0], 0
	for k := range cells.Near(at[i][0], at[i][1], reach) {
		if looked++; looked > mostRound {
			return near[:0]
		}
		if k != i && math.Hypot(at[i][0]-at[k][0], at[i][1]-at[k][1]) <= reach {
			near = append(near, k)
		}
	}
	slices.Sort(near)
	return near
}

func (p Placed) severalDays() bool {
	first := ""
	for i := range p.Stops {
		day := p.Stops[i].Date
		if first != "" && day != "" && day != first {
			return true
		}
		if first == "" {
			first = day
		}
	}
	return false
}

// apart is how far two stops lie apart, in metres.
func (p Placed) apart(i, k int) float64 {
	return math.Hypot(p.at[i][0]-p.at[k][0], p.at[i][1]-p.at[k][1])
}
