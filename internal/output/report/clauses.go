package report

import (
	"fmt"
	"unicode"
	"unicode/utf8"

	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/mapping/verdict"
)

// Clauses that more than one face says begin small and have no stop, so that each can
// join them to others, or make a sentence of one by [Sentence].

// PlainGoodUntil is [GoodUntil] as people say it, a sentence.
func PlainGoodUntil(v verdict.Verdict, u figures.Units) string {
	if v.GoodUntil == "" {
		return ""
	}
	return u.Say("The map is good until %s.", u.Day(v.GoodUntil))
}

// GoodUntil says how long a map is good; "" where that is not known.
func GoodUntil(v verdict.Verdict) string {
	if v.GoodUntil == "" {
		return ""
	}
	return "the map is good until " + v.GoodUntil
}

// Unscouted says how much watch ground is watch for lying out of reach alone; "" for none.
func Unscouted(f *assess.Field, u figures.Units) string {
	if !(f.Map.Unscouted > 0) {
		return ""
	}
	return fmt.Sprintf("of the watch ground %s is only unscouted: farther than %s from any stop", u.Area(f.Map.Unscouted), u.Distance(f.Settings.LeastReach))
}

// Sentence begins a clause with a capital.
func Sentence(clause string) string {
	first, size := utf8.DecodeRuneInString(clause)
	if size == 0 {
		return ""
	}
	return string(unicode.ToUpper(first)) + clause[size:]
}

// lowered begins a sentence small, so that it can go on after another.
func lowered(sentence string) string {
	first, size := utf8.DecodeRuneInString(sentence)
	if size == 0 {
		return ""
	}
	return string(unicode.ToLower(first)) + sentence[size:]
}
