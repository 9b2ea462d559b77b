//go:build !small

package report_test

import (
	"fmt"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/language/vocabulary"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/mapping/verdict"
	"github.com/geocoris/geocoris/internal/output/report"
	"github.com/geocoris/geocoris/internal/scouting/survey"
	"github.com/geocoris/geocoris/internal/testkit/given"
)

// Hot stops on the edge that count for the field beside are told of, but where the whole field
// is sprayed anyway.
func TestHotStopsOnTheEdgeAreToldOf(t *testing.T) {
	box := func(name string, west, east float64) geo.Field {
		return geo.Field{Name: name, Boundary: geo.Wind(orb.MultiPolygon{{{{west, 0}, {east, 0}, {east, 0.004}, {west, 0.004}, {west, 0}}}})}
	}
	says := func(l vocabulary.Language, kind verdict.Kind, hot int) []string {
		rows := "stop,longitude,latitude,count,leaves\n"
		for i := range 16 {
			rows += fmt.Sprintf("%d,%.7f,%.7f,5,10\n", i, 10+(float64(i%4)+0.5)*0.002, (float64(i/4)+0.5)*0.001)
		}
		for i := range hot {
			rows += fmt.Sprintf("h%d,10.00399,%.4f,%d,10\n", i, 0.001*float64(i+1), 400+100*i)
		}
		s, err := survey.Read(given.Table(rows), survey.Options{})
		require.NoError(t, err)
		r, err := assess.Run(t.Context(), []geo.Field{box("West", 10, 10.004), box("East", 10.004, 10.008)}, s, assess.Settings{})
		require.NoError(t, err)
		return report.PlainOf(r, r.Fields[1], verdict.Verdict{Kind: kind, Figures: verdict.Figures{Treat: 40, Watch: 10}}, figures.Both.In(l)).LookOut
	}
	assert.NotContains(t, fmt.Sprint(says(vocabulary.English, verdict.NoSpray, 0)), "edge")
	assert.Contains(t, says(vocabulary.English, verdict.NoSpray, 1), "Stop h0 (40 a leaf) stands on the edge and counts for West: look on this side too.")
	assert.Contains(t, says(vocabulary.English, verdict.SpotSpray, 2), "2 stops stand on the edge and count for West, the highest with 50 a leaf: look on this side too.")
	assert.Contains(t, says(vocabulary.Spanish, verdict.NoSpray, 1), "El punto h0 (40 por hoja) está en el lindero y cuenta para West: revise también de este lado.")
	assert.NotContains(t, fmt.Sprint(says(vocabulary.English, verdict.TreatWhole, 2)), "edge")
}
