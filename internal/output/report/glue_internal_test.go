package report

import (
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/language/vocabulary"
)

// What is glued by hand, so that a phone needs no expressions, is what these mean.
func TestFiguresAreGluedAsTheExpressionsMean(t *testing.T) {
	unit := regexp.MustCompile(`(\d) (%|ha|ac|m|ft|h|min|January|February|March|April|May|June|July|August|September|October|November|December)\b`)
	day := regexp.MustCompile(`(\d) de ([a-z]+)\b`)
	for _, text := range []string{
		"", "5 ha (12 ac), 9.5 m.", "about 31 %.", "A tenth of 100 %, 5 hapless", "15 July 2026", "5 de julio de 2026, a 12 de distancia", "10 m/s", "(5 m)", "5  m", "2 de", "de 3", "all %",
		"5 de Julio", "3 min, 4 h", "5 stops", "Mayo 5 May", "5 ac_x",
	} {
		for _, language := range []vocabulary.Language{vocabulary.English, vocabulary.Spanish} {
			want := text
			if language == vocabulary.Spanish {
				want = day.ReplaceAllString(want, "$1"+glue+"de"+glue+"$2")
			}
			want = strings.ReplaceAll(unit.ReplaceAllString(want, "$1"+glue+"$2"), " %", glue+"%")
			assert.Equal(t, want, newPaper(0, figures.Units{}.In(language)).glued(text), text)
		}
	}
}
