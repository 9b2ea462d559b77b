package survey

import (
	"fmt"
	"math"
)

// A stop is doubted whose leaves are so many times those of every other, or as few: most
// often a nought too many or too few was typed. Of two stops nobody can say which. Our
// choices, no source.
const (
	oddTimes      = 10
	leastOfOthers = 2
)

// oddUnits says which stop has so many more leaves than every other, and which so many
// fewer; the mean of a stop is off as many times.
func oddUnits(stops []Stop) (notes []string) {
	var counted []*Stop
	for i := range stops {
		if !math.IsNaN(stops[i].Total) { // else plants were looked at, and nothing counted on leaves
			counted = append(counted, &stops[i])
		}
	}
	if len(counted) <= leastOfOthers {
		return nil
	}
	most, next := foremost(counted, func(a, b float64) bool { return a > b })
	if most.Units >= oddTimes*next.Units {
		notes = append(notes, fmt.Sprintf("%s has %s, and no other stop more than %g: has it a 0 too many?", most.placed(), leaves(most.Units), next.Units))
	}
	least, next := foremost(counted, func(a, b float64) bool { return a < b })
	if oddTimes*least.Units <= next.Units {
		notes = append(notes, fmt.Sprintf("%s has %s, and no other stop fewer than %g: is a 0 missing?", least.placed(), leaves(least.Units), next.Units))
	}
	return notes
}

// foremost are the stop whose units come before those of all others, and the next of them.
func foremost(stops []*Stop, before func(a, b float64) bool) (first, second *Stop) {
	for _, s := range stops {
		switch {
		case first == nil || before(s.Units, first.Units):
			first, second = s, first
		case second == nil || before(s.Units, second.Units):
			second = s
		}
	}
	return first, second
}

// placed is the name of a stop behind the line of its first row.
func (s *Stop) placed() string { return fmt.Sprintf("%s: stop %s", StopKey(*s), s.Name) }

func leaves(n float64) string {
	if n == 1 {
		return "1 leaf"
	}
	return fmt.Sprintf("%g leaves", n)
}
