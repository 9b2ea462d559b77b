package report_test

import (
	"regexp"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/language/vocabulary"
	"github.com/geocoris/geocoris/internal/mapping/rules"
	"github.com/geocoris/geocoris/internal/output/report"
)

// englishAlone finds words that no Spanish sentence has.
var englishAlone = regexp.MustCompile(`\b(the|of|with|per|at|above|any|only|told|States|memory)\b`)

// The level of every rule on sorghum is said in Spanish with the figures of the English.
func TestRuleLevelsInSpanish(t *testing.T) {
	book, err := rules.Published()
	require.NoError(t, err)
	spanish := figures.Both.In(vocabulary.Spanish)
	met := 0
	for _, r := range book.Rules {
		for _, b := range r.Bands {
			assert.Equal(t, r.StatedAs(b), report.RuleLevel(r, b, figures.Both))
			if r.Crop != "grain sorghum" || b.Loss > 0 {
				continue
			}
			said := report.RuleLevel(r, b, spanish)
			assert.NotRegexp(t, englishAlone, said, r.Name)
			assert.Equal(t, numbers.FindAllString(r.StatedAs(b), -1), numbers.FindAllString(said, -1), r.Name)
			if n, err := r.Needs(append(b.Stages, "")[0], 0, 0); err == nil && r.Sampling.Which != "" {
				assert.Contains(t, report.RuleCounting(n, spanish), "hoja", r.Name)
				assert.Equal(t, n.How, report.RuleCounting(n, figures.Both))
			}
			met++
		}
		assert.NotRegexp(t, englishAlone, spanish.Text(r.Region), r.Name)
	}
	assert.Greater(t, met, 8)
	first := book.Rules[0]
	assert.Equal(t, "40 por hoja", report.RuleLevel(first, first.Bands[0], spanish))
}
