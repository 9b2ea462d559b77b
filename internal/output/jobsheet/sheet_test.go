package jobsheet_test

import (
	"bytes"
	"encoding/json"
	"encoding/xml"
	"errors"
	"html"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/output/jobsheet"
	"github.com/geocoris/geocoris/internal/output/report"
	"github.com/geocoris/geocoris/internal/output/scene"
	"github.com/geocoris/geocoris/internal/spraying/handoff"
	"github.com/geocoris/geocoris/internal/spraying/spray"
	"github.com/geocoris/geocoris/internal/testkit"
)

// zones are an invented field of two zones, a mile from nowhere.
func zones(name string) []geo.Feature {
	box := func(x0, y0, x1, y1 float64) orb.Polygon {
		return orb.Polygon{{{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}, {x0, y0}}}
	}
	p := func(zone string) geo.Properties {
		return geo.Properties{{Name: "zone", Value: zone}, {Name: "field", Value: name}, {Name: "date", Value: "2026-07-15"}, {Name: "pest", Value: "aphid"}, {Name: "trust", Value: "better than the field's mean: skill 0.42"}}
	}
	return []geo.Feature{
		{Geometry: box(-101.6, 35.9, -101.598, 35.904), Properties: p("treat")},
		{Geometry: box(-101.598, 35.9, -101.594, 35.904), Properties: p("clear")},
	}
}

// shifted moves zones to the east by degrees.
func shifted(zones []geo.Feature, east float64) []geo.Feature {
	for _, z := range zones {
		for _, ring := range z.Geometry.(orb.Polygon) {
			for i := range ring {
				ring[i][0] += east
			}
		}
	}
	return zones
}

func sheet(t *testing.T, change func(*handoff.Settings)) jobsheet.Sheet {
	t.Helper()
	set := handoff.Settings{Spray: spray.Settings{Swath: 24}, GoodFor: 7}
	if change != nil {
		change(&set)
	}
	r, err := handoff.Run(zones("North <& ł>"), set)
	require.NoError(t, err)
	return jobsheet.Sheet{Result: r}
}

// What a name holds that no one sees is shown, as on the screen.
func TestNamesDoNotSteerThePage(t *testing.T) {
	r, err := handoff.Run(zones("a\x1b[31mb\u202ec"), handoff.Settings{Spray: spray.Settings{Swath: 24}, GoodFor: 7})
	require.NoError(t, err)
	var b bytes.Buffer
	require.NoError(t, jobsheet.Sheet{Result: r}.WriteHTML(&b))
	assert.False(t, strings.ContainsAny(b.String(), "\x1b\u202e"))
	assert.Contains(t, b.String(), `a\u001b[31mb\u202ec`)
}

// typed adds what a person might type in.
func typed(t *testing.T, s jobsheet.Sheet) jobsheet.Sheet {
	t.Helper()
	rate, err := spray.ParseRate("15gal/ac")
	require.NoError(t, err)
	tank, err := spray.ParseVolume("100gal")
	require.NoError(t, err)
	s.Mix = handoff.Mix{Rate: &rate, Tank: &tank, Products: []spray.Product{{Name: "product A", Amount: 3, Unit: "lb", Per: "ac"}}}
	return s
}

func screen(t *testing.T, s jobsheet.Sheet) string {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, s.WriteScreen(&b, "job", nil))
	return b.String()
}

func TestNothingIsPreset(t *testing.T) {
	text := screen(t, sheet(t, nil))
	assert.Contains(t, text, "Carrier:                    not given")
	assert.Contains(t, text, "Product:                    not given")
	for _, word := range []string{"Tank loads", "Time:", "Switch early"} {
		assert.NotContains(t, text, word)
	}
}

// The zone is 0.002° by 0.004° at 35.902°: 180.54 m by 443.87 m by the radii of
// curvature of WGS 84, 8.0137 ha or 19.802 ac; at 15 gal/ac and 3 lb/ac the sums
// follow. Its whole swaths are 8 of 24 m.
func TestSumsOfWhatWasTyped(t *testing.T) {
	s := typed(t, sheet(t, func(set *handoff.Settings) {
		set.Spray.Heading = new(float64)
		set.Spray.Sections = 200 // of 12 cm: what is sprayed is the ground, nearly
	}))
	text := screen(t, s)
	assert.Contains(t, text, "Red ground:                 8.01 ha (19.8 ac)")
	assert.Contains(t, text, "Passes:                     8 of 24 m (78.7 ft) at 0.0° (asked)")
	// 19.802 ac are 297.03 gal: three tanks of 100 gal, 99.01 gal and 19.802 lb each.
	assert.Regexp(t, `Tank loads: +3 of 99 gal`, text)
	assert.Regexp(t, `3 lb/ac: 59\.4\d? lb in all; 19\.8\d? lb in each load`, text)
}

// The sheet begins with an order to the driver, and no flag of the command stands on it.
func TestTheSheetBeginsWithAnOrder(t *testing.T) {
	for _, verdict := range []string{"spot spray", "treat the whole field", "look again"} {
		s := sheet(t, nil)
		s.Result.Jobs[0].Advice = handoff.Advice{Verdict: verdict, Heading: verdict, LookAgain: "2026-07-18"}
		s.Result.Idle = []handoff.Idle{{Field: "B", Why: errors.New("held back"), Advice: handoff.Advice{Verdict: "look again"}}}
		var b strings.Builder
		require.NoError(t, s.WriteHTML(&b))
		_, text, _ := strings.Cut(b.String(), "</style>")
		said := html.UnescapeString(regexp.MustCompile(`<[^>]*>`).ReplaceAllString(text, " "))
		order := "Spray 8.23 ha (20.3 ac) to cover the hatched ground, in 19 passes of 24 m (78.7 ft), by Saturday 18 July. Later only after a new look, and after Wednesday 22 July not by this map."
		assert.Contains(t, said, order)
		if verdict == "spot spray" {
			assert.Less(t, strings.Index(said, order), strings.Index(said, "The map says"))
		}
		assert.NotRegexp(t, `--[a-z]|Sprayed`, said)
		for _, page := range s.Scenes() {
			assert.NotRegexp(t, `--[a-z]|Sprayed`, page.Description)
		}
	}
}

// The day to spray by is never after that of the next look, and a day given after it is
// told; on that day and before nothing is.
func TestNoDayToSprayIsAfterTheNextLook(t *testing.T) {
	for _, c := range []struct{ on, look, task, then string }{
		{"", "2026-07-18", ", by Saturday 18 July.", "Later only after a new look, and after Wednesday 22 July not by this map."},
		{"", "2026-07-22", ", by Wednesday 22 July.", ""},
		{"", "2026-07-25", ", by Wednesday 22 July.", ""},
		{"", "", ", by Wednesday 22 July.", ""},
		{"2026-07-18", "2026-07-18", ", on Saturday 18 July.", ""},
		{"2026-07-19", "2026-07-18", ", on Sunday 19 July.", "Look again first: that is after Saturday 18 July, the day of the next look. The map is good until Wednesday 22 July."},
		{"2026-07-23", "2026-07-18", "Too late: the map was good until Wednesday 22 July, so scout again.", ""},
	} {
		s := sheet(t, func(set *handoff.Settings) { set.SprayOn = c.on })
		s.Result.Jobs[0].Advice = handoff.Advice{Verdict: "spot spray", LookAgain: c.look}
		var lines []string
		for _, l := range (jobsheet.Brief{Sheet: s, Width: 400}).Lines() {
			lines = append(lines, strings.TrimSpace(l.Text))
		}
		text := strings.Join(lines, "\n")
		assert.Contains(t, text, c.task)
		assert.Contains(t, text, c.then)
		assert.Equal(t, c.then != "", strings.Contains(text, "Look again first") || strings.Contains(text, "Later only"), text)
	}
}

func TestLateSprayingIsSaid(t *testing.T) {
	text := screen(t, sheet(t, func(set *handoff.Settings) { set.SprayOn = "2026-07-23" }))
	assert.Contains(t, text, "The map is good until Wednesday 22 July 2026. Planned for Thursday 23 July 2026. TOO LATE, scout again.")
	assert.Contains(t, text, "note: North <& ł>: the map was good until 2026-07-22")
}

// What is sprayed past the edge is told with the way to avoid it, and not where
// nothing is.
func TestGroundPastTheEdgeIsTold(t *testing.T) {
	heading, none := 45.0, 0.0
	slanted := sheet(t, func(s *handoff.Settings) { s.Spray.Heading = &heading })
	require.Greater(t, slanted.Result.Totals().OutOfField, 100.0)
	for _, text := range []string{screen(t, slanted), slanted.Scenes()[0].Description} {
		assert.Regexp(t, `0\.\d\d ha \(\d\.\d\d ac\) is sprayed past the field's edge\. Shut nozzles there where you can\.`, text)
	}
	kept := sheet(t, func(s *handoff.Settings) { s.Spray.Heading, s.Spray.Overrun = &heading, &none })
	assert.NotContains(t, screen(t, kept), "past the field's edge")
	little := sheet(t, func(s *handoff.Settings) { s.Spray.Heading, s.Spray.Sections = &heading, 200 })
	assert.Regexp(t, `\d[\d.]* m² is sprayed past the field's edge\. Shut nozzles there where you can\.`, screen(t, little))
}

// What the map advised stands on screen and page: first of all where the job is not
// that, and before the trust where it is.
func TestTheVerdictIsTold(t *testing.T) {
	for _, c := range []struct {
		verdict, advice string
		whole           bool
		first, says     string
	}{
		{"spot spray", "spot spray 8.01 ha, the treat zone; look again on 2026-07-18", false, "Spray job", "The map says: spray the red ground; look again on Saturday 18 July if it has not been sprayed by then. After a spray, look again once the label lets you in."},
		{"look again", "do not spray now; look again on 2026-07-18", false, "AGAINST THE MAP, which says: do not spray yet; look again on Saturday 18 July.", ""},
		{"treat the whole field", "treat the whole field; look again on 2026-07-18", false, "THE MAP SAYS: spray the whole field; look again on Saturday 18 July if it has not been sprayed by then. After a spray, look again once the label lets you in. This job covers only the red ground, 8.01 ha (19.8 ac) of 24.0 ha (59.4 ac), as asked.", ""},
		{"treat the whole field", "treat the whole field; look again on 2026-07-18", true, "Spray job", "The map says: spray the whole field; look again on Saturday 18 July if it has not been sprayed by then. After a spray, look again once the label lets you in. This job covers the whole field."},
		{"undecided", "undecided: one hot stop; walk 4 more stops round stop 7, today; else spot spray 8.01 ha", false, "THE MAP SAYS: not decided yet: one hot stop; walk 4 more stops round stop 7, today. Look again by Saturday 18 July. This job is what it names if that cannot be done today.", ""},
		{"", "", false, "Spray job", "What the map says is not known: the zones carry no verdict."},
	} {
		s := sheet(t, func(set *handoff.Settings) { set.WholeField = c.whole })
		s.Result.Jobs[0].Advice = handoff.Advice{Verdict: c.verdict, Heading: c.advice, LookAgain: "2026-07-18"}
		s.Result.Jobs[0].Fallback = c.verdict == "undecided"
		text := screen(t, s)
		assert.True(t, strings.HasPrefix(text, c.first), text)
		assert.Contains(t, text, c.says)
		onPage := strings.Join(words(t, s), " ")
		assert.Contains(t, onPage, c.first)
		assert.Contains(t, onPage, c.says)
		assert.Contains(t, s.Scenes()[0].Description, c.says)
		var b bytes.Buffer
		require.NoError(t, s.WriteJSON(&b))
		var out struct {
			Jobs []struct {
				Verdict, Advice string
				Look            string `json:"look_again"`
				Against         bool   `json:"against_verdict"`
				Whole           bool   `json:"whole_field"`
			}
		}
		require.NoError(t, json.Unmarshal(b.Bytes(), &out))
		assert.Equal(t, c.verdict, out.Jobs[0].Verdict)
		assert.Equal(t, c.advice, out.Jobs[0].Advice)
		assert.Equal(t, "2026-07-18", out.Jobs[0].Look)
		assert.Equal(t, c.verdict == "look again", out.Jobs[0].Against)
		assert.Equal(t, c.whole, out.Jobs[0].Whole)
		if c.first == "Spray job" {
			assert.Contains(t, s.Document().Description, c.says, "where nothing warns it is told all the same")
		} else {
			assert.True(t, strings.HasPrefix(onPage, c.first), onPage)
			assert.True(t, strings.HasPrefix(s.Scenes()[0].Description, c.first))
			assert.Contains(t, s.Document().Description, c.first)
			assert.Contains(t, s.Route().Description, c.first)
		}
	}
}

// A rule that asks for the whole field is told to whoever sprays less.
func TestTheSheetTellsThatTheWholeFieldIsDue(t *testing.T) {
	s := sheet(t, nil)
	s.Result.Jobs[0].Advice = handoff.Advice{Verdict: "spot spray", Heading: "spot spray", WholeDue: true}
	onPage := func() string { return strings.Join(words(t, s), " ") }
	assert.Contains(t, onPage(), report.WholeDue)
	assert.Contains(t, screen(t, s), report.WholeDue)
	assert.Contains(t, s.Document().Description, report.WholeDue)
	s.Result.Jobs[0].Whole = true
	assert.NotContains(t, onPage(), report.WholeDue, "all of it is sprayed")
}

// Whoever sprays learns which counts are missing, as more ground may have to be sprayed.
func TestTheSheetTellsWhatWasNotRead(t *testing.T) {
	s := sheet(t, nil)
	text := func() string {
		var screen, page strings.Builder
		require.NoError(t, s.WriteScreen(&screen, "job", nil))
		require.NoError(t, s.WriteHTML(&page))
		assert.Equal(t, strings.Contains(screen.String(), "Not read:"), strings.Contains(page.String(), "Not read:"))
		return screen.String()
	}
	assert.NotContains(t, text(), "Not read:")
	j := s.Result.Jobs[0]
	j.Advice = handoff.Advice{Verdict: "spot spray", Heading: "spot spray 1 ha", NotRead: "the count of stop 9"}
	assert.Contains(t, text(), `  Not read: the count of stop 9. What was counted there may make the red ground larger.`+"\n")
	j.Whole = true
	assert.Contains(t, text(), `  Not read: the count of stop 9.`+"\n", "all of it is sprayed")
}

// Notes on keep-offs stand above all else, on every page and in the figures.
func TestKeepOffNotesComeFirst(t *testing.T) {
	s := sheet(t, nil)
	s.Result.KeepOffNotes = []string{"hives.kml: the link to more.kml was not followed"}
	const want = "Keep-offs: hives.kml: the link to more.kml was not followed"
	assert.Less(t, strings.Index(screen(t, s), want), strings.Index(screen(t, s), "good until"))
	assert.Contains(t, screen(t, s), want)
	assert.Contains(t, s.Scenes()[0].Description, want)
	var b bytes.Buffer
	require.NoError(t, s.WriteJSON(&b))
	assert.Contains(t, b.String(), "hives.kml: the link")
	for range 5 {
		s.Result.KeepOffNotes = append(s.Result.KeepOffNotes, "one more note")
	}
	assert.Contains(t, screen(t, s), "note: keep-offs: one more note", "the screen has room for all")
	assert.Contains(t, s.Scenes()[0].Description, "further notes: 1, in handoff.json")
}

func TestEveryCautionStandsOnThePage(t *testing.T) {
	var b bytes.Buffer
	require.NoError(t, typed(t, sheet(t, nil)).WriteHTML(&b))
	text := strings.Join(words(t, sheet(t, nil)), " ")
	for _, c := range jobsheet.Cautions() {
		assert.Contains(t, text, c)
	}
	for _, blank := range []string{"Re-entry interval", "Pre-harvest interval", "Licence no.", "Wind limit", "Wind speed", "Time"} {
		assert.Contains(t, text, blank)
	}
	assert.Contains(t, b.String(), "North &lt;&amp; ł&gt;")
	assert.NotContains(t, b.String(), "North <&")
}

// The field's name stands whole on its page, however long, in letters that the font
// of print has.
func TestNamesStandWhole(t *testing.T) {
	for name, printed := range map[string]string{
		strings.Repeat("x", 75): strings.Repeat("x", 75),
		"North forty behind the old grain elevator, leased from the co-operative, rows east to west, section 12": "",
		strings.Repeat("Long", 80): "", "東の畑 West": "U+6771 U+306E U+7551 West", "a😀b": "a U+1F600 b",
	} {
		r, err := handoff.Run(zones(name), handoff.Settings{Spray: spray.Settings{Swath: 24}})
		require.NoError(t, err)
		s := jobsheet.Sheet{Result: r}
		if printed == "" {
			printed = name
		}
		var all string
		first := s.Scenes()[0]
		for _, item := range first.Layers[0].Items {
			if text, ok := item.(scene.Text); ok {
				all += strings.ReplaceAll(text.Text, " ", "")
				assert.LessOrEqual(t, text.At.Y, first.Height-4, text.Text)
			}
		}
		assert.Contains(t, all, "Sprayjob:"+strings.ReplaceAll(printed, " ", ""))
		assert.Equal(t, printed != name, strings.Contains(all, strings.ReplaceAll(scene.LettersLacking, " ", "")))
		var page bytes.Buffer
		require.NoError(t, s.WriteHTML(&page))
		assert.Contains(t, page.String(), ">Spray job: "+name+"</h2>")
		var b bytes.Buffer
		require.NoError(t, s.WritePDF(&b))
	}
}

// words are all texts of the first page.
func words(t *testing.T, s jobsheet.Sheet) (out []string) {
	t.Helper()
	for _, item := range s.Scenes()[0].Layers[0].Items {
		if text, ok := item.(scene.Text); ok {
			out = append(out, text.Text)
		}
	}
	return out
}

// The page of all fields says by when: the first day over all, and that of each field.
func TestTheCoverSaysByWhen(t *testing.T) {
	s := busy(t)
	all := func() string { return strings.Join(words(t, s), " ") }
	assert.Contains(t, all(), "When Friday 17 July")
	for i, j := range s.Result.Jobs {
		j.Days.SprayOn, j.Days.GoodUntil = "", []string{"2026-07-23", "2026-07-21"}[i]
	}
	assert.Contains(t, all(), "When by Tuesday 21 July")
	assert.Contains(t, all(), "by Thu 23 Jul")
	assert.Contains(t, all(), "by Tue 21 Jul")
	s.Result.Jobs[1].Days.Late = true
	assert.Contains(t, all(), "When too late for some: scout again")
	for _, j := range s.Result.Jobs {
		j.Days = handoff.Days{}
	}
	assert.NotContains(t, all(), "When by")
}

// Whatever is said, it stands on the page: nothing beside it or below it.
func TestNothingIsCutOff(t *testing.T) {
	long := typed(t, sheet(t, func(set *handoff.Settings) {
		set.Spray = spray.Settings{Swath: 6, Sections: 3, Speed: 4, Lag: 1.5}
		set.Margin = spray.Margin{StopError: 4.9, SprayerError: 0.5, Growth: 1, Extra: 3}
		set.SprayOn = "2026-07-30"
	}))
	for _, j := range long.Result.Jobs {
		j.Trust = strings.Repeat("no better than the field's mean: decide on the whole field; ", 5)
	}
	for range 40 {
		long.Result.KeepOffNotes = append(long.Result.KeepOffNotes, strings.Repeat("a file of keep-offs that needs some words; ", 5))
	}
	for range 5 {
		long.Mix.Products = append(long.Mix.Products, spray.Product{Name: "a product with quite a long name", Amount: 12.345, Unit: "fl oz", Per: "ac"})
	}
	for name, s := range map[string]jobsheet.Sheet{"short": sheet(t, nil), "long": long, "in Spanish": spanish(long), "much": spanish(busy(t))} {
		page := s.Scenes()[0]
		for _, item := range page.Layers[0].Items {
			if text, ok := item.(scene.Text); ok {
				assert.LessOrEqual(t, text.At.Y, page.Height-4, "%s: %s", name, text.Text)
				assert.GreaterOrEqual(t, text.At.X, 4.0, "%s: %s", name, text.Text)
				assert.LessOrEqual(t, text.At.X, page.Width-4, "%s: %s", name, text.Text)
			}
		}
	}
}

func TestFilesAreTheSameOnEveryRun(t *testing.T) {
	for name, write := range map[string]func(jobsheet.Sheet, io.Writer) error{
		"html": jobsheet.Sheet.WriteHTML, "pdf": jobsheet.Sheet.WritePDF, "json": jobsheet.Sheet.WriteJSON,
	} {
		var a, b bytes.Buffer
		require.NoError(t, write(typed(t, sheet(t, nil)), &a))
		require.NoError(t, write(typed(t, sheet(t, nil)), &b))
		assert.Equal(t, a.Bytes(), b.Bytes(), name)
	}
}

// All fields together come first, then two pages for each: the job, and its places, files
// and figures.
func TestPDFHasPagesForEachField(t *testing.T) {
	r, err := handoff.Run(append(zones("A"), shifted(zones("B"), 0.01)...), handoff.Settings{Spray: spray.Settings{Swath: 24}})
	require.NoError(t, err)
	var b bytes.Buffer
	require.NoError(t, jobsheet.Sheet{Result: r}.WritePDF(&b))
	assert.True(t, bytes.HasPrefix(b.Bytes(), []byte("%PDF-")))
	assert.Equal(t, 1+2*2, bytes.Count(b.Bytes(), []byte("/Type /Page\n")))
	var titles []string
	for _, s := range (jobsheet.Sheet{Result: r}).Scenes() {
		titles = append(titles, s.Title)
	}
	assert.Equal(t, []string{"Spray jobs: 2 fields", "Spray job: A", "A: places, files, figures", "Spray job: B", "B: places, files, figures"}, titles)
}

// Poppler reads the PDF with the words that the pages have.
func TestAnotherReaderFindsThePagesOfThePDF(t *testing.T) {
	s := busy(t)
	var b bytes.Buffer
	require.NoError(t, s.WritePDF(&b))
	path := filepath.Join(t.TempDir(), "jobsheet.pdf")
	require.NoError(t, os.WriteFile(path, b.Bytes(), 0o644))
	pages := testkit.PDFPages(t, path)
	require.Len(t, pages, len(s.Scenes()))
	for i, scene := range s.Scenes() {
		first := strings.Fields(scene.Title)[0]
		assert.Contains(t, pages[i].Text(), first, "page %d", i+1)
	}
}

func TestJSONHoldsNoNaN(t *testing.T) {
	var b bytes.Buffer
	require.NoError(t, typed(t, sheet(t, nil)).WriteJSON(&b))
	var out map[string]any
	require.NoError(t, json.Unmarshal(b.Bytes(), &out))
	assert.Len(t, out["jobs"], 1)
}

func TestPicturesAreWellFormed(t *testing.T) {
	var b bytes.Buffer
	require.NoError(t, scene.WriteSVG(&b, typed(t, sheet(t, nil)).Scenes()[0]))
	d := xml.NewDecoder(&b)
	for {
		if _, err := d.Token(); err == io.EOF {
			break
		} else {
			require.NoError(t, err)
		}
	}
}
