package assess

import (
	"math"

	"github.com/geocoris/geocoris/internal/scouting/layout"
)

const (
	// sameFix is how far apart in metres stops of other names may be and be one place: what two
	// phones under open sky may disagree by.
	sameFix = 2 * layout.PhoneError
	// mostInCell is how many stops of a cell of sameStop are told apart; of more, each lies
	// nearer to others of its day than phones can tell.
	mostInCell = 64
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
	named := map[string][]int{}
	for i := range p.Stops {
		if s := &p.Stops[i]; s.Date != "" && s.Name != "" {
			named[s.Name] = append(named[s.Name], i)
		}
	}
	for _, all := range named {
		for _, i := range all {
			for _, k := range all {
				if p.Stops[i].Date != p.Stops[k].Date && p.apart(i, k) <= sameStop {
					others[i] = append(others[i], k)
				}
			}
		}
	}
	p.renamed(others)
	return others
}

// renamed adds the stops of other days at the place of those that have none of their name there.
func (p Placed) renamed(others [][]int) {
	cells := map[[2]int][]int{}
	cell := func(i int) [2]int {
		return [2]int{int(math.Floor(p.at[i][0] / sameStop)), int(math.Floor(p.at[i][1] / sameStop))}
	}
	for i := range p.Stops {
		if s := &p.Stops[i]; s.Date != "" && !s.Extra {
			cells[cell(i)] = append(cells[cell(i)], i)
		}
	}
	around := func(i int, f func(k int)) {
		c := cell(i)
		for x := c[0] - 1; x <= c[0]+1; x++ {
			for y := c[1] - 1; y <= c[1]+1; y++ {
				if in := cells[[2]int{x, y}]; len(in) <= mostInCell {
					for _, k := range in {
						f(k)
					}
				}
			}
		}
	}
	own := make([]float64, len(p.Stops)) // metres to the next stop of the day
	alone := make([]bool, len(p.Stops))  // no stop of another day is there by its name
	for i := range p.Stops {
		own[i], alone[i] = math.Inf(1), len(others[i]) == 0
		if s := &p.Stops[i]; s.Date == "" || s.Extra {
			continue
		}
		around(i, func(k int) {
			if k != i && p.Stops[i].Date == p.Stops[k].Date {
				own[i] = min(own[i], p.apart(i, k))
			}
		})
	}
	for _, in := range cells {
		if len(in) > mostInCell {
			continue
		}
		for _, i := range in {
			around(i, func(k int) {
				if d := p.apart(i, k); alone[i] && alone[k] && p.Stops[i].Date != p.Stops[k].Date && d <= sameFix && 2*d < min(own[i], own[k]) {
					others[i] = append(others[i], k)
				}
			})
		}
	}
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
