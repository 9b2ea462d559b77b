package report_test

import (
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/language/vocabulary"
	"github.com/geocoris/geocoris/internal/output/report"
)

// glue stands for a space at which no line is broken.
const glue = "\x00"

// brokenWherever is a text broken at each space where a line may be.
func brokenWherever(words figures.Units, text string) (pieces []string) {
	p := report.NewPaper(report.UsualWidth, words)
	p.Put(report.UsualWidth, report.Quiet, text)
	for _, line := range p.Lines() {
		pieces = append(pieces, strings.TrimSpace(line.Text))
	}
	return pieces
}

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
			var pieces []string
			for _, piece := range strings.Fields(want) {
				pieces = append(pieces, strings.ReplaceAll(piece, glue, " "))
			}
			assert.Equal(t, pieces, brokenWherever(figures.Units{}.In(language), text), text)
		}
	}
}
