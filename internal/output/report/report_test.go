package report_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/geometry/boundary"
	"github.com/geocoris/geocoris/internal/geometry/zones"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/language/vocabulary"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/mapping/fieldstats"
	"github.com/geocoris/geocoris/internal/mapping/verdict"
	"github.com/geocoris/geocoris/internal/output/report"
	"github.com/geocoris/geocoris/internal/scouting/survey"
	"github.com/geocoris/geocoris/internal/testkit"
	"github.com/geocoris/geocoris/internal/testkit/given"
)

// result is a morning on two fields, of which only the first was walked, with
// three stops: too few to believe.
func result(t *testing.T) *assess.Result {
	t.Helper()
	c, err := geofile.Read(testkit.Testdata(t, "demo", "field.geojson"), geofile.Limits{})
	require.NoError(t, err)
	fields, _, err := boundary.Fields(c.Features, boundary.Settings{})
	require.NoError(t, err)
	s, err := survey.Read(given.Table("stop,longitude,latitude,count,leaves,pest\n"+
		"a,-101.600,35.9,500,10,thrips & co\nb,-101.601,35.9,0,10,thrips & co\nc,-101.602,35.901,7,10,thrips & co\n"), survey.Options{})
	require.NoError(t, err)
	r, err := assess.Run(t.Context(), fields, s, assess.Settings{Levels: assess.LevelSettings{TreatAt: 20, WatchAt: 5}})
	require.NoError(t, err)
	return r
}

func TestEveryFileSaysThatTheMapIsNotToBeBelieved(t *testing.T) {
	r := result(t)
	for _, f := range report.ZoneFeatures(r) {
		trust, _ := f.Properties.Get("trust")
		assert.Equal(t, vocabulary.English.Word(vocabulary.TrustNoBetter), trust)
		field, _ := f.Properties.Get("field")
		assert.Equal(t, "Pivot", field, "ground nobody walked has no zone")
	}
	var kml, summary, screen bytes.Buffer
	require.NoError(t, geofile.WriteKML(&kml, report.Document(r, figures.Both)))
	require.NoError(t, report.WriteSummary(&summary, r))
	require.NoError(t, report.Screen{Result: r}.Write(&screen))
	for name, text := range map[string]string{"KML": kml.String(), "summary": summary.String(), "screen": screen.String()} {
		assert.Contains(t, strings.ReplaceAll(text, "&#39;", "'"), vocabulary.English.Word(vocabulary.TrustNoBetter), name)
		assert.Contains(t, text, "the label is the law", name)
	}
	assert.Contains(t, screen.String(), "Corner block, 9.05 ha (22.4 ac): not scouted, so no zones; nothing here says it is clear")
	assert.Contains(t, kml.String(), "Corner block: not scouted, no zones.")
}

// The summary tells of each level where it is from.
func TestSummaryTellsTheSourceOfEachLevel(t *testing.T) {
	r := result(t)
	r.Levels.TreatSource, r.Levels.WatchSource = "a rule", "half of the treat level"
	for _, f := range r.Fields {
		f.Levels = r.Levels
	}
	var b bytes.Buffer
	require.NoError(t, report.WriteSummary(&b, r))
	var told struct {
		Levels map[string]any `json:"levels"`
	}
	require.NoError(t, json.Unmarshal(b.Bytes(), &told))
	for name, want := range map[string]any{"treat_at": 20.0, "watch_at": 5.0, "treat_source": "a rule", "watch_source": "half of the treat level"} {
		assert.Equal(t, want, told.Levels[name], name)
	}
}

// Rows that were not used are named by file and line, those that could not be read and
// those whose stop lies in no field.
func TestRowsThatWereNotUsedAreNamed(t *testing.T) {
	r := result(t)
	r.Survey.Problems = []survey.Problem{{File: "a.csv", Line: 7, Severity: survey.Refused}, {File: "a.csv", Line: 8, Severity: survey.Doubtful}}
	r.Survey.Problems = append(r.Survey.Problems, survey.Problem{File: "a.csv", Line: 7, Severity: survey.Refused, Column: "leaves"})
	r.Away = []survey.Stop{{Records: []survey.Record{{File: "b.csv", Line: 12}, {File: "b.csv", Line: 13}}}}
	r.Survey.Tally.Read, r.Survey.Tally.SetAside = 5, 3
	var screen bytes.Buffer
	require.NoError(t, report.Brief{Screen: report.Screen{Result: r}, Width: 200}.Write(&screen))
	assert.Contains(t, screen.String(), "a.csv:7")
	assert.Contains(t, screen.String(), "b.csv:12, b.csv:13.")
	assert.Equal(t, 1, strings.Count(screen.String(), "a.csv:7"), "a row with two faults is one row")
	assert.NotContains(t, screen.String(), "a.csv:8", "a doubtful row was used")
}

// Rows of one line are told by their waypoints, and copies as what they are.
func TestRowsOfOneLineAndCopiesAreTold(t *testing.T) {
	r := result(t)
	say := func() string {
		var screen bytes.Buffer
		require.NoError(t, report.Brief{Screen: report.Screen{Result: r}, Width: 200}.Write(&screen))
		return screen.String()
	}
	r.Survey.Problems = []survey.Problem{{File: "w.gpx", Line: 1, Name: "3", Severity: survey.Refused}, {File: "w.gpx", Line: 1, Name: "9", Severity: survey.Refused}}
	r.Survey.Stops = append(r.Survey.Stops, survey.Stop{Name: "1", Records: []survey.Record{{File: "w.gpx", Line: 1}}})
	r.Away = []survey.Stop{{Name: "7", Records: []survey.Record{{File: "w.gpx", Line: 1}}}}
	r.Survey.Tally.Read, r.Survey.Tally.SetAside = 5, 3
	assert.Contains(t, say(), `: w.gpx:1 "3", w.gpx:1 "9", w.gpx:1 "7".`)

	r.Away, r.Survey.Files = nil, []string{"a.csv"}
	table := "stop,longitude,latitude,count,leaves,date\n"
	for i := range 6 {
		table += fmt.Sprintf("%d,1,2.00%d,%d,10,2026-07-15\n", i, i, 3*i+1)
	}
	twice := func(again string) {
		s, err := survey.Read([]geofile.Source{{Name: "a.csv", Content: []byte(table + again)}}, survey.Options{})
		require.NoError(t, err)
		r.Survey.Problems, r.Survey.Tally = s.Problems, s.Tally
	}
	_, rows, _ := strings.Cut(table, "\n")
	twice(rows)
	assert.Contains(t, say(), "6 of 12 rows not used: the table stands twice, and the second copy was left out.")
	twice(strings.Join(strings.SplitAfter(rows, "\n")[:5], ""))
	assert.Contains(t, say(), "5 of 11 rows not used, as they stand there twice: a.csv:8, a.csv:9, a.csv:10 and 2 more.")
	twice(rows + "9,1,2.1,x,10,2026-07-15\n")
	assert.Contains(t, say(), "7 of 13 rows not used: a.csv:8")
}

func TestZonePropertiesAddUp(t *testing.T) {
	r := result(t)
	var ha, share float64
	stops := int64(0)
	for _, f := range report.ZoneFeatures(r) {
		ha += number(t, f, "area_ha")
		share += number(t, f, "share")
		n, _ := f.Properties.Get("stops")
		stops += n.(int64)
		assert.InDelta(t, number(t, f, "area_ha")*geo.SquareMetresPerHectare/geo.SquareMetresPerAcre, number(t, f, "area_ac"), 2e-4)
		assert.Equal(t, 20.0, number(t, f, "threshold"))
	}
	assert.InDelta(t, 50.0907, ha, 3e-4)
	assert.InDelta(t, 1, share, 3e-4)
	assert.EqualValues(t, 3, stops)
	assert.Len(t, report.StopFeatures(r), 3)
}

func number(t *testing.T, f geo.Feature, name string) float64 {
	v, ok := f.Properties.Get(name)
	require.True(t, ok, name)
	return v.(float64)
}

func TestSummaryHasNullForWhatIsNoNumber(t *testing.T) {
	r := result(t)
	r.Fields[0].Trust.Score.Correlation = math.NaN()
	var b bytes.Buffer
	require.NoError(t, report.WriteSummary(&b, r))
	var s map[string]any
	require.NoError(t, json.Unmarshal(b.Bytes(), &s))
	field := s["fields"].([]any)[0].(map[string]any)
	score := field["leave_one_out"].(map[string]any)
	value, present := score["correlation"]
	assert.True(t, present)
	assert.Nil(t, value)
	assert.Equal(t, []any{"Corner block"}, s["fields_not_scouted"])
	assert.Equal(t, "thrips & co", s["pest"], "text as it is")
}

func TestUnits(t *testing.T) {
	r := result(t)
	for units, want := range map[figures.Units]string{
		figures.Both: "Pivot, 50.1 ha (124 ac): 3 stops", figures.Metric: "Pivot, 50.1 ha: 3 stops", figures.US: "Pivot, 124 ac: 3 stops",
	} {
		var b bytes.Buffer
		require.NoError(t, report.Screen{Result: r, Units: units}.Write(&b))
		assert.Contains(t, b.String(), want)
		assert.Equal(t, units != figures.US, regexp.MustCompile(`\bha\b`).MatchString(b.String()), units)
		assert.Equal(t, units != figures.Metric, regexp.MustCompile(`\bac\b`).MatchString(b.String()), units)
	}
}

// The highest of a zone is that of a stop, not of the surface, and rounding never lifts it to the
// level it is below.
func TestHighestIsThatOfAStop(t *testing.T) {
	levels := zones.Levels{TreatAt: 40, WatchAt: 12.649}
	f := &assess.Field{Map: &zones.Map{Zones: []zones.Zone{{Class: zones.Watch, Max: 39.997}}}}
	assert.Equal(t, "–", report.Highest(f, zones.Watch, levels), "no stop lies in it")
	for _, c := range []struct {
		class  zones.Class
		values []float64
		want   string
	}{
		{zones.Watch, []float64{39.4, 13}, "39.4"}, {zones.Watch, []float64{39.97}, "<40"}, {zones.Watch, []float64{13, 41}, "41"},
		{zones.Treat, []float64{40}, "40"}, {zones.Clear, []float64{7.63, 0}, "7.63"}, {zones.Clear, []float64{12.64}, "<12.6"}, {zones.Clear, []float64{0}, "0"},
	} {
		f.Stops = []assess.Stop{{Zone: c.class + 1, Value: 99}}
		for _, v := range c.values {
			f.Stops = append(f.Stops, assess.Stop{Zone: c.class, Value: v})
		}
		assert.Equal(t, c.want, report.Highest(f, c.class, levels))
	}
}

// Nor any other value to a level that it is below, or it would contradict the zone that
// it stands in.
func TestNoValueReadsAsALevelItIsBelow(t *testing.T) {
	levels := zones.Levels{TreatAt: 40, WatchAt: 12.649}
	for value, want := range map[float64]string{
		39.97: "<40", 39.9: "39.9", 40: "40", 12.56: "<12.6", 12.54: "12.5", 12.649: "12.6", 112: "112", 0: "0", math.NaN(): "–",
	} {
		assert.Equal(t, want, report.Levelled(value, levels))
	}
	assert.Equal(t, "39.9", report.Levelled(39.9, zones.Levels{TreatAt: 40, WatchAt: math.NaN()}))
	v := verdict.Verdict{Figures: verdict.Figures{Stats: fieldstats.Summary{Mean: 39.97}, Treat: 40, Watch: 12.6}}
	assert.Contains(t, strings.Join(report.VerdictReasons(v, figures.Metric), "; "), "mean <40 against a threshold of 40")
}

// Two weeks on one map are said before all else.
func TestSamplesOfSeveralDaysAreSaidFirst(t *testing.T) {
	r := result(t)
	r.Survey.Dates = []string{"2026-07-08", "2026-07-15"}
	for i := range r.Fields[0].Stops {
		r.Fields[0].Stops[i].Date = r.Survey.Dates[i%2]
	}
	var b bytes.Buffer
	require.NoError(t, report.Screen{Result: r, Units: figures.Both}.Write(&b))
	lines := strings.Split(b.String(), "\n")
	assert.Contains(t, lines[1], "SAMPLES OF 2 DAYS ON ONE MAP, 2026-07-08 to 2026-07-15")
}

// Each zone's cut is its own level: of watch ground not that of treat ground.
func TestEachZoneSaysItsCut(t *testing.T) {
	seen := map[any]any{}
	for _, f := range report.ZoneFeatures(result(t)) {
		zone, _ := f.Properties.Get("zone")
		seen[zone], _ = f.Properties.Get("cut")
	}
	assert.Equal(t, map[any]any{"treat": 20.0, "watch": 5.0, "clear": 0.0}, seen)
}
