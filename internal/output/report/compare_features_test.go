package report_test

import (
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/followup/change"
	"github.com/geocoris/geocoris/internal/followup/compare"
	"github.com/geocoris/geocoris/internal/geometry/zones"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/output/report"
)

// Each figure of a hotspot stands under its own name, by the step that led to its visit.
func TestHotspotsTellTheirOwnFigures(t *testing.T) {
	r, f, _ := twoVisits()
	var err error
	f.Frame, err = geo.NewFrame(orb.Point{-100, 37})
	require.NoError(t, err)
	patch := change.Patch{ID: 4, Polygon: orb.Polygon{{{0, 0}, {100, 0}, {100, 200}, {0, 200}, {0, 0}}}, Area: 20000, Centroid: orb.Point{50, 100}, Mean: 61}
	f.Tracks = &change.Tracks{
		Patches: [][]change.Patch{{patch}, {patch}},
		Steps:   []change.Step{{ID: 3, From: 0, To: 1, Event: change.Ended}, {ID: 4, From: 0, To: 1, Event: change.Grew, Metres: 12.3, Bearing: 78.9, AreaRate: 0.045}},
	}
	features := report.HotspotFeatures(r)
	require.Len(t, features, 2)
	for name, want := range map[string][2]any{
		"event": {"first seen", "grown"}, "moved_m": {nil, 12.3}, "bearing": {nil, 78.9}, "area_growth_per_day": {nil, 0.045},
		"date": {"2031-08-14", "2031-08-21"}, "area_ha": {2.0, 2.0}, "mean": {61.0, 61.0}, "hotspot": {int64(4), int64(4)},
	} {
		for i := range features {
			got, _ := features[i].Properties.Get(name)
			assert.Equal(t, want[i], got, "%s of visit %d", name, i)
		}
	}
}

// The folder of a field's forecast holds its own ground, and tells that of its last visit.
func TestAForecastIsItsFieldsOwn(t *testing.T) {
	r := leveled(20, 20)
	for i, f := range r.Fields {
		ground := orb.MultiPolygon{{{{float64(i), 0}, {float64(i), 1}, {float64(i) + 1, 1}, {float64(i), 0}}}}
		f.Forecast = &compare.Forecast{
			Date: "2031-08-28", Ground: map[zones.Class]orb.MultiPolygon{zones.Treat: ground},
			Visit: change.Visit{Map: &zones.Map{Area: 1, Zones: []zones.Zone{{Class: zones.Treat, Area: 1}, {Class: zones.Watch}, {Class: zones.Clear}}}},
		}
	}
	told := 0
	for _, folder := range report.ChangeDocument(r, figures.Both).Folders {
		for i, f := range r.Fields {
			if folder.Name != f.Name+": FORECAST" {
				continue
			}
			told++
			require.Len(t, folder.Placemarks, 1)
			assert.Equal(t, f.Forecast.Ground[zones.Treat], folder.Placemarks[0].Geometry, "field %d", i)
			assert.Contains(t, folder.Placemarks[0].Name, ", Thursday 28 August")
			from, _ := folder.Placemarks[0].Data.Get("made_from")
			assert.Equal(t, "2031-08-21", from)
		}
	}
	assert.Equal(t, 2, told)
}
