package jobsheet_test

import (
	"fmt"
	"html"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/output/jobsheet"
	"github.com/geocoris/geocoris/internal/output/scene"
	"github.com/geocoris/geocoris/internal/spraying/handoff"
	"github.com/geocoris/geocoris/internal/spraying/spray"
)

// A part of the page is what one of its sections holds.
type part struct {
	rows map[string][]string // by their labels
	text string              // without markup
	runs [][5]string         // pass, latitude and longitude of on and off
}

// parts are those of the page of a sheet, as a reader finds them.
func parts(t *testing.T, s jobsheet.Sheet) (out []part) {
	t.Helper()
	var b strings.Builder
	require.NoError(t, s.WriteHTML(&b))
	tags := regexp.MustCompile(`<[^>]*>`)
	plain := func(text string) string { return html.UnescapeString(tags.ReplaceAllString(text, "")) }
	run := regexp.MustCompile(`<th scope="row">(\d+[a-z]?)</th><td><span>(.*?),</span> <span>(.*?)</span></td><td><span>(.*?),</span> <span>(.*?)</span></td>`)
	for _, section := range regexp.MustCompile(`(?s)<section.*?</section>`).FindAllString(b.String(), -1) {
		p := part{rows: map[string][]string{}, text: plain(section)}
		for _, m := range regexp.MustCompile(`<dt>(.*?)</dt><dd>(.*?)</dd>`).FindAllStringSubmatch(section, -1) {
			p.rows[plain(m[1])] = append(p.rows[plain(m[1])], plain(m[2]))
		}
		for _, m := range run.FindAllStringSubmatch(section, -1) {
			p.runs = append(p.runs, [5]string(m[1:]))
		}
		out = append(out, p)
	}
	return out
}

// shows holds that the first number of a text is the value, as far as it is rounded.
func shows(t *testing.T, text string, value float64, name string) {
	t.Helper()
	number := strings.ReplaceAll(regexp.MustCompile(`-?[\d,]+(\.\d+)?`).FindString(text), ",", "")
	v, err := strconv.ParseFloat(number, 64)
	require.NoError(t, err, "%s: %q", name, text)
	_, decimals, _ := strings.Cut(number, ".")
	assert.InDelta(t, value, v, 0.5000001*math.Pow10(-len(decimals)), "%s: %q", name, text)
}

// Every figure on the page is the job's own, worked out here from its plan and from what
// was typed in, in all units.
func TestEveryFigureOnThePageIsTheJobs(t *testing.T) {
	const gallon, acre, foot, mile = 3.785411784, 4046.8564224, 0.3048, 1609.344
	for _, units := range []figures.Units{figures.Metric, figures.US} {
		area, length, way, volume := 1e4, 1.0, 1e3, 1.0
		if units == figures.US {
			area, length, way, volume = acre, foot, mile, gallon
		}
		s := busy(t)
		s.Units = units
		page := parts(t, s)
		require.Len(t, page, 1+2+1+1, "totals, two fields, no job, files")
		var sprayed, treat, drive float64
		passes := 0
		for i, j := range s.Result.Jobs {
			p, c := page[1+i], j.Plan.Cover
			row := func(label string) string { require.Len(t, p.rows[label], 1, label); return p.rows[label][0] }
			shows(t, row("Field"), j.Area/area, "field")
			shows(t, row("Red ground"), j.Ground.Treat/area, "treat")
			shows(t, row("Spray ground"), geo.Area(j.Ground.Spray)/area, "ground")
			shows(t, row("To spray"), c.Sprayed/area, "sprayed")
			shows(t, row("Can be sprayed"), c.Treatable/area, "treatable")
			shows(t, row("With margin, in the field"), j.Ground.Grown/area, "with margin")
			shows(t, row("Margin"), (4.9+0.5*2)/length, "margin")
			shows(t, row("Passes"), float64(len(j.Plan.Passes)), "passes")
			shows(t, row("To drive"), (j.Plan.On+j.Plan.Off)/way, "way")
			shows(t, row("Driven on, off"), j.Plan.On/way, "on")
			shows(t, row("Turns"), float64(j.Plan.Turns), "turns")
			shows(t, row("Time"), math.Ceil(j.Plan.Seconds/60), "minutes, below an hour")
			shows(t, row("Switch early by"), 4*1.5/length, "lead")
			litres := c.Sprayed / acre * 15 * gallon
			_, carrier, _ := strings.Cut(row("Carrier"), ": ")
			shows(t, carrier, litres/volume, "carrier")
			loads := math.Ceil(litres / gallon / 100)
			shows(t, row("Tank loads"), loads, "loads")
			_, each, _ := strings.Cut(row("Tank loads"), " of ")
			shows(t, each, litres/gallon/loads, "a load")
			_, pounds, _ := strings.Cut(row("product A"), ": ")
			shows(t, pounds, c.Sprayed/acre*3, "product")
			spoken := regexp.MustCompile(`Spray (\d[^.]*\.\d+ \w+) to cover the hatched ground, in (\d+) passes`).FindStringSubmatch(p.text)
			require.NotNil(t, spoken)
			shows(t, spoken[1], c.Sprayed/area, "to spray, in words")
			shows(t, spoken[2], float64(len(j.Plan.Passes)), "passes, in words")
			assertPlaces(t, p, j)
			sprayed, treat, drive, passes = sprayed+c.Sprayed, treat+j.Ground.Treat, drive+j.Plan.On+j.Plan.Off, passes+len(j.Plan.Passes)
		}
		all := page[0].rows
		shows(t, all["Red ground"][0], treat/area, "all treat zones")
		shows(t, all["To spray"][0], sprayed/area, "all sprayed")
		shows(t, all["Passes"][0], float64(passes), "all passes")
		shows(t, all["To drive"][0], drive/way, "all ways")
		gallons := sprayed / acre * 15
		shows(t, all["Tank loads"][0], math.Ceil(gallons/100), "all loads")
		_, each, _ := strings.Cut(all["Tank loads"][0], " of ")
		shows(t, each, gallons/math.Ceil(gallons/100), "a load of all")
	}
}

// assertPlaces holds that coordinates are those of the job's features, latitude first
// and to six decimals.
func assertPlaces(t *testing.T, p part, j *handoff.Job) {
	t.Helper()
	text := func(at orb.Point) string { return fmt.Sprintf("%.6f, %.6f", at[1], at[0]) }
	r := &handoff.Result{Jobs: []*handoff.Job{j}}
	line := r.ABLines()[0].Geometry.(orb.LineString)
	assert.Equal(t, []string{text(line[0])}, p.rows["A of the passes"])
	assert.Equal(t, []string{text(line[1])}, p.rows["B of the passes"])
	if j.Gate != nil {
		assert.Equal(t, []string{text(*j.Gate)}, p.rows["Gate"])
	} else {
		assert.Equal(t, []string{text(j.Middle())}, p.rows["Middle of the field"])
	}
	switches := r.Switches()
	require.Len(t, p.runs, len(switches)/2)
	for i, run := range p.runs {
		for k, on := range []bool{true, false} {
			f := switches[2*i+k]
			is, _ := f.Properties.Get("on")
			assert.Equal(t, on, is)
			pass, _ := f.Properties.Get("pass")
			assert.Equal(t, fmt.Sprint(pass), strings.TrimRight(run[0], "abc"))
			assert.Equal(t, text(f.Geometry.(orb.Point)), run[1+2*k]+", "+run[2+2*k])
		}
	}
}

// The PDF says the same: rows, places and files.
func TestPrintSaysWhatThePageSays(t *testing.T) {
	s := busy(t)
	var all strings.Builder
	for _, sc := range s.Scenes() {
		for _, item := range sc.Layers[0].Items {
			if text, ok := item.(scene.Text); ok {
				all.WriteString(text.Text + " ")
			}
		}
	}
	printed := strings.Join(strings.Fields(all.String()), "")
	for _, p := range parts(t, s) {
		for label, values := range p.rows {
			for _, value := range values {
				assert.Contains(t, printed, strings.ReplaceAll(value, " ", ""), label)
			}
		}
		for _, run := range p.runs {
			assert.Contains(t, printed, run[0]+run[1]+","+run[2]+run[3]+","+run[4])
		}
	}
	for _, name := range s.Files {
		assert.Contains(t, printed, name)
	}
}

// A table tells which file is for what, by its standard, and names none that is not
// written.
func TestFilesAreNamedForWhatTheyAre(t *testing.T) {
	s := sheet(t, nil)
	text := func() string {
		all := parts(t, s)
		return all[len(all)-1].text
	}
	assert.NotContains(t, text(), "Which file")
	s.Files = []string{"ground.geojson", "passes.gpx", "jobsheet.pdf", "handoff.json"}
	got := text()
	for _, want := range []string{"Guidance displaypasses.gpxGPX 1.1", "Desktop GISground.geojsonGeoJSON, RFC 7946", "Paperjobsheet.pdfPDF, without tags"} {
		assert.Contains(t, got, want)
	}
	for _, not := range []string{"Console", "TASKDATA", "Spreadsheet", "GeoPackage", "handoff.json"} {
		assert.NotContains(t, got, not)
	}
	s.Files = append(s.Files, "TASKDATA.zip", "swaths.zip", "passes.csv", "rate_l_ha.zip", "flight.kml", "ground.kml", "fields.zip")
	got = text()
	for _, want := range []string{"Console in the cabTASKDATA.zipISO 11783-10", "Guidance displayswaths.zipShapefile", "Spreadsheetpasses.csvCSV", "Console in the cabrate_l_ha.zipShapefile, zipped: the column rate", "Aircraft or droneflight.kmlOGC KML", "Map on a phoneground.kmlOGC KML", "One folder for each fieldfields.zip"} {
		assert.Contains(t, got, want)
	}
}

// What the margin is for, in words; nothing where there is none.
func TestWhatTheTreatZoneWasGrownBy(t *testing.T) {
	for want, m := range map[string]spray.Margin{
		"Grown by 16 ft for GPS error.":                                                   {StopError: 4.9},
		"Grown by 16 ft for GPS error. ":                                                  {StopError: 3.92, SprayerError: 2.94},
		"Grown by 10 ft as asked.":                                                        {Extra: 3},
		"Grown by 19 ft: 16 ft for GPS error, 3 ft for 2 days of spread.":                 {StopError: 4.9, Growth: 0.5},
		"Grown by 29 ft: 16 ft for GPS error, 3 ft for 2 days of spread, 10 ft as asked.": {StopError: 4.9, Growth: 0.5, Extra: 3},
		"": {},
	} {
		s := sheet(t, func(set *handoff.Settings) { set.Margin, set.SprayOn = m, "2026-07-17" })
		s.Units = figures.US
		text := screen(t, s)
		if want == "" {
			assert.NotContains(t, text, "Grown by")
			assert.NotContains(t, text, "Margin:")
			continue
		}
		assert.Contains(t, text, ". "+strings.TrimSuffix(strings.TrimSpace(want), ".")+"\n")
	}
}

// A whole field grows nowhere.
func TestAWholeFieldIsNotSaidToGrow(t *testing.T) {
	whole := drawn(t, handoff.Settings{Spray: spray.Settings{Swath: 24, Heading: new(float64)}, Margin: spray.Margin{StopError: 4.9}}, orb.MultiPolygon{{square(-100, -100, 100, 100)}})
	assert.NotContains(t, screen(t, whole), "Grown by")
}

// Sentences are short: no more than 25 words, but in what is folded.
func TestSentencesAreShort(t *testing.T) {
	var b strings.Builder
	require.NoError(t, busy(t).WriteHTML(&b))
	_, text, _ := strings.Cut(b.String(), "<body>")
	text = regexp.MustCompile(`(?s)<dl>\n<div><dt>Grown on the map.*?</dl>`).ReplaceAllString(text, "")
	text = html.UnescapeString(regexp.MustCompile(`<[^>]*>`).ReplaceAllString(text, "\n"))
	sentences := 0
	for _, sentence := range regexp.MustCompile(`[.!?](\s|$)|\n`).Split(text, -1) {
		if words := len(strings.Fields(sentence)); words > 3 {
			sentences++
			assert.LessOrEqual(t, words, 25, sentence)
		}
	}
	assert.Greater(t, sentences, 30)
}
