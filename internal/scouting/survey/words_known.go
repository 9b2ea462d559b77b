//go:build !small

package survey

import (
	"slices"
	"strings"
	"sync"
)

// A sense is what a word says of the number beside it.
type sense uint8

const (
	unknownWord sense = iota
	countWord         // the number is the count
	leavesWord        // of so many leaves, or what else is counted on
	leafWord          // behind the number as leavesWord; before it, it may name the leaf
	plantsWord        // of so many plants
	meanWord          // the number may be a mean
	labelWord         // before the number: it names a place, a stage, a person
	thingWord         // the number is of something that is not counted here
	measureWord       // behind the number: it is a measure
	stageWord         // behind the number of leaves, it says nothing of it
)

// wordsKnown are words of notes beside the names that columns have. Common
// practice, no source.
var wordsKnown = sync.OnceValue(func() *map[string]sense {
	m := map[string]sense{}
	for s, words := range map[sense]string{
		countWord:   "bug bugs",
		leavesWord:  "lvs lfs leafs",
		leafWord:    "leaf lf lv leave",
		plantsWord:  "plants plts",
		meanWord:    "per each avg ave",
		labelWord:   "stop row plot field block plant plt gs stage section transect pivot pt wp wpt no nr loc location strip pass gate zone quarter corner",
		thingWord:   "thrips mite mites beetle beetles lady ladybeetle ladybeetles ladybug ladybugs ladybird ladybirds lacewing lacewings mummy mummies wasp wasps spider spiders hoverfly hoverflies larva larvae caterpillar caterpillars worm worms headworm headworms midge midges greenbug greenbugs hopper hoppers leafhopper leafhoppers fly flies ant ants egg eggs predator predators beneficial beneficials parasitoid parasitoids infested rows stems stalks heads panicles tillers traps sweeps wind temp temperature humidity",
		measureWord: "m metre metres meter meters cm mm km ft feet foot inch inches yd yard yards mi mile miles mph kph kmh deg degrees c f ac acre acres ha min mins minutes h hour hours day days step steps pace paces",
		stageWord:   "boot whorl bloom flowering flower heading milk dough vegetative",
	} {
		for w := range strings.FieldsSeq(words) {
			m[w] = s
		}
	}
	return &m
})

// isThing reports whether a word is of something that is not counted here.
func isThing(word string) bool { return senseOf(word) == thingWord }

// senseOf a word: that of notes, else that of the column it may head.
func senseOf(text string) sense {
	folded := same(text)
	if s, known := (*wordsKnown())[folded]; known {
		return s
	}
	c, known := (*meanings())[folded]
	if !known && (*meanings())[folded+"s"] == colCount { // aphid
		c, known = (*meanings())[folded+"s"]
	}
	switch {
	case plantsLookedAt(text):
		return plantsWord
	case !known:
		return unknownWord
	case c == colCount:
		return countWord
	case c == colMean:
		return meanWord
	case c == colLeaves:
		return leavesWord
	case slices.Contains([]column{colStop, colPlant, colObserver, colStage, colKind, colDate, colAccuracy}, c):
		return labelWord
	}
	return unknownWord
}
