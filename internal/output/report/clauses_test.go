package report_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/internal/geometry/zones"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/mapping/verdict"
	"github.com/geocoris/geocoris/internal/output/report"
)

func TestClausesOfSeveralFaces(t *testing.T) {
	assert.Empty(t, report.GoodUntil(verdict.Verdict{}))
	assert.Equal(t, "the map is good until 2031-08-28", report.GoodUntil(verdict.Verdict{GoodUntil: "2031-08-28"}))
	f := &assess.Field{Map: &zones.Map{}}
	assert.Empty(t, report.Unscouted(f, figures.Both))
	f.Map.Unscouted, f.Settings.LeastReach = 20_000, 142.6
	assert.Equal(t, "of the watch ground 2.00 ha (4.94 ac) is only unscouted: farther than 143 m from any stop", report.Unscouted(f, figures.Both))
	assert.Equal(t, "of the watch ground 4.94 ac is only unscouted: farther than 468 ft from any stop", report.Unscouted(f, figures.US))
	assert.Equal(t, []string{"Of", "É", ""}, []string{report.Sentence("of"), report.Sentence("é"), report.Sentence("")})
}
