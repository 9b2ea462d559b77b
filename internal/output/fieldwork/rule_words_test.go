package fieldwork_test

import (
	"regexp"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/language/vocabulary"
	"github.com/geocoris/geocoris/internal/mapping/rules"
	"github.com/geocoris/geocoris/internal/output/fieldwork"
)

// englishAlone finds words that no Spanish sentence has.
var englishAlone = regexp.MustCompile(`\b(the|of|with|per|at|above|any|only|told|States|memory)\b`)

var numbers = regexp.MustCompile(`\d+(\.\d+)?`)

// The level of every rule on sorghum is said in Spanish with the figures of the English.
func TestRuleLevelsInSpanish(t *testing.T) {
	book, err := rules.Published()
	require.NoError(t, err)
	spanish := figures.Both.In(vocabulary.Spanish)
	met := 0
	for _, r := range book.Rules {
		for _, b := range r.Bands {
			assert.Equal(t, r.StatedAs(b), fieldwork.RuleLevel(r, b, figures.Both))
			if r.Crop != "grain sorghum" || b.Loss > 0 {
				continue
			}
			said := fieldwork.RuleLevel(r, b, spanish)
			assert.NotRegexp(t, englishAlone, said, r.Name)
			assert.Equal(t, numbers.FindAllString(r.StatedAs(b), -1), numbers.FindAllString(said, -1), r.Name)
			if n, err := r.Needs(append(b.Stages, "")[0], 0, 0); err == nil && r.Sampling.Which != "" {
				assert.Contains(t, fieldwork.RuleCounting(n, spanish), "hoja", r.Name)
				assert.Equal(t, n.How, fieldwork.RuleCounting(n, figures.Both))
			}
			met++
		}
		assert.NotRegexp(t, englishAlone, spanish.Text(r.Region), r.Name)
	}
	assert.Greater(t, met, 8)
	lygus, err := book.Named("canola-lygus")
	require.NoError(t, err)
	n, err := lygus.Needs("late pod", 0, 0)
	require.NoError(t, err)
	assert.Equal(t, "(cuántos es decisión nuestra, sin fuente)", fieldwork.RuleCounting(n, spanish))
	first := book.Rules[0]
	assert.Equal(t, "40 por hoja", fieldwork.RuleLevel(first, first.Bands[0], spanish))
}
