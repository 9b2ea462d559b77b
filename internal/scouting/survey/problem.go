package survey

import (
	"fmt"
)

// Severity says what became of a row with a problem.
type Severity uint8

const (
	Doubtful Severity = iota // used, but worth a look
	Refused                  // set aside
)

func (s Severity) String() string {
	if s == Refused {
		return "refused"
	}
	return "doubtful"
}

// A Problem is one thing wrong with one row.
type Problem struct {
	File     string
	Line     int    // counted from 1, the header's included; 0 for what is of the whole file
	Name     string // of the waypoint or other feature, as lines may hold several; "" in tables
	Column   string // as the header names it, or by its meaning where there is none
	Position int    // of the column, counted from 1; 0 where there is none
	Value    string // as it stands in the file
	Stop     string // that What is said of, where it is a stop's; "" where it is the row's
	Severity Severity
	What     string
	Fix      string
}

// Place is where the row is found: file and line, and the name of a feature; the file alone of
// what is of the whole of it.
func (p Problem) Place() string {
	switch {
	case p.Line == 0 && p.Name == "":
		return p.File
	case p.Name != "":
		return fmt.Sprintf("%s:%d %q", p.File, p.Line, shorten(p.Name))
	}
	return fmt.Sprintf("%s:%d", p.File, p.Line)
}

// What is said of a row that is there twice: of a copy, and of one that differs.
const (
	sameRow  = "the same row as %s once more"
	otherRow = "stands on %s too with another count, and both are used"
)

// What is said of other rows that are set aside as they are.
const (
	sumOfOthers  = "is a sum or mean of other rows, not a stop"
	countedAgain = "was counted again on %s, and the later count is used"
)

// Copy reports whether the row was set aside as one alike is there.
func (p Problem) Copy() bool {
	_, is := filledIn(sameRow, p.What)
	return p.Severity == Refused && is
}

// Settled reports whether the row was set aside with nothing wrong in it: as a copy, as a sum of
// others, or for a later count.
func (p Problem) Settled() bool {
	_, again := filledIn(countedAgain, p.What)
	return p.Copy() || p.Severity == Refused && (again || p.What == sumOfOthers)
}

// A Teller gives texts and forms in another language.
type Teller func(english string) string

// asItIs tells in English.
func asItIs(english string) string { return english }

// String is the problem on one line: its place, column, value, what is wrong and how to
// fix it.
func (p Problem) String() string { return p.In(asItIs) }

// In is [Problem.String] in another language.
func (p Problem) In(tell Teller) string {
	at := p.Place()
	switch {
	case p.Line == 0 && p.Column != "":
		at += ": " + shorten(p.Column)
	case p.Column != "":
		at += fmt.Sprintf(": %s %q", shorten(p.Column), shorten(p.Value))
	}
	said := tell(p.What)
	if p.Stop != "" {
		said = fmt.Sprintf(tell("stop %s %s"), p.Stop, said)
	}
	return at + ": " + p.withFix(said, tell)
}

// Said is what is wrong, and with which stop.
func (p Problem) Said() string {
	if p.Stop == "" {
		return p.What
	}
	return "stop " + p.Stop + " " + p.What
}

func (p Problem) withFix(said string, tell Teller) string {
	if p.Fix == "" {
		return said
	}
	return said + "; " + tell(p.Fix)
}

// shorten keeps a cell from taking over a message.
func shorten(text string) string {
	const most = 60
	if r := []rune(text); len(r) > most {
		return string(r[:most]) + "…"
	}
	return text
}

func (p Problem) refuses() bool { return p.Severity == Refused }

func (p Problem) refuse(what, fix string) Problem {
	p.Severity, p.What, p.Fix = Refused, what, fix
	return p
}

func (p Problem) doubt(what, fix string) Problem {
	p.Severity, p.What, p.Fix = Doubtful, what, fix
	return p
}
