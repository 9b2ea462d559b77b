//go:build !small

package survey

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
)

// nobodyCounted is wrong with words that say so; they tell nothing of how the others
// are written.
const nobodyCounted = "says that nobody counted"

const (
	animalNoun = `aphids?|bugs?|insects?`
	tallyNoun  = `counts?|total|number`
	plantNoun  = `plants?|plts?`
	unitNoun   = animalNoun + `|` + tallyNoun + `|` + leafNoun + `|` + plantNoun
)

var (
	// uncounted words deny the count, not the animal: "no aphids" is a zero, "no count"
	// is none.
	uncounted = pattern(`(?i)\b(?:(?:no|none|nil|zero)\s+(?:(?:` + animalNoun + `)\s+)?(?:` + tallyNoun + `)|(?:` + tallyNoun + `)(?:\s*[:=]\s*|\s+)(?:none|nil))\b`)

	// noneOf, noneOn and noneFound are zeros that stand for the number.
	noneOf    = pattern(`(?i)\b(?:no|none|nil|zero)\s+(` + animalNoun + `)\b`)
	noneOn    = pattern(`(?i)\b(?:none|nothing|nil|zero)(?:\s+(?:found|seen|counted))?(\s+on\s+\d)`)
	noneFound = pattern(`(?i)\b((?:` + animalNoun + `)(?:\s*[:=]\s*|\s+))(?:none|nil|zero)\b`)
	zeroCount = pattern(`(?i)\b((?:` + tallyNoun + `)(?:\s*[:=]\s*|\s+))zero\b`)

	// Words that make a class of the number behind them. "12 aphids over 10 leaves" are
	// on these.
	overLeaves = pattern(`(?i)\b(` + animalNoun + `)\s+over(\s+\d+\s*(?:` + leafNoun + `))\b`)
	moreThan   = pattern(`(?i)\b(?:over|(?:more|greater)\s+than|above|exceeding)\s+(\d)`)
	atLeast    = pattern(`(?i)\bat\s+least\s+(\d)`)
	lessThan   = pattern(`(?i)\b(?:under|(?:less|fewer)\s+than|below)\s+(\d)`)
	andMore    = pattern(`(\d)\s+\+(\s+\pL|\s*$)`)

	// changed is a number that is not the count for what stands beside it.
	changed = pattern(`(?i)\d[\d.,]*\s*(?:%|‰|percent\b|per\s*cent\b|pct\b)` +
		`|\b(?:half|third|quarter\s+of|twice|double|triple|up\s+to|at\s+(?:the\s+)?most|max|maximum|minimum)\s+(?:of\s+)?(?:the\s+)?[<>=]*\d+` +
		`|\b(?:no|not|never)\s+(?:>=|[<>])\s*\d+|(?:<=|=<|≤)\s*\d+`)

	plantsTimes = pattern(`(?i)(\d+)\s*(?:` + plantNoun + `)\s*[x×*]\s*(\d+)\s*(?:` + leafNoun + `)\b(?:\s+each\b)?`)
	leavesTimes = pattern(`(?i)(\d+)\s*(?:` + leafNoun + `)\s*[x×*]\s*(\d+)\s*(?:` + plantNoun + `)\b`)
)

// inDigits writes zeros and classes that are written in words as they are in tables.
func inDigits(text string) string {
	text = noneOf().ReplaceAllString(text, "0 $1")
	text = noneOn().ReplaceAllString(text, "0$1")
	text = noneFound().ReplaceAllString(text, "${1}0")
	text = zeroCount().ReplaceAllString(text, "${1}0")
	text = overLeaves().ReplaceAllString(text, "$1 on$2")
	text = moreThan().ReplaceAllString(text, ">$1")
	text = atLeast().ReplaceAllString(text, ">=$1")
	text = lessThan().ReplaceAllString(text, "<$1")
	return andMore().ReplaceAllString(text, "${1}+$2")
}

// multiplied writes plants by leaves, "5 plants x 2 leaves", as the leaves and the
// plants that they are.
func multiplied(text string) (out string, is bool) {
	for i, times := range [...]*regexp.Regexp{plantsTimes(), leavesTimes()} {
		m := times.FindStringSubmatchIndex(text)
		if m == nil || !standsAlone(text[:m[0]]) {
			continue
		}
		a, errA := strconv.Atoi(text[m[2]:m[3]])
		b, errB := strconv.Atoi(text[m[4]:m[5]])
		if errA != nil || errB != nil || max(a, b) > mostUnits {
			continue
		}
		plants := [...]int{a, b}[i]
		return fmt.Sprintf("%s%d leaves ; %d plants%s", text[:m[0]], a*b, plants, text[m[1]:]), true
	}
	return text, false
}

// standsAlone reports whether a number behind the text is no part of a range, a
// fraction or a class.
func standsAlone(before string) bool {
	near := strings.TrimRight(before, " ")
	if near == "" {
		return true
	}
	if strings.ContainsAny(near[len(near)-1:], "-+<>=") || strings.HasSuffix(near, "–") || strings.HasSuffix(near, "—") {
		return false
	}
	return near != before || !strings.ContainsAny(near[len(near)-1:], "0123456789.,'")
}

// sizeUnclear says what is wrong with a number that is changed by what stands beside it.
func sizeUnclear(text string) string {
	if m := changed().FindString(text); m != "" {
		return fmt.Sprintf("has %q, and the count itself is wanted", shorten(m))
	}
	return ""
}

// eachUnclear reports leaves that may be on each of several plants, or on all together:
// no more leaves than plants.
func (c counted) eachUnclear() bool {
	if c.leaves == "" || c.plants == "" {
		return false
	}
	plants, err := strconv.Atoi(c.plants)
	if err != nil {
		return true
	}
	leaves, err := strconv.Atoi(c.leaves)
	return err == nil && plants > 1 && leaves <= plants
}
