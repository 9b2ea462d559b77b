//go:build !small

package survey

import (
	"fmt"
	"math"
	"slices"
)

// What was put into a table twice, or given in two files, is known by its places: a copy has
// the place to the last digit and all that was counted, whatever was done to its order, names
// and notes. Two leaves of a stop may be alike by chance, and the halves of a plant often are:
// rows that stand together tell of no copies, of the places with as many other rows four in
// five have to be copies, and all where counts are classes, which are often alike.

// leastCopied is how many places are copies, and how many different sums they have: no walk
// is alike in all that by chance.
const leastCopied = 5

// visited is what the rows of one visit share.
type visited struct {
	lon, lat       float64
	date, observer string
}

// entered is what a row and its copy have in common: all that was counted.
type entered struct {
	numbers                   [7]uint64 // bits, as what is not a number is no key
	plant, leaf, time         string
	over                      string
	honeydew, colonies        string
	predators, mummies, stage string
	extra, planned            bool
}

func (c *copies) enteredOn(r *Record) entered {
	r = c.told.of(r)
	e := entered{plant: r.Plant, leaf: r.Leaf, time: r.Time, stage: r.Stage, extra: r.Extra, planned: r.Planned}
	numbers := [7]float64{r.Total, r.Low, r.High, r.Units, r.Infested}
	if seen := r.Seen; seen != nil {
		numbers[5], numbers[6], e.over = seen.Plants, seen.Over, seen.AtOrAbove
		e.honeydew, e.colonies, e.predators, e.mummies = seen.Honeydew.Text, seen.Colonies.Text, seen.Predators.Text, seen.Mummies.Text
	}
	for i, v := range numbers {
		e.numbers[i] = math.Float64bits(v)
	}
	return e
}

// copies are the places of a survey by how many rows they have.
type copies struct {
	records       []Record
	places        [][]int
	times         []int       // that all rows of a place are there
	again, others map[int]int // places with anything on them that are copies, and that are not
	pasted        map[int]int // how often all copies are there
	classes       bool
	alone         int // places of one row
	repeated      int // rows that were dropped before, as one alike is there
	told          told
	below         bool // a second table stands below the first
}

func copiesOf(records []Record) copies {
	c := copies{records: records, again: map[int]int{}, others: map[int]int{}, pasted: map[int]int{}}
	c.told = toldOf(records)
	c.places = gathered(records, func(r *Record) visited {
		r = c.told.of(r)
		return visited{r.Longitude, r.Latitude, r.Date, r.Observer}
	})
	c.times = make([]int, len(c.places))
	for i, at := range c.places {
		n := len(at)
		c.times[i] = c.timesAt(at)
		if c.times[i] > 1 { // more where leaves are alike besides
			c.pasted[n] = commonDivisor(c.pasted[n], c.times[i])
		}
		switch {
		case n == 1:
			c.alone++
		case at[n-1] == at[0]+n-1: // they stand together
		case c.times[i] > 1 && c.sum(at) > 0:
			c.again[n]++
		case c.times[i] == 1:
			c.others[n]++
		}
	}
	c.below = c.second()
	return c
}

func (c *copies) sum(at []int) (sum float64) {
	for _, i := range at {
		sum += c.records[i].Total
	}
	return sum
}

// timesAt is how often the rows of a place are there, in whatever order: how often each is,
// divided by the same number for all; 1 where they were not counted.
func (c *copies) timesAt(at []int) (times int) {
	if c.onceThere(at) {
		return 1
	}
	for _, n := range c.rowsAt(at) {
		times = commonDivisor(times, n)
	}
	return times
}

// commonDivisor is the greatest of two numbers; 0 has any.
func commonDivisor(a, b int) int {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

// rowsAt is how often each row of a place is there.
func (c *copies) rowsAt(at []int) map[entered]int {
	rows := map[entered]int{}
	for _, i := range at {
		rows[c.enteredOn(&c.records[i])]++
	}
	return rows
}

// onceThere reports whether a place has a total that no other of its first rows has, or that
// was not counted: so it is with most leaves, and nothing more has to be compared.
func (c *copies) onceThere(at []int) bool {
	const looked = 20 // rows
	for _, i := range at[:min(len(at), looked)] {
		r := &c.records[i]
		c.classes = c.classes || r.Low != r.High
		if math.IsNaN(r.Total) || !slices.ContainsFunc(at, func(j int) bool { return j != i && c.records[j].Total == r.Total }) {
			return true
		}
	}
	return false
}

// mostly reports whether of the places with so many rows nearly all are copies.
func (c *copies) mostly(rows int) bool {
	return c.again[rows] > 4*c.others[rows] && (!c.classes || c.others[rows] == 0)
}

// found reports whether so many places are copies that it is no chance.
func (c *copies) found() bool {
	sums, n := map[float64]bool{}, 0
	for i, at := range c.places {
		if c.times[i] > 1 && c.mostly(len(at)) {
			sums[c.sum(at)] = true
			n++
		}
	}
	return n >= leastCopied && len(sums) >= leastCopied
}

// second reports whether nearly all places have one row, or two of which all second ones stand
// below all first ones, as where a second table was put under the first; where most places have
// two, such rows would else be leaves in whatever order.
func (c *copies) second() bool {
	pairs, first, second := 0, 0, len(c.records)
	for _, at := range c.places {
		if len(at) == 2 {
			pairs, first, second = pairs+1, max(first, at[0]), min(second, at[1])
		}
	}
	return pairs >= leastCopied && first < second && 5*(c.alone+pairs) >= 4*len(c.places)
}

// odd reports whether a place has two rows, which do not stand together, where most have one or
// a second table stands below the first; rows of two files only where others were there twice
// too.
func (c *copies) odd(at []int) bool {
	if len(at) != 2 || at[1] == at[0]+1 || 2*c.alone <= len(c.places) && !c.below {
		return false
	}
	return c.repeated >= leastCopied || c.records[at[0]].File == c.records[at[1]].File
}

// withoutCopies sets copies aside, and names stops that are there twice with different counts:
// among copies, or by themselves where rows alone tell so ([copies.odd]).
func (b *builder) withoutCopies(records []Record) []Record {
	c := copiesOf(records)
	c.repeated = b.repeated
	if len(c.places) == len(records) {
		return records
	}
	found := c.found()
	copied := make([]int, len(records)) // the line that each is a copy of
	for i, at := range c.places {
		n := len(at)
		switch amongCopies := found && c.mostly(n); {
		case n == 1:
		case amongCopies && c.times[i] > 1:
			c.dropped(at, c.pasted[n], copied)
		case amongCopies, c.odd(at) && c.times[i] == 1:
			b.twice(c.unlike(at))
		}
	}
	if !found {
		return records
	}
	kept := make([]Record, 0, len(records))
	for i := range records {
		if copied[i] == 0 {
			kept = append(kept, records[i])
			continue
		}
		first := &records[copied[i]-1]
		b.survey.Problems = append(b.survey.Problems, again(&records[i]).refuse(
			fmt.Sprintf(sameRow, place{first.File, first.Line}.from(records[i].File)), "drop one of the two, or number plants and leaves"))
	}
	b.survey.Tally.SetAside += len(records) - len(kept)
	return kept
}

// dropped notes for the copies among the rows of a place the line, from 1, of the first alike.
func (c *copies) dropped(at []int, times int, copied []int) {
	rows, seen, first := c.rowsAt(at), map[entered]int{}, map[entered]int{}
	at = slices.Clone(at)
	slices.SortStableFunc(at, func(i, j int) int { return c.records[j].tells() - c.records[i].tells() }) // those that tell more stay
	for _, i := range at {
		e := c.enteredOn(&c.records[i])
		if seen[e]++; seen[e] == 1 {
			first[e] = i
		}
		if seen[e] > rows[e]/times {
			copied[i] = 1 + first[e]
		}
	}
}

// unlike are the first and the last row of a place that have none alike; of one alone, it and
// the first of the others; else the first and the last of all.
func (c *copies) unlike(at []int) (first, last *Record) {
	rows := c.rowsAt(at)
	pair := slices.DeleteFunc(slices.Clone(at), func(i int) bool { return rows[c.enteredOn(&c.records[i])] > 1 })
	switch {
	case len(pair) == 0:
		pair = at
	case len(pair) == 1 && pair[0] == at[0]:
		pair = at[:2]
	case len(pair) == 1:
		pair = []int{at[0], pair[0]}
	}
	return &c.records[pair[0]], &c.records[pair[len(pair)-1]]
}

func again(r *Record) Problem {
	return Problem{File: r.File, Line: r.Line, Column: colStop.String(), Value: r.Stop}
}

// twice names a stop with two counts, of one time as far as its rows tell.
func (b *builder) twice(first, then *Record) {
	if first.Stop != then.Stop || first.Plant != then.Plant || first.Leaf != then.Leaf || first.Extra != then.Extra || first.Time != then.Time && first.Time != "" && then.Time != "" {
		return
	}
	b.survey.Twice = append(b.survey.Twice, Twice{first.Stop, again(first).Place(), again(then).Place(), first.File, first.Line})
	b.survey.Problems = append(b.survey.Problems, again(then).doubt(
		fmt.Sprintf(otherRow, place{first.File, first.Line}.from(then.File)), "take out the one that is wrong"))
}
