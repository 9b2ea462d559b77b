package assess

import (
	"cmp"
	"slices"
	"strconv"

	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// order is where in a walk a stop was counted: its day and time, "" where no time was
// given, and the number that its name is, -1 where that is none.
type order struct {
	when   string
	number int
}

func orderOf(s *survey.Stop) order {
	o := order{number: -1}
	if n, err := strconv.Atoi(s.Name); err == nil && n >= 0 {
		o.number = n
	}
	if s.Time != "" {
		o.when = s.Date + " " + s.Time
	}
	return o
}

// earlier compares two of a group of stops: by times where all have one, else or of equal
// times by the numbers that are their names; 0 where neither tells. Rows may stand in any
// order.
func (c counted) earlier(group []int) func(a, b int) int {
	timed, numbered := true, true
	for _, i := range group {
		timed, numbered = timed && c.order[i].when != "", numbered && c.order[i].number >= 0
	}
	return func(a, b int) (by int) {
		if timed {
			by = cmp.Compare(c.order[a].when, c.order[b].when)
		}
		if by == 0 && numbered {
			by = cmp.Compare(c.order[a].number, c.order[b].number)
		}
		return by
	}
}

// first is the stop of a group that was counted before all others and stands for them as
// if these were marked as extra: of two honest counts the higher would be too high. It is -1
// where that is not known, or where that stop has less than half of the mean of all: what is
// hot is not hidden by it.
func (c counted) first(group []int) int {
	earlier := c.earlier(group)
	first, alone, sum := group[0], true, c.values[group[0]]
	for _, i := range group[1:] {
		sum += c.values[i]
		switch by := earlier(i, first); {
		case by < 0:
			first, alone = i, true
		case by == 0:
			alone = false
		}
	}
	if !alone || c.values[first] < firstShare*sum/float64(len(group)) {
		return -1
	}
	return first
}

// ranks are the places of all stops in the order in which they were walked; nil where that
// is not known.
func (c counted) ranks() []int {
	all := make([]int, len(c.order))
	for i := range all {
		all[i] = i
	}
	earlier := c.earlier(all)
	slices.SortFunc(all, earlier)
	ranks := make([]int, len(all))
	for rank, i := range all {
		if rank > 0 && earlier(all[rank-1], i) == 0 {
			return nil
		}
		ranks[i] = rank
	}
	return ranks
}
