package vocabulary_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/internal/language/vocabulary"
)

func TestEveryKeyHasAWordInEveryLanguage(t *testing.T) {
	assert.NotEmpty(t, vocabulary.Languages())
	for _, l := range vocabulary.Languages() {
		assert.NotEqual(t, "und", l.String(), "language %d has no tag", l)
		for _, k := range vocabulary.Keys() {
			assert.NotEmpty(t, l.Word(k), "%s: key %d has no word", l, k)
		}
	}
}

func TestWhatNoTableKnows(t *testing.T) {
	beyond := vocabulary.Key(len(vocabulary.Keys()))
	assert.Equal(t, "?", vocabulary.English.Word(beyond))
	assert.Equal(t, "treat", vocabulary.Language(200).Word(vocabulary.ZoneTreat), "English stands in")
}
