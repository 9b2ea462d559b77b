package report_test

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/mapping/verdict"
	"github.com/geocoris/geocoris/internal/output/report"
)

// A balloon says "Spray" only where the answer does.
func TestBalloonsSaySprayWhereTheAnswerDoes(t *testing.T) {
	area := geo.Properties{{Name: "area_ha", Value: 0.25}, {Name: "area_ac", Value: 0.62}}
	document := geofile.Document{Folders: []geofile.Folder{{Name: "A", Placemarks: []geofile.Placemark{
		{Name: "Spray, 0.25 ha", Style: "treat", Data: area}, {Name: "Watch, 1 ha", Style: "watch", Data: area},
	}}}}
	for kind, want := range map[verdict.Kind]string{
		verdict.SpotSpray:  "Spray, 0.25 ha",
		verdict.TreatWhole: "Spray, 0.25 ha",
		verdict.LookAgain:  "At or over the spray level, " + report.PropertyArea(area) + ": do not spray yet",
		verdict.NoSpray:    "At or over the spray level, " + report.PropertyArea(area) + ": do not spray",
		verdict.Undecided:  "At or over the spray level, " + report.PropertyArea(area) + ": not decided",
	} {
		got := slices.Collect(report.DocumentWithVerdicts(document, []verdict.Verdict{{Field: "A", Kind: kind}}, figures.Both).Folders[0].All())
		assert.Equal(t, want, got[0].Name)
		assert.Equal(t, "Watch, 1 ha", got[1].Name)
	}
	assert.Equal(t, "Spray, 0.25 ha", document.Folders[0].Placemarks[0].Name, "as it was given")
}
