package report_test

import (
	"bytes"
	"encoding/json"
	"math"
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/geometry/boundary"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/mapping/fieldstats"
	"github.com/geocoris/geocoris/internal/output/report"
	"github.com/geocoris/geocoris/internal/scouting/layout"
	"github.com/geocoris/geocoris/internal/scouting/survey"
	"github.com/geocoris/geocoris/internal/testkit"
	"github.com/geocoris/geocoris/internal/testkit/given"
)

// walked is an invented field of 20 ha: of 20 planned stops three are at or above 40, one
// of them at it, and of two extra ones both.
func walked() *assess.Field {
	f := &assess.Field{Area: 20e4, Levels: assess.Levels{}}
	f.Levels.TreatAt = 40
	for i := range 22 {
		s := assess.Stop{Stop: survey.Stop{Extra: i >= 20}, Value: 5}
		if i < 2 || i >= 20 {
			s.Value = 90
		} else if i == 2 {
			s.Value = 40
		}
		f.Stops = append(f.Stops, s)
	}
	return f
}

func TestOverRangeIsByPlannedStopsAndTheModel(t *testing.T) {
	f := walked()
	assert.Equal(t, fieldstats.AreaOver(3, 20, 20e4, math.NaN(), 0.9), report.OverRange(f))
	f.Chance = &assess.Chance{Expected: 9e4}
	i := report.OverRange(f)
	assert.Equal(t, 9e4, i.High, "it reaches to what is expected")
	assert.Equal(t, "The bad ground is likely 1 to 9 hectares in all.", report.BadGround(f, figures.Metric))
	assert.Equal(t, "The bad ground is likely 3 to 22 acres in all.", report.BadGround(f, figures.US))

	f.Trust.Layout = layout.Layout{Stops: 22, Span: 0.2}
	require.True(t, f.Trust.Layout.Partial())
	assert.False(t, report.OverRange(f).Known(), "stops of a part of the field")
	assert.Empty(t, report.BadGround(f, figures.US))
}

func TestNextToNothingOverHasNoFigure(t *testing.T) {
	f := walked()
	f.Area = 99
	assert.Empty(t, report.BadGround(f, figures.US))
	f.Stops = nil
	assert.Empty(t, report.BadGround(f, figures.US), "no stop, no range")
}

// The range for machines holds what is expected.
func TestSummaryTellsTheRangeOver(t *testing.T) {
	c, err := geofile.Read(testkit.Testdata(t, "demo", "field.geojson"), geofile.Limits{})
	require.NoError(t, err)
	fields, _, err := boundary.Fields(c.Features, boundary.Settings{})
	require.NoError(t, err)
	week2, err := os.ReadFile(testkit.Testdata(t, "demo", "week2.csv"))
	require.NoError(t, err)
	s, err := survey.Read(given.Table(string(week2)), survey.Options{})
	require.NoError(t, err)
	r, err := assess.Run(t.Context(), fields, s, assess.Settings{})
	require.NoError(t, err)
	var b bytes.Buffer
	require.NoError(t, report.WriteSummary(&b, r))
	var told struct {
		Fields []struct {
			Chance struct {
				Expected float64 `json:"expected_over_ha"`
				LowHa    float64 `json:"expected_over_low_ha"`
				LowAc    float64 `json:"expected_over_low_ac"`
				HighHa   float64 `json:"expected_over_high_ha"`
				HighAc   float64 `json:"expected_over_high_ac"`
			} `json:"chance"`
		} `json:"fields"`
	}
	require.NoError(t, json.Unmarshal(b.Bytes(), &told))
	k, i := told.Fields[0].Chance, report.OverRange(r.Fields[0])
	assert.True(t, 0 < k.LowHa && k.LowHa <= k.Expected && k.Expected <= k.HighHa, "%+v", k)
	assert.InDeltaSlice(t, []float64{i.Low / 1e4, i.High / 1e4, figures.Acres(i.Low), figures.Acres(i.High)},
		[]float64{k.LowHa, k.HighHa, k.LowAc, k.HighAc}, 0.00501)
}
