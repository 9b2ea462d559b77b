package season

import "slices"

// A Beside is a field of which several visits tell on one day: a season that was merged of
// two keeps both. Where they are parts of one walk they count as one visit; else whoever
// compares says which.
type Beside struct {
	Field  string
	Date   string // ISO 8601, or first/last day
	Visits []int64
	// Apart are the pairs of them that have hardly a stop at the same place, the first number of
	// each before the other among Visits.
	Apart [][2]int64
}

// Days are the first and the last day of a visit, ISO 8601, as a season writes them.
func Days(first, last string) string {
	if first == last {
		return first
	}
	return first + "/" + last
}

// Parts reports whether the visits are parts of one walk, each at places of its own.
func (b Beside) Parts() bool { return len(b.Visits) > 1 && len(b.Twice()) == 0 }

// Twice are the visits that may be left out so that no place is counted twice: each that has
// stops where one before it has, which is not left out.
func (b Beside) Twice() (out []int64) {
	for i, v := range b.Visits {
		for _, before := range b.Visits[:i] {
			if !slices.Contains(out, before) && !slices.Contains(b.Apart, [2]int64{before, v}) {
				out = append(out, v)
				break
			}
		}
	}
	return out
}

// Without is what is left where some visits are left out.
func (b Beside) Without(numbers []int64) Beside {
	b.Visits = slices.DeleteFunc(slices.Clone(b.Visits), func(n int64) bool { return slices.Contains(numbers, n) })
	b.Apart = slices.DeleteFunc(slices.Clone(b.Apart), func(pair [2]int64) bool {
		return slices.Contains(numbers, pair[0]) || slices.Contains(numbers, pair[1])
	})
	return b
}
