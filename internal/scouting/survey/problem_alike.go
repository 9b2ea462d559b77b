package survey

import (
	"fmt"
	"strings"
)

// mostAlike is how many problems alike have a line each, and how many rows the one
// line names that more of them share.
const mostAlike = 3

// Alike are problems that are the same but for the row: of one severity, file and
// column, said in the same words.
type Alike []Problem

// TogetherAlike puts problems that are alike together, in the order of the first of
// each. Up to three of a kind stay apart, as each may have to be looked up.
func TogetherAlike(problems []Problem) (groups []Alike) {
	kind := func(p Problem) Problem {
		if p.Stop != "" {
			p.Stop = "any"
		}
		p.Line, p.Value, p.Position = 0, "", 0
		return p
	}
	of := map[Problem]Alike{}
	for _, p := range problems {
		of[kind(p)] = append(of[kind(p)], p)
	}
	for _, p := range problems {
		switch all := of[kind(p)]; {
		case len(all) <= mostAlike:
			groups = append(groups, Alike{p})
		case p == all[0]:
			groups = append(groups, all)
		}
	}
	return groups
}

// String is one line: where the first rows stand and how many more there are, the first
// value, what is wrong and how to fix it.
func (a Alike) String() string { return a.In(asItIs) }

// In is [Alike.String] in another language.
func (a Alike) In(tell Teller) string {
	first := a[0]
	if len(a) == 1 {
		return first.In(tell)
	}
	at := fmt.Sprintf("%s:%d", first.File, first.Line)
	for _, p := range a[1:min(mostAlike, len(a))] {
		at += fmt.Sprintf(", %d", p.Line)
	}
	switch more := len(a) - mostAlike; {
	case more == 1:
		at += tell(" and 1 more row")
	case more > 1:
		at += fmt.Sprintf(tell(" and %d more rows"), more)
	}
	if first.Column != "" {
		at += fmt.Sprintf(": %s %q", shorten(first.Column), shorten(first.Value)) + a.andLike(tell)
	}
	said := tell(first.What)
	if first.Stop != "" {
		said = fmt.Sprintf(tell("each stop %s"), said)
	}
	return strings.TrimSpace(at + ": " + first.withFix(said, tell))
}

// andLike says so where not all values are the first.
func (a Alike) andLike(tell Teller) string {
	for _, p := range a {
		if p.Value != a[0].Value {
			return tell(" and the like")
		}
	}
	return ""
}
