package report_test

import (
	"regexp"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/followup/change"
	"github.com/geocoris/geocoris/internal/followup/compare"
	"github.com/geocoris/geocoris/internal/followup/paired"
	"github.com/geocoris/geocoris/internal/geometry/zones"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/language/vocabulary"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/mapping/verdict"
	"github.com/geocoris/geocoris/internal/output/report"
)

// cited is where a level comes from, which is told as it is.
var cited = regexp.MustCompile(`(?m)^(Spray level: |Nivel de aplicación: |Spray at \d+: |Aplique desde \d+: ).*$`)

// Names and descriptions of a map and of changes have the same figures in both languages,
// on the same data.
func TestKMLInSpanish(t *testing.T) {
	spanish := figures.Both.In(vocabulary.Spanish)
	r := result(t)
	answers, err := verdict.Of(r, verdict.Settings{})
	require.NoError(t, err)
	c := leveled(20, 20)
	c.Fields[0].Steps = []*compare.Step{{To: 1, Days: 7, Change: paired.Change{MeanA: 3, MeanB: 5}}}
	c.Fields[0].Treatments = []compare.TreatmentResult{{Treatment: compare.Treatment{Date: "2031-08-16"}}}
	c.Fields[0].Forecast = &compare.Forecast{Date: "2031-08-28", Visit: change.Visit{Map: &zones.Map{}}}
	for name, pair := range map[string][2]geofile.Document{
		"map":    {report.DocumentWithVerdicts(report.Document(r, figures.Both), answers, figures.Both), report.DocumentWithVerdicts(report.Document(r, spanish), answers, spanish)},
		"change": {report.ChangeDocument(c, figures.Both), report.ChangeDocument(c, spanish)},
	} {
		t.Run(name, func(t *testing.T) {
			same := func(english, spanish string) {
				t.Helper()
				sameFigures(t, cited.ReplaceAllString(english, ""), cited.ReplaceAllString(spanish, ""))
			}
			english, said := pair[0], pair[1]
			same(english.Name, said.Name)
			same(english.Description, said.Description)
			require.Len(t, said.Folders, len(english.Folders))
			for i, f := range english.Folders {
				same(f.Name, said.Folders[i].Name)
				same(f.Description, said.Folders[i].Description)
				theirs := slices.Collect(said.Folders[i].All())
				require.Len(t, theirs, len(slices.Collect(f.All())))
				for k, p := range slices.Collect(f.All()) {
					same(p.Name, theirs[k].Name)
					same(p.Description, theirs[k].Description)
					assert.Equal(t, p.Data, theirs[k].Data)
				}
			}
		})
	}
}

// What may make a change wrong, and whether a spray worked, stands in KML as on the screen.
func TestKMLOfChangeTellsWhatMayBeWrong(t *testing.T) {
	c := leveled(20)
	f := c.Fields[0]
	f.Steps = []*compare.Step{{To: 1, Days: 7, Change: paired.Change{MeanA: 3, MeanB: 5}}}
	f.Visits[1].Assess.Unread = []assess.Unread{{Own: true}}
	f.Treatments = []compare.TreatmentResult{{Treatment: compare.Treatment{Date: "2031-08-16"}}}
	text := report.ChangeDocument(c, figures.Both).Description
	assert.Contains(t, text, "1 stop of Thursday 21 August could not be read, so this may be wrong.")
	assert.Contains(t, text, report.PlainEffect(f.Treatments[0], figures.Both))
}
