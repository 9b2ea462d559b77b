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

// TogetherAlike puts problems that are alike together, copies of whatever rows too, in the order of the first of
// each. Up to three of a kind stay apart, as each may have to be looked up.
func TogetherAlike(problems []Problem) (groups []Alike) {
	kind := func(p Problem) Problem {
		if p.Stop != "" {
			p.Stop = "any"
		}
		p.Line, p.Value, p.Position = 0, "", 0
		p.What, _ = p.ofMany(asItIs)
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
	_, said := first.ofMany(tell)
	return strings.TrimSpace(at + ": " + first.withFix(said, tell))
}

// namesAnother are the forms of findings on a row that name another row, and what is said in one of
// many: the other row is named of the first.
var namesAnother = [...]struct{ one, many string }{
	{sameRow, "each is the same as another row, the first as %s"},
	{otherRow, "each stands in another row too with another count, the first on %s, and both are used"},
}

// ofMany is what a problem says for all that say it of another row than it does, shared what is the
// same in each; of many stops where it is of one.
func (p Problem) ofMany(tell Teller) (shared, said string) {
	for _, form := range namesAnother {
		if row, is := filledIn(form.one, p.What); is {
			return form.one, tell(fmt.Sprintf(form.many, row))
		}
	}
	said = tell(p.What)
	if p.Stop != "" {
		said = fmt.Sprintf(tell("each stop %s"), said)
	}
	return p.What, said
}

// filledIn is what stands in a text in the place of the form's verb, if it was made of the form.
func filledIn(form, text string) (filled string, is bool) {
	before, after, _ := strings.Cut(form, "%s")
	rest, begins := strings.CutPrefix(text, before)
	filled, ends := strings.CutSuffix(rest, after)
	return filled, begins && ends
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
