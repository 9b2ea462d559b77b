//go:build !js && !nosqlite

package season_test

import (
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/followup/season"
)

var shownLayers = []string{"fields", "stops", "zones", "verdicts", "treatments"}

// windows are what map programs ask for: in boxes that hold, cut, border on and miss the
// invented ground and lie in its hole, in days at and beside those of the visits.
var windows = map[string]season.Window{
	"all":            {},
	"first":          {Limit: 1},
	"next":           {After: 1, Limit: 1},
	"all of them":    {Limit: 3},
	"around":         {Boxes: [][4]float64{{-102, 34, -100, 36}}},
	"across":         {Boxes: [][4]float64{{-100.9951, 35.001, -100.9909, 35.0031}}},
	"border":         {Boxes: [][4]float64{{-100.99, 35, -100.98, 35.01}}},
	"past border":    {Boxes: [][4]float64{{-100.98999999, 35, -100.98, 35.01}}},
	"in the hole":    {Boxes: [][4]float64{{-100.9922, 35.0021, -100.9921, 35.0022}}},
	"beyond edge":    {Boxes: [][4]float64{{-100.9999, 35.0095, -100.9998, 35.0096}}},
	"two boxes":      {Boxes: [][4]float64{{-120, 30, -119, 31}, {-100.991, 35.003, -100.991, 35.003}}},
	"boxes, next":    {Boxes: [][4]float64{{-102, 34, -100, 36}}, After: 1, Limit: 1},
	"from a day":     {From: "2031-08-04"},
	"to a day":       {To: "2031-08-03"},
	"days":           {From: "2031-08-05", To: "2031-08-05"},
	"day and ground": {Boxes: [][4]float64{{-102, 34, -100, 36}}, From: "2031-08-03", To: "2031-08-06", Limit: 1},
	"no day":         {From: "2032-01-01"},
}

// shownIn is all that a season shows map programs.
func shownIn(t *testing.T, s *season.Season) map[string]any {
	t.Helper()
	all := map[string]any{}
	for _, layer := range shownLayers {
		for name, w := range windows {
			page, err := s.Page(layer, w)
			require.NoError(t, err, "%s %s", layer, name)
			all[layer+" "+name] = page
		}
		extent, err := s.Extent(layer)
		require.NoError(t, err, layer)
		all[layer+" extent"] = extent
		for id := range int64(4) {
			f, ok, err := s.Feature(layer, id)
			require.NoError(t, err, layer)
			all[layer+" "+string(rune('0'+id))] = []any{f, ok}
		}
	}
	return all
}

// Map programs find in a database what they find in a file.
func TestADatabaseShowsWhatAFileShows(t *testing.T) {
	g := inDatabase(t)
	file, base := opened(t, filepath.Join(t.TempDir(), "s.gpkg")), opened(t, g.owner())
	assert.Equal(t, shownIn(t, file), shownIn(t, base), "nothing is in it yet")
	walk := brought(4, "")
	walk.Date = "2031-08-04/2031-08-06"
	walk.Stops[0].Properties = geo.Properties{{Name: "date", Value: walk.Date}, {Name: "value", Value: 0.5}}
	other := brought(2, "Anna")
	other.Fields = append(other.Fields, field("North", 0.05))
	other.Fields[1].Customer, other.Kept = "Invented", map[string]geo.Properties{"North": {{Name: "rows", Value: "90"}}}
	for _, s := range []*season.Season{file, base} {
		for _, v := range []season.Visit{other, walk, brought(6, "Ben")} {
			v.Author = season.Authors(v.Author, "Cleo")
			_, err := s.Add(v)
			require.NoError(t, err)
		}
		_, err := s.AddRecord(season.Record{Date: "2031-08-05", Note: "invented", Ground: field("", 0).Boundary, ReentryHours: 12})
		require.NoError(t, err)
	}
	want := shownIn(t, file)
	for what, got := range shownIn(t, base) {
		assert.Equal(t, want[what], got, what)
	}
	for what, n := range map[string]int{"stops all": 3, "verdicts days": 0, "stops days": 1, "fields border": 1, "fields past border": 0, "zones in the hole": 0, "fields all": 2, "treatments days": 1} {
		assert.Equal(t, n, want[what].(season.Page).Matched, what)
	}
}

// What was replaced is shown no more, and whose a field is, is what the visits that count
// say.
func TestWhatWasReplacedIsNotShown(t *testing.T) {
	g := inDatabase(t)
	file, base := opened(t, filepath.Join(t.TempDir(), "s.gpkg")), opened(t, g.owner())
	wrong := brought(1, "Anna")
	wrong.Fields[0].Customer = "Wrong"
	wrong.Stops[0].Geometry = field("", 7).Boundary[0][0][0]
	right := brought(1, "Anna")
	right.Files[0].Content = []byte("stop,count\n1,9\n")
	var shown []map[string]season.Page
	var fields [][]geo.Field
	for _, s := range []*season.Season{file, base} {
		_, err := s.Add(wrong)
		require.NoError(t, err)
		_, replaced, err := s.AddDay(right, true)
		require.NoError(t, err)
		require.Equal(t, []int64{1}, replaced)
		pages := map[string]season.Page{}
		for _, layer := range shownLayers {
			page, err := s.Page(layer, season.Window{Boxes: [][4]float64{{-180, -90, 180, 90}}})
			require.NoError(t, err)
			for i, f := range page.Features { // a database gives no number twice
				page.Features[i].ID = ""
				if _, ok := f.Properties.Get("visit"); ok {
					page.Features[i].Properties = f.Properties[1:]
				}
			}
			pages[layer] = page
		}
		shown = append(shown, pages)
		all, err := s.Fields()
		require.NoError(t, err)
		fields = append(fields, all)
	}
	assert.Len(t, shown[0]["stops"].Features, 1)
	assert.Equal(t, shown[0], shown[1])
	assert.Equal(t, fields[0], fields[1])
	_, ok, err := base.Feature("stops", 1)
	require.NoError(t, err)
	assert.False(t, ok)
	extent, err := base.Extent("stops")
	require.NoError(t, err)
	assert.Equal(t, [4]float64{-100.991, 35.003, -100.991, 35.003}, extent.Box)
}
