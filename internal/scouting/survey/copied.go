//go:build !small

package survey

import (
	"fmt"
	"math"
)

// What was put into a table twice, or given in two files, is known by its places: a copy has
// the place to the last digit and the counts, whatever was done to its order, names and
// notes. Two leaves of a stop may be alike by chance, so of the places with as many rows
// more have to be copies than not, and all where counts are classes, which are often alike.

// leastCopied is how many places are copies, and how many different sums they have: no walk
// is alike in all that by chance.
const leastCopied = 5

// visited is what the rows of one visit share.
type visited struct {
	lon, lat       float64
	date, observer string
}

// entered is what a row and its copy have in common.
type entered struct {
	total, units      float64
	plant, leaf, time string
}

func enteredOn(r *Record) entered { return entered{r.Total, r.Units, r.Plant, r.Leaf, r.Time} }

// copies are the places of a survey by how many rows they have.
type copies struct {
	records       []Record
	places        [][]int
	times         []int       // that all rows of a place are there
	again, others map[int]int // places with anything on them that are copies, and that are not
	classes       bool
	alone         int // places of one row
	repeated      int // rows that were dropped before, as one alike is there
}

func copiesOf(records []Record) copies {
	c := copies{records: records, again: map[int]int{}, others: map[int]int{}}
	c.places = gathered(records, func(r *Record) visited { return visited{r.Longitude, r.Latitude, r.Date, r.Observer} })
	c.times = make([]int, len(c.places))
	for i, at := range c.places {
		n := len(at)
		if c.times[i] = c.timesAt(at); n == 1 {
			c.alone++
		} else if c.times[i] > 1 && c.sum(at) > 0 {
			c.again[n]++
		} else if c.times[i] == 1 {
			c.others[n]++
		}
	}
	return c
}

func (c *copies) sum(at []int) (sum float64) {
	for _, i := range at {
		sum += c.records[i].Total
	}
	return sum
}

// timesAt is how often the rows of a place are there: the fewest equal parts, above one, that
// have the same rows in whatever order; 1 for none.
func (c *copies) timesAt(at []int) int {
	sum := c.sum(at)
	for k := 2; k <= len(at); k++ {
		n := len(at) / k
		if len(at)%k == 0 && math.Abs(sum-float64(k)*c.sum(at[:n])) <= 1e-9*sum && c.alike(at, n) {
			return k
		}
	}
	return 1
}

// alike reports whether each n rows of a place are the same.
func (c *copies) alike(at []int, n int) bool {
	left := map[entered]int{}
	for j, i := range at {
		r := &c.records[i]
		if math.IsNaN(r.Total) {
			return false
		}
		c.classes = c.classes || r.Low != r.High
		if j%n == 0 && j > n {
			for _, i := range at[:n] {
				left[enteredOn(&c.records[i])]++
			}
		}
		if j < n {
			left[enteredOn(r)]++
		} else if left[enteredOn(r)]--; left[enteredOn(r)] < 0 {
			return false
		}
	}
	return true
}

// mostly reports whether of the places with so many rows most are copies.
func (c *copies) mostly(rows int) bool {
	return c.again[rows] > c.others[rows] && (!c.classes || c.others[rows] == 0)
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

// odd reports whether a place has two rows, which do not stand together, where most have one;
// rows of two files only where others were there twice too.
func (c *copies) odd(at []int) bool {
	if len(at) != 2 || at[1] == at[0]+1 || 2*c.alone <= len(c.places) {
		return false
	}
	return c.repeated >= leastCopied || c.records[at[0]].File == c.records[at[1]].File
}

// withoutCopies sets copies aside, and names stops that are there twice with different counts:
// among copies, or by themselves where most places have one row.
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
			for j := n / c.times[i]; j < n; j++ {
				copied[at[j]] = 1 + at[j%(n/c.times[i])]
			}
		case amongCopies, c.odd(at) && c.times[i] == 1:
			b.twice(&records[at[0]], &records[at[(n+1)/2]])
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
			"the same row as "+place{first.File, first.Line}.from(records[i].File)+" once more", "drop one of the two, or number plants and leaves"))
	}
	b.survey.Tally.SetAside += len(records) - len(kept)
	return kept
}

func again(r *Record) Problem {
	return Problem{File: r.File, Line: r.Line, Column: colStop.String(), Value: r.Stop}
}

// twice names a stop with two counts, of one time as far as its rows tell.
func (b *builder) twice(first, then *Record) {
	if first.Stop != then.Stop || first.Time != then.Time && first.Time != "" && then.Time != "" {
		return
	}
	b.survey.Twice = append(b.survey.Twice, Twice{first.Stop, again(first).Place(), again(then).Place(), first.File, first.Line})
	b.survey.Problems = append(b.survey.Problems, again(then).doubt(
		fmt.Sprintf("stands on %s too with another count, and both are used", place{first.File, first.Line}.from(then.File)), "take out the one that is wrong"))
}
