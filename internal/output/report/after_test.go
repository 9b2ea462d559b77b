package report_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/language/vocabulary"
	"github.com/geocoris/geocoris/internal/output/report"
	"github.com/geocoris/geocoris/internal/testkit"
)

// What keeps a walk going is said first: too few stops, then ground not crossed, then what
// more stops are worth.
func TestAfterAStop(t *testing.T) {
	for want, a := range map[string]report.After{
		"Keep going: at least 1 more stop before any answer.":                         {Stops: 11, Least: 12, Crossed: true, Enough: true},
		"Keep going: at least 12 more stops before any answer.":                       {Stops: 0, Least: 12},
		"Keep going: cross the field first. So far the stops speak for 40 % of it.":   {Stops: 12, Least: 12, Spoken: 0.4, Enough: true},
		"Enough: one more stop is not worth its walk.":                                {Stops: 12, Least: 12, Crossed: true, Enough: true},
		"Keep going: about 1 more stop is worth its walk.":                            {Stops: 12, Least: 12, Crossed: true, More: 1},
		"Keep going: about 8 more stops are worth their walk.":                        {Stops: 12, Least: 12, Crossed: true, More: 8},
		"Keep going: these stops do not tell yet how many more are worth their walk.": {Stops: 12, Least: 12, Crossed: true},
	} {
		assert.Equal(t, want, report.AfterText(a, figures.Both))
		testkit.AssertReads(t, want, 9, 25)
		spanish := report.AfterText(a, figures.Both.In(vocabulary.Spanish))
		assert.Regexp(t, "^(Siga|Basta): ", spanish)
		assert.Equal(t, numbers.FindAllString(want, -1), numbers.FindAllString(spanish, -1), "the same figures")
	}
}
