package survey

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"unicode/utf8"

	"github.com/geocoris/geocoris/geo"
)

// A counted is what the words of a feature say: both blank where they speak of
// something else, and unclear where they speak of counts in a way that does not
// tell them.
type counted struct {
	count, leaves string
	unclear       string // what is wrong
}

// mostWords bounds the bytes that are looked through: more are no note on a count.
const mostWords = 4 << 10

// howToWrite mends words that are unclear.
const howToWrite = `write it as "count 12, leaves 10", the count on all leaves together`

// readWords finds count and leaves in the words of a property.
//
// Each number belongs to the word before it ("count 12, leaves 10") or each to the
// word after it ("12 aphids on 10 leaves"), never some so and some so: pairing them
// as they come takes "30 aphids 10 leaves" for 10 on one. A way fits where it
// gives one count, and one number of leaves if leaves are spoken of; it is whole
// where no number is left over. Of two ways that fit and differ the one that is
// whole is read, and neither if both are or none is.
//
// Dates and times are no numbers. A number alone is a count, unless it may be the
// name of the stop. Classes are numbers.
func readWords(text, property string) counted {
	if len(text) > mostWords {
		return counted{}
	}
	text = dated.ReplaceAllString(strings.ToValidUTF8(text, " "), " ; ")
	if same(property) != "name" && alone.MatchString(text) {
		return counted{count: strings.Trim(text, " ;\t\r\n")}
	}
	parts, clear := cutWords(text)
	numbers := slices.ContainsFunc(parts, func(p part) bool { return p.number })
	if !numbers || !slices.ContainsFunc(parts, func(p part) bool { return p.of() == colCount || p.of() == colMean }) {
		return counted{}
	}
	if !clear || slices.ContainsFunc(parts, part.lonely) {
		return counted{unclear: "has a number that belongs to no word"}
	}
	if slices.ContainsFunc(parts, func(p part) bool { return p.of() == colMean || same(p.text) == "per" || same(p.text) == "each" }) {
		return counted{unclear: "may be a mean, and the count on all leaves is wanted"}
	}
	before, after := pair(parts, -1), pair(parts, +1)
	switch {
	case !before.fits && !after.fits:
		return counted{unclear: "does not tell count and leaves in one way"}
	case before.fits && after.fits && before.counted != after.counted && before.whole == after.whole:
		return counted{unclear: fmt.Sprintf("reads in two ways, as %s or as %s", after.counted, before.counted)}
	case before.fits && (before.whole || !after.fits):
		return before.counted
	}
	return after.counted
}

func (c counted) String() string {
	if c.leaves == "" {
		return c.count
	}
	return c.count + " on " + c.leaves
}

const (
	month   = `(?:jan(?:uary)?|feb(?:ruary)?|mar(?:ch)?|apr(?:il)?|may|june?|july?|aug(?:ust)?|sept?(?:ember)?|oct(?:ober)?|nov(?:ember)?|dec(?:ember)?)`
	ofClock = `\d{1,2}:\d{2}(?::\d{2}(?:[.,]\d+)?)?(?:\s*[ap]\.?m\b\.?)?\s*(?:z\b|[+-]\d{2}:?\d{2}\b)?`
)

var (
	// dated is a date, a time or both.
	dated = regexp.MustCompile(`(?i)\b(?:` +
		`\d{4}([-/.])\d{1,2}[-/.]\d{1,2}(?:(?:t|\s+)` + ofClock + `)?` +
		`|\d{1,2}[-/.]\d{1,2}[-/.](?:\d{4}|\d{2})\b` +
		`|(?:19|20|21)\d{2}(?:0[1-9]|1[0-2])(?:0[1-9]|[12]\d|3[01])(?:t\d{4,6}z?)?\b` +
		`|\d{1,2}(?:st|nd|rd|th)?[\s.-]*` + month + `\b\.?(?:-\d{2,4}\b|,?\s*\d{4}\b)?` +
		`|` + month + `\.?\s+\d{1,2}(?:st|nd|rd|th)?\b(?:,?\s+\d{4}\b)?` +
		`|` + ofClock +
		`|\d{1,2}\s?[ap]\.?m\b\.?|\d{1,2}h\d{2}\b)`)
	value = regexp.MustCompile(`^(?:\d+\s*(?:-|–|—|\bto\b|\.\.)\s*\d+|\d+\+|(?:>=|≥|<|>)\s*\d+|[-+−]?(?:\d+(?:[.,']\d+)*|[.,]\d+))`)
	alone = regexp.MustCompile(`^[\s;]*(?:\d+\s*(?:-|–|—|to|\.\.)\s*\d+|\d+\s*\+|(?:>=|≥|<|>)\s*\d+|[-+−]?\d+(?:[.,']\d+)*)[\s;]*$`)
	word  = regexp.MustCompile(`^\p{L}[\p{L}_]*`)
	// joined numbers are a sum, a choice, a ratio: neither of them is the count.
	joined = regexp.MustCompile(`(?i)\d\s*(?:\band\b|\bor\b|\bplus\b|[&+/*×±%x])\s*[\d.]`)
)

// A part is a word or a number in a text.
type part struct {
	text   string
	number bool
	// joins says whether a part stands right before or after, and may belong to it.
	joinsBefore, joinsAfter bool
}

// of is the column that a word stands for; columns for none.
func (p part) of() column {
	if p.number {
		return columns
	}
	if c, known := meanings[same(p.text)]; known {
		return c
	}
	if c, known := meanings[same(p.text)+"s"]; known && c == colCount { // aphid
		return c
	}
	return columns
}

// cutWords cuts a text into words and numbers. clear is false where signs stand at
// a number that change what it means. Numbers within a name, such as row A12 or #3,
// are left out.
func cutWords(text string) (parts []part, clear bool) {
	clear = !joined.MatchString(text)
	end := 0 // of the last part
	for at := 0; at < len(text); {
		p := nextPart(text[at:])
		if p.text == "" {
			_, n := utf8.DecodeRuneInString(text[at:])
			at += n
			continue
		}
		gap := text[end:at]
		at += len(p.text)
		end = at
		if p.number && strings.HasSuffix(gap, "#") {
			parts = append(parts, part{})
			continue
		}
		if len(parts) == 0 {
			clear = clear && (!p.number || beginsWell(gap, false))
			parts = append(parts, p)
			continue
		}
		last := &parts[len(parts)-1]
		clear = clear && (!p.number || beginsWell(gap, last.number))
		if gap == "" && p.number && last.of() == columns && !last.number { // A12
			last.text += p.text
			continue
		}
		if p.number != last.number && last.text != "" && joins(gap, p.number) {
			p.joinsBefore, last.joinsAfter = true, true
		}
		parts = append(parts, p)
	}
	return parts, clear
}

// nextPart is the part that a text begins with, one without text if with neither a
// word nor a number.
func nextPart(text string) part {
	if w := word.FindString(text); w != "" {
		return part{text: w}
	}
	return part{text: value.FindString(text), number: true}
}

// joins says whether what stands between a word and a number, or between a number
// and a word, lets the number belong to the word.
func joins(gap string, number bool) bool {
	near := strings.TrimSpace(gap)
	return near == "" || number && (near == ":" || near == "=" || near == "~" || near == ".")
}

// beginsWell says whether what stands between the last part and a number leaves
// the number as it is: "12x10" and "12±3" do not.
func beginsWell(gap string, afterNumber bool) bool {
	if gap == "" {
		return !afterNumber
	}
	return strings.ContainsAny(gap[len(gap)-1:], " \t\r\n,;:=~(.[|\"'") || strings.HasSuffix(gap, "≈")
}

// lonely reports a number that belongs to no word.
func (p part) lonely() bool { return p.number && !p.joinsBefore && !p.joinsAfter }

// A pairing is what a text says where each number belongs to the word on one side.
type pairing struct {
	counted
	fits  bool
	whole bool
}

// pair takes each number for that of the word on its side: −1 before, +1 after.
func pair(parts []part, side int) (p pairing) {
	found := map[column]string{}
	spoken, twice := false, false
	p.whole = true
	for i, n := range parts {
		spoken = spoken || n.of() == colLeaves
		joins := n.joinsBefore
		if side > 0 {
			joins = n.joinsAfter
		}
		switch {
		case !n.number:
			continue
		case !joins:
			p.whole = false
			continue
		}
		w := parts[i+side]
		c := w.of()
		if c == colLeaf && side > 0 && n.text == "1" {
			c = colLeaves
		}
		if before, known := found[c]; known && before != n.text && (c == colCount || c == colLeaves) {
			twice = true
		}
		found[c] = n.text
	}
	p.count, p.leaves = found[colCount], found[colLeaves]
	p.fits = p.count != "" && !twice && (p.leaves != "" || !spoken)
	return p
}

// A filling says which property counts are read from, and the columns it fills.
type filling struct {
	property string
	columns  []string
}

// wordsColumn is the property to read counts from, where no property is a count
// itself; the zero filling is none.
func wordsColumn(properties []string, features []geo.Feature) filling {
	for _, p := range properties {
		if c, known := meanings[same(p)]; known && slices.Contains([]column{colCount, colMean, colGroups, colInfested}, c) {
			return filling{}
		}
	}
	for _, want := range []string{"cmt", "comment", "notes", "desc", "description", "name"} {
		for _, p := range properties {
			if same(p) != want {
				continue
			}
			var count, leaves bool
			for _, f := range features {
				found := readWords(cellOf(f, p), p)
				count, leaves = count || found.count != "" || found.unclear != "", leaves || found.leaves != ""
			}
			switch {
			case count && leaves:
				return filling{p, []string{colCount.String(), colLeaves.String()}}
			case count:
				return filling{p, []string{colCount.String()}}
			}
		}
	}
	return filling{}
}
