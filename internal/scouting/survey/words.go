//go:build !small

package survey

import (
	"fmt"
	"slices"
	"strings"
)

// A counted is what the words of a feature say: all blank where they speak of
// something else, and unclear where they speak of counts in a way that does not
// tell them.
type counted struct {
	count, leaves, plants string
	units                 string // counted on, where leaves or plants are not named
	unclear               string // what is wrong
}

// mostWords bounds the bytes that are looked through: more are no note on a count.
const mostWords = 4 << 10

// howToWrite says how to write words that are unclear.
const howToWrite = `write it as "count 12, leaves 10", the count on all leaves together`

// readWords finds count and leaves in the words of a property.
//
// A count on something is read first: "12 on 10", "12/10", "12 aphids on 10 leaves".
// Else each number belongs to the word before it ("count 12, leaves 10") or each to
// the word after it ("12 aphids, 10 leaves"), never some so and some so: pairing them
// as they come takes "30 aphids 10 leaves" for 10 on one. A way fits where it
// gives one count, and one number of leaves if leaves are spoken of; it is whole
// where no number is left over. Of two ways that fit and differ the one that is
// whole is read, and neither if both are or none is.
//
// Every number needs a word that is known, of a place, another insect or a measure
// if not of the count: a word for leaves that is not known would make the count ten
// times what it is. Dates and times are no numbers. A number alone is a count, unless
// it may be the name of the stop. Classes are numbers. Plants by leaves are so many
// leaves; leaves that may be on each plant or on all together are not read.
func readWords(text, property string) counted {
	named := same(property) == "name"
	text = plainWords(text)
	if uncounted().MatchString(text) {
		return counted{unclear: nobodyCounted}
	}
	text, times := multiplied(inDigits(text))
	c := readPlain(text, named)
	if c.unclear == "" && !times && c.eachUnclear() {
		return counted{unclear: "does not say whether the leaves are all together or on each plant"}
	}
	return c
}

// readPlain is readWords of words in which numbers are digits.
func readPlain(text string, named bool) counted {
	if !named && alone().MatchString(text) {
		return counted{count: strings.Trim(text, " ;\t\r\n")}
	}
	parts, clear := cutWords(text)
	if !slices.ContainsFunc(parts, func(p part) bool { return p.number }) {
		return counted{}
	}
	on := phrases(parts, named)
	speaks := len(on) > 0 || slices.ContainsFunc(parts, func(p part) bool { return p.of() == countWord || p.of() == meanWord })
	switch {
	case !speaks:
		return counted{}
	case sizeUnclear(text) != "":
		return counted{unclear: sizeUnclear(text)}
	case !clear:
		return counted{unclear: "has a number that belongs to no word"}
	case slices.ContainsFunc(parts, func(p part) bool { return p.of() == meanWord }) || perUnit(parts):
		return counted{unclear: "may be a mean, and the count on all leaves is wanted"}
	case len(on) > 1:
		return counted{unclear: "gives more than one count"}
	case onOther(parts) != "":
		return counted{unclear: onOther(parts)}
	case len(on) == 1:
		return on[0].read(parts)
	case slices.ContainsFunc(parts, part.lonely):
		return counted{unclear: "has a number that belongs to no word"}
	}
	return paired(parts)
}

// paired reads words in which each number belongs to the one on its side.
func paired(parts []part) counted {
	before, after := pair(parts, -1), pair(parts, +1)
	switch {
	case !before.fits && !after.fits:
		return counted{unclear: "does not give count and leaves in one way"}
	case before.fits && after.fits && before.counted != after.counted && before.whole() == after.whole():
		return counted{unclear: fmt.Sprintf("reads in two ways, as %s or as %s", after.counted, before.counted)}
	case before.fits && (before.whole() || !after.fits):
		return before.explained()
	}
	return after.explained()
}

func (c counted) String() string {
	for _, on := range [...]string{c.leaves, c.plants, c.units} {
		if on != "" {
			return c.count + " on " + on
		}
	}
	return c.count
}

// perUnit reports a stroke before a word for leaves or plants, as in "12 aphids/leaf".
func perUnit(parts []part) bool {
	for i, p := range parts[:max(0, len(parts)-1)] {
		if next := parts[i+1].of(); p.stroke() && (next == leavesWord || next == leafWord || next == plantsWord || same(parts[i+1].text) == "plant") {
			return true
		}
	}
	return false
}

// A phrase is a count on something: the places of its two numbers, and the sense of
// the word behind the second.
type phrase struct {
	count, units int
	of           sense // leavesWord, plantsWord, or unknownWord where it is not given
}

// phrases are the counts on something in a text. In a name 12/10 may be a day.
func phrases(parts []part, named bool) (all []phrase) {
	for i, p := range parts {
		if i == 0 || i+1 >= len(parts) || !p.on() || !parts[i+1].number {
			continue
		}
		n, worded := countBefore(parts, i)
		of, fits := unitsAt(parts, i+1)
		if n >= 0 && fits && !(named && p.stroke() && !worded && of == unknownWord) {
			all = append(all, phrase{n, i + 1, of})
		}
	}
	return all
}

// onOther says what is wrong with a count on something that no known word is for.
func onOther(parts []part) string {
	for i, p := range parts {
		if i == 0 || i+1 >= len(parts) || !p.on() || !parts[i+1].number {
			continue
		}
		if n, _ := countBefore(parts, i); n >= 0 {
			if _, fits := unitsAt(parts, i+1); !fits {
				return noWordFor(parts[i+1])
			}
		}
	}
	return ""
}

// countBefore is the place of the count that stands before place i, −1 for none:
// a number, or one with a word for the count around it.
func countBefore(parts []part, i int) (n int, worded bool) {
	n = i - 1
	if parts[n].of() == countWord {
		n, worded = n-1, true
	}
	if n < 0 || !parts[n].number || worded && !parts[n].joinsAfter {
		return -1, false
	}
	if !parts[n].joinsBefore {
		return n, worded
	}
	switch parts[n-1].of() {
	case countWord:
		return n, true
	case unknownWord:
		return n, worded
	}
	return -1, false // the number is of that word
}

// unitsAt says what the number at place i is of by the word behind it.
func unitsAt(parts []part, i int) (of sense, fits bool) {
	if !parts[i].joinsAfter {
		return unknownWord, true
	}
	switch next := parts[i+1]; next.of() {
	case leavesWord, leafWord:
		return leavesWord, true
	case plantsWord:
		return plantsWord, true
	case stageWord:
		return unknownWord, true
	default:
		return plantsWord, same(next.text) == "plant"
	}
}

// read is what the phrase tells, where nothing beside it tells otherwise.
func (on phrase) read(parts []part) counted {
	c := counted{count: parts[on.count].text}
	units := parts[on.units].text
	switch on.of {
	case leavesWord:
		c.leaves = units
	case plantsWord:
		c.plants = units
	default:
		c.units = units
	}
	for i, p := range parts {
		if !p.number || i == on.count || i == on.units {
			continue
		}
		before, after := p.senses(parts, i)
		switch {
		case c.plants == "" && (after == plantsWord || before == plantsWord || p.joinsAfter && same(parts[i+1].text) == "plant"):
			c.plants = p.text
		case after == thingWord, after == measureWord, before == thingWord, before == labelWord:
		case after == countWord, after == leavesWord, after == leafWord, before == countWord, before == leavesWord, before == leafWord:
			return counted{unclear: "gives more than one count"}
		case p.lonely():
			return counted{unclear: "has a number that belongs to no word"}
		default:
			return counted{unclear: noWordFor(p)}
		}
	}
	return c
}

// senses of the words that the number at place i may belong to.
func (p part) senses(parts []part, i int) (before, after sense) {
	if p.joinsBefore {
		before = parts[i-1].of()
	}
	if p.joinsAfter {
		after = parts[i+1].of()
	}
	return before, after
}

func noWordFor(p part) string {
	return fmt.Sprintf("has a number that no known word explains, %s", shorten(p.text))
}

// A pairing is what a text says where each number belongs to the word on one side.
type pairing struct {
	counted
	fits  bool
	apart bool   // some number has no word on that side
	left  string // what is wrong with a number that no word explains; "" for none
}

func (p pairing) whole() bool { return !p.apart && p.left == "" }

func (p pairing) explained() counted {
	if p.left != "" {
		return counted{unclear: p.left}
	}
	return p.counted
}

// pair takes each number for that of the word on its side: −1 before, +1 after.
func pair(parts []part, side int) (p pairing) {
	found := map[sense]string{}
	spoken, twice := false, false
	for i, n := range parts {
		spoken = spoken || n.of() == leavesWord || n.of() == leafWord
		if !n.number {
			continue
		}
		before, after := n.senses(parts, i)
		of, joined := before, n.joinsBefore
		if side > 0 {
			of, joined = after, n.joinsAfter
		}
		p.apart = p.apart || !joined
		switch {
		case of == leafWord && (side > 0 || n.text == "1"):
			of = leavesWord
		case of == leafWord:
			p.note(fmt.Sprintf("does not say whether leaf %s is which or how many", shorten(n.text)))
		case of == labelWord && side > 0 && same(parts[i+1].text) == "plant":
			of = plantsWord
		case of == thingWord, of == plantsWord, of == measureWord && side > 0, of == labelWord && side < 0:
		case of == countWord && side > 0 && before == labelWord:
			p.note(fmt.Sprintf("does not say whether %s is the count or the number of the %s", shorten(n.text), strings.ToLower(shorten(parts[i-1].text))))
		case of == countWord, of == leavesWord:
		case side > 0 && (before == labelWord || before == thingWord), side < 0 && (after == thingWord || after == measureWord):
			of = unknownWord // of the word on its other side
		default:
			p.note(noWordFor(n))
		}
		if _, known := found[of]; known && (of == countWord || of == leavesWord || of == plantsWord) {
			twice = true
		}
		found[of] = n.text
	}
	p.count, p.leaves, p.plants = found[countWord], found[leavesWord], found[plantsWord]
	p.fits = p.count != "" && !twice && (p.leaves != "" || !spoken)
	return p
}

// note keeps what is wrong with the first number that is not explained.
func (p *pairing) note(what string) {
	if p.left == "" {
		p.left = what
	}
}
