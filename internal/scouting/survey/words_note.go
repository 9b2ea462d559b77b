//go:build !small

package survey

import (
	"fmt"
	"slices"
	"strings"
	"sync"
	"unicode"

	"github.com/geocoris/geocoris/geo"
)

// wordProperties are those of free words, in the order in which counts are looked for.
var wordProperties = []string{"cmt", "comment", "notes", "desc", "description", "name"}

// amountWords tell how many without a number, or that nobody looked: a place of which
// they are said may be a stop. Common practice, no source.
var amountWords = sync.OnceValue(func() *map[string]bool {
	m := map[string]bool{}
	for w := range strings.FieldsSeq("no none nil zero nothing not un uncounted counted counting skip skipped missed unread sampled scouted checked clean clear free empty " +
		"one two three four five six seven eight nine ten eleven twelve fifteen twenty thirty forty fifty sixty seventy eighty ninety hundred hundreds thousand thousands dozen dozens " +
		"lot lots many much more most few fewer some several plenty numerous heaps loads loaded tons masses mass full covered crawling everywhere all every any less least " +
		"high higher low lower heavy heavier light lighter medium moderate severe bad worse worst thick solid hot hotspot hotspots patch patches trace rare scattered " +
		"colony colonies cluster clusters infested infestation honeydew sticky sooty damage pest pests spray treat threshold over under above below half third quarter couple pair") {
		m[w] = true
	}
	return &m
})

// silent reports words without a number and without a word of a count or a zero. Dates
// and times are no numbers.
func silent(text string) bool {
	if len(text) > mostWords {
		return false
	}
	text = plainWords(text)
	return !strings.ContainsFunc(text, unicode.IsNumber) && !speaksOfAmounts(text)
}

func speaksOfAmounts(text string) bool {
	return slices.ContainsFunc(wordsOf(plainWords(text)), func(w string) bool {
		switch senseOf(w) {
		case countWord, leavesWord, leafWord, plantsWord, meanWord:
			return true
		}
		return (*amountWords())[strings.ToLower(w)]
	})
}

// stopNames are how the stops of a file are named of which a count was read.
type stopNames map[string]bool

// kindOf is what names of a row of stops share: the letters before the number, or that
// they are words.
func kindOf(name string) string {
	if name == "" {
		return ""
	}
	lead, numbered := name, false
	if i := strings.IndexFunc(name, unicode.IsDigit); i >= 0 {
		lead, numbered = name[:i], true
	}
	if numbered {
		return same(lead) + "#"
	}
	return "words"
}

// likeStop reports a name that a stop among those counted may have: of their kind, or a
// number, a letter or two, or a word for a stop with a number.
func (names stopNames) likeStop(name string) bool {
	kind := kindOf(name)
	if names[kind] {
		return true
	}
	lead, numbered := strings.CutSuffix(kind, "#")
	meaning, known := (*meanings())[lead]
	switch {
	case numbered:
		return lead == "" || known && meaning == colStop || slices.Contains([]string{"wp", "wpt", "pt", "loc", "location"}, lead)
	case name == "":
		return false
	}
	return len([]rune(same(name))) <= 2
}

// noteOf is what a feature without a count is called where it is a note, such as a gate
// or a parked truck, and no stop; "" where it may be one.
func (names stopNames) noteOf(f geo.Feature, properties []string) string {
	stop := stopOf(f, properties)
	if len(names) == 0 || names.likeStop(stop) || speaksOfAmounts(stop) {
		return ""
	}
	called := stop
	for _, p := range properties {
		if text := strings.TrimSpace(cellOf(f, p)); slices.Contains(wordProperties, same(p)) && !(same(p) == "name" && text == stop) {
			if !silent(text) {
				return ""
			}
			called = first(called, oneLine(text))
		}
	}
	return called
}

// sayNotes names the features that are taken for notes.
func (t *table) sayNotes(called []string) {
	if len(called) == 0 {
		return
	}
	what := fmt.Sprintf("%d of its %s are taken for notes, not stops,", len(called), t.Points)
	if len(called) == 1 {
		what = fmt.Sprintf("1 of its %s is taken for a note, not a stop,", t.Points)
	}
	t.Notes = append(t.Notes, fmt.Sprintf("%s: %s without a number or a word of a count: %s; a stop needs a count, 0 if nothing was found", t.File, what, Listed(quoted(called))))
}
