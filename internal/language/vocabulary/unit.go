package vocabulary

import (
	"strconv"
	"strings"
)

// A Unit is what counts are of: so many of a thing, such as one leaf or 10 sweeps. Values
// and levels are in units, what is looked at is written down in things: 20 sweeps are two
// units of 10 sweeps.
type Unit struct {
	Size  int    // things in it, 1 or more
	Thing string // one of them, in English: leaf, plant, sweep
}

// UnitOf reads the name of a unit as rules and settings have it: "leaf", "10 sweeps". "" is
// a leaf, as where nobody says what counts are of.
func UnitOf(name string) Unit {
	if name == "" {
		return Unit{1, "leaf"}
	}
	number, things, _ := strings.Cut(name, " ")
	if n, err := strconv.Atoi(number); err == nil && n > 1 && things != "" {
		return Unit{n, singular(things)}
	}
	return Unit{1, name}
}

// String is the name that [UnitOf] reads.
func (u Unit) String() string {
	if u.Size > 1 {
		return strconv.Itoa(u.Size) + " " + English.Things(u.Size, u.Thing)
	}
	return u.Thing
}

// singular is one of things that are named in the plural.
func singular(things string) string {
	if things == "leaves" {
		return "leaf"
	}
	return strings.TrimSuffix(things, "s")
}

// Column is the header of a column of how many of the thing were looked at: leaves, sweeps,
// square_metres.
func (u Unit) Column() string {
	return strings.ReplaceAll(English.Things(2, u.Thing), " ", "_")
}

// many names a unit of several things, which is the same in one and in several; "" of others.
func (l Language) many(unit string) string {
	if unit == "" || unit[0] > '9' { // nearly all
		return ""
	}
	if u := UnitOf(unit); u.Size > 1 {
		return strconv.Itoa(u.Size) + " " + l.Things(u.Size, u.Thing)
	}
	return ""
}
