package report_test

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/geometry/zones"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/mapping/verdict"
	"github.com/geocoris/geocoris/internal/output/report"
)

// Where the rule asks for the whole field the answer itself says so, and with it all that
// carries the answer; at the level it is due, below it is not.
func TestTheAnswerSaysThatTheWholeFieldIsDue(t *testing.T) {
	for _, c := range []struct {
		kind verdict.Kind
		mean float64
		due  bool
	}{
		{verdict.SpotSpray, 40, true}, {verdict.SpotSpray, 45.7, true}, {verdict.SpotSpray, math.Nextafter(40, 0), false},
		{verdict.TreatWhole, 45.7, false}, {verdict.LookAgain, 45.7, false},
	} {
		v := verdict.Verdict{Field: "A", Kind: c.kind, On: "2026-07-25"}
		v.Treat, v.TreatArea, v.Area = 40, 1e5, 5e5
		v.Stats.Mean = c.mean
		says := func(text string) { t.Helper(); assert.Equal(t, c.due, strings.Contains(text, report.WholeDue), text) }
		says(report.PlainAnswer(v, figures.Metric))
		doc := report.DocumentWithVerdicts(geofile.Document{Folders: []geofile.Folder{{Name: "A", Placemarks: make([]geofile.Placemark, 1)}}}, []verdict.Verdict{v}, figures.Both)
		says(doc.Folders[0].Description)
		features := report.WithVerdicts([]geo.Feature{{Properties: geo.Properties{{Name: "field", Value: "A"}}}}, []verdict.Verdict{v})
		due, told := features[0].Properties.Get("whole_due")
		assert.Equal(t, c.due, told)
		assert.Equal(t, c.due, due == true)
	}
}

// With prices the answer not to spray names the level from which on it pays.
func TestTheAnswerSaysWhereATreatmentPays(t *testing.T) {
	v := verdict.Verdict{Kind: verdict.LookAgain, On: "2026-07-18"}
	v.Treat, v.PaysAt, v.Costs = 40, 80, &verdict.Costs{}
	assert.Equal(t, "Do not spray yet; look again on Saturday 18 July. With these prices a treatment pays at 80 or more.", report.PlainAnswer(v, figures.Both))
	v.PaysAt = 40
	assert.Equal(t, "Do not spray yet; look again on Saturday 18 July.", report.PlainAnswer(v, figures.Both))
	v.PaysAt, v.Costs = 80, nil
	assert.NotContains(t, report.PlainAnswer(v, figures.Both), "pays")
}

// A legend says to spray only where the answer does.
func TestLegendsSayToSprayWhereTheAnswerDoes(t *testing.T) {
	for kind, want := range map[verdict.Kind]string{
		verdict.SpotSpray: "Spray (red, hatched)", verdict.TreatWhole: "Spray (red, hatched)",
		verdict.Undecided: "At or above the spray level (red, hatched)", verdict.LookAgain: "At or above the spray level (red, hatched)", verdict.NoSpray: "At or above the spray level (red, hatched)",
	} {
		assert.Equal(t, want, report.LegendOf(zones.Treat, &verdict.Verdict{Kind: kind}, figures.Both))
		assert.Equal(t, "Watch (yellow, dotted)", report.LegendOf(zones.Watch, &verdict.Verdict{Kind: kind}, figures.Both))
	}
	assert.Equal(t, "Spray (red, hatched)", report.LegendOf(zones.Treat, nil, figures.Both))
}
