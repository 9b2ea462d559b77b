//go:build !small

package survey

import (
	"html"
	"strings"
	"unicode"
	"unicode/utf8"
)

const (
	month   = `(?:jan(?:uary)?|feb(?:ruary)?|mar(?:ch)?|apr(?:il)?|may|june?|july?|aug(?:ust)?|sept?(?:ember)?|oct(?:ober)?|nov(?:ember)?|dec(?:ember)?)`
	ofClock = `\d{1,2}:\d{2}(?::\d{2}(?:[.,]\d+)?)?(?:\s*[ap]\.?m\b\.?)?\s*(?:z\b|[+-]\d{2}:?\d{2}\b)?`

	countNoun = animalNoun + `|` + tallyNoun
	leafNoun  = `leaf|leaves|leafs|lvs|lfs|lf|lv`
)

var (
	// dated is a date, a time or both.
	dated = pattern(`(?i)\b(?:` +
		`\d{4}([-/.])\d{1,2}[-/.]\d{1,2}(?:(?:t|\s+)` + ofClock + `)?` +
		`|\d{1,2}[-/.]\d{1,2}[-/.](?:\d{4}|\d{2})\b` +
		`|(?:19|20|21)\d{2}(?:0[1-9]|1[0-2])(?:0[1-9]|[12]\d|3[01])(?:t\d{4,6}z?)?\b` +
		`|\d{1,2}(?:st|nd|rd|th)?[\s.-]*` + month + `\b\.?(?:-\d{2,4}\b|,?\s*\d{4}\b)?` +
		`|` + month + `\.?\s+\d{1,2}(?:st|nd|rd|th)?\b(?:,?\s+\d{4}\b)?` +
		`|` + ofClock +
		`|\d{1,2}\s?[ap]\.?m\b\.?|\d{1,2}h\d{2}\b)`)
	value  = pattern(`(?i)^(?:\d+\s*(?:-|–|—|\bto\b|\.\.)\s*\d+|\d+\+|(?:>=|≥|<|>)\s*\d+|[-+−]?(?:\d+(?:[.,']\d+)*|[.,]\d+))`)
	number = pattern(`^\d+`)
	alone  = pattern(`(?i)^[\s;]*(?:\d+\s*(?:-|–|—|to|\.\.)\s*\d+|\d+\s*\+|(?:>=|≥|<|>)\s*\d+|[-+−]?\d+(?:[.,']\d+)*)[\s;]*$`)
	word   = pattern(`^\p{L}[\p{L}_]*`)
	// joined numbers are a sum or a choice: neither of them is the count.
	joined = pattern(`(?i)\d\s*(?:\band\b|\bor\b|\bplus\b|[&+*×±%x])\s*[\d.]` +
		`|\s[x×]\s|(?:\d|\b(?:` + unitNoun + `))\s*[x×*]\s*(?:\d|(?:` + unitNoun + `)\b)`)
	// spaced is a range written with blanks, which a dash behind a name looks like.
	spaced = pattern(`^\d+\s+(?:-|–|—)\s+\d+$`)

	tag = pattern(`(?is)<!--.*?-->|<(?:style|script)\b.*?</(?:style|script)\s*>|</?[a-z!][^<>]*>`)
	// qualities of aphids and leaves say nothing of how many.
	quality = pattern(`(?i)\b(?:sorghum|sugarcane|live|upper|lower|middle|top|bottom|green)\s+(` + countNoun + `|` + leafNoun + `)\b`)
)

// plainWords are the words of a text without the tags and the entities of HTML, dates
// and times.
func plainWords(text string) string {
	text = strings.ToValidUTF8(text, " ")
	if strings.ContainsAny(text, "<&") {
		text = html.UnescapeString(tag().ReplaceAllString(text, " "))
	}
	text = strings.Map(func(r rune) rune {
		if unicode.IsSpace(r) && r != '\n' {
			return ' '
		}
		return r
	}, text)
	if len(text) > mostWords {
		return ""
	}
	text = dated().ReplaceAllString(text, " ; ")
	return quality().ReplaceAllString(text, "$1")
}

// A part is a word, a number, or the stroke between two of them.
type part struct {
	text   string
	number bool
	// joins says whether a part stands right before or after, and may belong to it.
	joinsBefore, joinsAfter bool
}

func (p part) of() sense {
	if p.number || p.text == "" {
		return unknownWord
	}
	return senseOf(p.text)
}

// on reports what may stand between a count and what it was counted on.
func (p part) on() bool { return p.stroke() || !p.number && same(p.text) == "on" }

func (p part) stroke() bool { return p.text == "/" }

// cutWords cuts a text into words, numbers and strokes. clear is false where signs
// stand at a number that change what it means. Numbers within a name, such as row A12
// or #3, are left out.
func cutWords(text string) (parts []part, clear bool) {
	clear = !joined().MatchString(text)
	end := 0 // of the last part
	for at := 0; at < len(text); {
		var last part
		if len(parts) > 0 {
			last = parts[len(parts)-1]
		}
		gap := text[end:at]
		p := nextPart(text[at:], namesNumber(last, gap))
		if p.text == "" {
			_, n := utf8.DecodeRuneInString(text[at:])
			at += n
			continue
		}
		at += len(p.text)
		end = at
		if p.number && strings.HasSuffix(gap, "#") {
			parts = append(parts, part{})
			continue
		}
		clear = clear && (!p.number || beginsWell(gap, last.number))
		if gap == "" && p.number && within(last) {
			parts[len(parts)-1].text += p.text
			continue
		}
		if len(parts) > 0 && p.number != last.number && last.text != "" && joins(gap, p.number) && !p.stroke() && !last.stroke() {
			p.joinsBefore, parts[len(parts)-1].joinsAfter = true, true
		}
		parts = append(parts, p)
	}
	return parts, clear
}

// within reports a word that a number right behind it is a part of, as in A12.
func within(last part) bool {
	if last.number || last.text == "" || last.stroke() {
		return false
	}
	switch last.of() {
	case countWord, leavesWord, leafWord, plantsWord, meanWord:
		return false
	}
	return true
}

// namesNumber reports whether a number behind the last part is that of a name, and so
// no range: "Stop 1 - 12 on 10" is 12 at stop 1.
func namesNumber(last part, gap string) bool {
	if strings.HasSuffix(gap, "#") || gap == "" && within(last) {
		return true
	}
	return last.of() == labelWord && joins(gap, true)
}

// nextPart is the part that a text begins with, one without text if with none.
func nextPart(text string, named bool) part {
	if w := word().FindString(text); w != "" {
		return part{text: w}
	}
	if text[0] == '/' {
		return part{text: "/"}
	}
	v := value().FindString(text)
	if named && spaced().MatchString(v) {
		v = number().FindString(text)
	}
	return part{text: v, number: true}
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
