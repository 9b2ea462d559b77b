package page_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/followup/compare"
	"github.com/geocoris/geocoris/internal/geometry/zones"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/mapping/verdict"
	"github.com/geocoris/geocoris/internal/output/page"
	"github.com/geocoris/geocoris/internal/output/report"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// square is an invented field of 9 ha whose lower left corner lies so many metres east.
func square(t testing.TB, name string, east float64) (geo.Field, geo.Frame) {
	t.Helper()
	frame, err := geo.NewFrame(orb.Point{-100.2, 37.1})
	require.NoError(t, err)
	const side = 300
	return geo.Field{Name: name, Boundary: geo.Wind(frame.InversePolygons(orb.MultiPolygon{{{{east, 0}, {east + side, 0}, {east + side, side}, {east, side}, {east, 0}}}}))}, frame
}

// scouted is an invented morning: in each field 16 stops in a square, of which each has
// the count that is asked for.
func scouted(t testing.TB, fields int, count func(field int, x, y float64) float64) *assess.Result {
	t.Helper()
	s := &survey.Survey{Pest: "sorghum aphid", Dates: []string{"2026-07-15"}}
	var all []geo.Field
	for i := range fields {
		east := 400 * float64(i)
		f, frame := square(t, fmt.Sprintf("Invented %d", i+1), east)
		all = append(all, f)
		for k := range 16 {
			x, y := float64(37+75*(k%4)), float64(37+75*(k/4))
			at := frame.Inverse(orb.Point{east + x, y})
			s.Stops = append(s.Stops, survey.Stop{
				Name: fmt.Sprint(len(s.Stops) + 1), Longitude: at[0], Latitude: at[1], Total: 10 * count(i, x, y), Units: 10, Accuracy: math.NaN(),
				Records: []survey.Record{{File: "invented.csv", Line: len(s.Stops) + 2}},
			})
		}
	}
	s.Tally = survey.Tally{Read: len(s.Stops), Used: len(s.Stops)}
	r, err := assess.Run(t.Context(), all, s, assess.Settings{KeepSurface: true})
	require.NoError(t, err)
	return r
}

// twelve is a page of twelve fields, the later the worse.
func twelve(t testing.TB) page.Page {
	t.Helper()
	rng := rand.New(rand.NewPCG(3, 5))
	return of(t, scouted(t, 12, func(field int, x, y float64) float64 {
		return math.Round(float64(field*field) * math.Exp(-math.Hypot(x-60, y-60)/90) * (0.8 + 0.4*rng.Float64()))
	}))
}

// unlike is a page of a clean field, a hot one and one with a single hot stop, which is not
// decided.
func unlike(t testing.TB) page.Page {
	t.Helper()
	p := of(t, scouted(t, 3, func(field int, x, y float64) float64 {
		return [...]float64{0.3, 75, map[bool]float64{true: 90}[x < 75 && y < 75]}[field]
	}))
	kinds := map[string]verdict.Kind{}
	for _, f := range p.Fields {
		kinds[f.Field.Name] = f.Verdict.Kind
	}
	require.Equal(t, map[string]verdict.Kind{"Invented 1": verdict.NoSpray, "Invented 2": verdict.TreatWhole, "Invented 3": verdict.Undecided}, kinds)
	return p
}

func TestFieldsStandWorstFirst(t *testing.T) {
	p := twelve(t)
	text := html(t, p)
	kinds := map[string]page.Field{}
	for _, f := range p.Fields {
		kinds[f.Field.Name] = f
	}
	overview := between(t, text, `<div class="paper">`, "</div>")
	var before *page.Field
	for _, row := range strings.Split(overview, `<th scope="row">`)[1:] {
		name, _, _ := strings.Cut(row, "<")
		f := kinds[name]
		assert.Contains(t, row, report.PlainAnswer(*f.Verdict, figures.Both))
		if before != nil {
			assert.False(t, f.Verdict.Kind.Graver(before.Verdict.Kind), "%s after %s", name, before.Field.Name)
		}
		before = &f
	}
	assert.Equal(t, 12, strings.Count(text, `<svg class="small"`))
	assert.Equal(t, p.Fields[0].Field.Name, "Invented 1", "the page given stays as it is")
}

// Each figure of the tables is the result's, as the figures of all faces are written.
func TestEachFigureOfThePageIsTheResults(t *testing.T) {
	r := demo(t, "week3")
	text := html(t, of(t, r))
	for _, f := range r.Fields {
		for _, z := range f.Map.Zones {
			row := fmt.Sprintf(`<th scope="row">%s</th><td>%s</td><td>%s</td><td>%s</td><td>%s</td><td>%s</td><td>%d</td>`, report.ShownZone(z.Class, figures.Both),
				figures.Metric.Bare(z.Area), figures.US.Bare(z.Area), figures.Share(z.Area/f.Area), report.Levelled(z.Mean, r.Levels.Levels), report.Highest(f, z.Class, r.Levels.Levels), f.StopsIn(z.Class))
			assert.True(t, strings.Contains(text, strings.ReplaceAll(row, "<td><", "<td>&lt;")), row)
		}
		for _, s := range f.Stops {
			row := fmt.Sprintf(`<th scope="row">%s</th><td>%s</td><td>%s</td><td>%s</td><td class="word">%s</td>`, s.Name,
				strings.ReplaceAll(report.Levelled(s.Value, r.Levels.Levels), "<", "&lt;"), figures.Short(s.Total), figures.Short(s.Units), report.ShownZone(s.Zone, figures.Both))
			assert.True(t, strings.Contains(text, row), row)
		}
		assert.True(t, strings.Contains(text, fmt.Sprintf("%s, %d stops; %s a leaf on average, highest %s", figures.Both.Area(f.Area), len(f.Stops), figures.Short(f.Mean), figures.Short(f.Max))))
	}
}

// Why, how sure and what to look out for are shown as on the screen; all figures are
// folded, none lost.
func TestReasonsAreShownAndFolded(t *testing.T) {
	p := of(t, demo(t, "week2"))
	p.Fields = p.Fields[:1]
	text := html(t, p)
	reasons := report.VerdictReasons(*p.Fields[0].Verdict, p.Units)
	require.Greater(t, len(reasons), 3)
	shown := between(t, text, "<h3>Why</h3>", "<details")
	assert.Equal(t, 3, strings.Count(shown, "<li>"))
	f := p.Fields[0]
	plain := report.PlainOf(f.Result, f.Field, *f.Verdict, p.Units)
	assert.True(t, strings.Contains(text, plain.Answer))
	for _, s := range slices.Concat(plain.Why, plain.Sure, plain.LookOut) {
		assert.True(t, strings.Contains(shown, s), s)
	}
	for _, reason := range append(reasons, report.VerdictHeading(*f.Verdict, p.Units)) {
		assert.True(t, strings.Contains(text, "<li>"+strings.ReplaceAll(report.Sentence(reason), "'", "&#39;")+"</li>"), reason)
	}
}

// What nobody told and was taken so is shown too, not only among the notes, which are folded.
func TestGuessesAreShown(t *testing.T) {
	p := of(t, demo(t, "week2"))
	p.Fields = p.Fields[:1]
	f := p.Fields[0]
	f.Result.Survey.OpenDays = []survey.OpenDay{{
		File: f.Field.Stops[0].Records[0].File, Text: "7/8/2026", MonthFirst: "2026-07-08", DayFirst: "2026-08-07", Guessed: "2026-07-08",
	}}
	f.Field.Together = []assess.Together{{At: 0, Others: []int{1, 2}}}
	guesses := report.Guesses(f.Result, f.Field, p.Units)
	require.Len(t, guesses, 1)
	shown := between(t, html(t, p), "<h3>Why</h3>", "<details")
	for _, s := range append(guesses, "The date 7/8/2026 was read as Wednesday 8 July, but may be Friday 7 August.") {
		assert.Equal(t, 1, strings.Count(shown, s), s)
	}
}

// A clean field is drawn clear though its map foretells nothing; one stop at the watch
// level, and it is not.
func TestACleanFieldIsDrawnClear(t *testing.T) {
	few := func(_ int, x, y float64) float64 {
		if x < 50 && y < 50 {
			return 1
		}
		return 0
	}
	r := scouted(t, 1, few)
	require.False(t, r.Fields[0].Trust.Believed())
	text := html(t, of(t, r))
	assert.True(t, strings.Contains(text, `data-key="clear"`), "zones are drawn")
	assert.True(t, strings.Contains(text, report.NothingToMap(figures.Both)))
	assert.False(t, strings.Contains(text, `class="trust bad"`))
	assert.False(t, strings.Contains(text, `data-layer="surface"`))

	r.Fields[0].Stops[3].Value, r.Fields[0].Max = r.Levels.WatchAt, r.Levels.WatchAt
	text = html(t, of(t, r))
	assert.False(t, strings.Contains(text, `data-key="clear"`))
	assert.True(t, strings.Contains(text, `class="trust bad"`))
	assert.False(t, strings.Contains(text, report.NothingToMap(figures.Both)))
}

// A count has one size on the maps of all fields, whatever is the highest of its own.
func TestStopsOfAllFieldsShareOneSize(t *testing.T) {
	text := html(t, of(t, scouted(t, 2, func(field int, x, y float64) float64 {
		if x < 50 && y < 50 {
			return []float64{40, 400}[field]
		}
		return 20
	})))
	sizes := map[string]map[string]bool{}
	for _, stop := range strings.Split(between(t, text, `id="data">`, "</script>"), `"name":`)[1:] {
		value := between(t, stop, `"value":"`, `"`)
		if sizes[value] == nil {
			sizes[value] = map[string]bool{}
		}
		sizes[value][between(t, stop, `"r":`, ",")] = true
	}
	require.Len(t, sizes, 3)
	for value, radii := range sizes {
		assert.Len(t, radii, 1, "stops of %s", value)
	}
}

// sprayed are the weeks with an invented treatment of the eastern half after the second.
func sprayed(t testing.TB) *compare.Result {
	t.Helper()
	var results []*assess.Result
	for _, week := range []string{"week1", "week2", "week3"} {
		results = append(results, demo(t, week))
	}
	b := results[0].Fields[0].Boundary.Bound()
	middle := b.Center()[0]
	ground := orb.MultiPolygon{{{{middle, b.Min[1]}, {b.Max[0], b.Min[1]}, {b.Max[0], b.Center()[1]}, {middle, b.Center()[1]}, {middle, b.Min[1]}}}}
	r, err := compare.Run(t.Context(), results, compare.Settings{Treatments: []compare.Treatment{{Date: "2026-07-16", Ground: ground}}})
	require.NoError(t, err)
	r.Fields = r.Fields[:1]
	return r
}

// Treated ground is drawn on the map of the visit after it, and what it did stands on top.
func TestWeeksShowWhatWasTreated(t *testing.T) {
	r := sprayed(t)
	text := weeks(t, r)
	maps := strings.Split(text, `<figure class="map"`)[1:]
	require.Len(t, maps, 3)
	for i, m := range maps {
		m, _, _ = strings.Cut(m, "</figure>")
		assert.Equal(t, i == 2, strings.Contains(m, `<g class="layer treated">`), r.Fields[0].Visits[i].Date)
		assert.Equal(t, i == 2, strings.Contains(m, "Dashed: sprayed on Thursday 16 July."), r.Fields[0].Visits[i].Date)
	}
	answers := between(t, text, `<div class="answers">`, `<div class="slider"`)
	for _, a := range report.Answers(r, r.Fields[0], figures.Both) {
		assert.Contains(t, answers, "<h3>"+a.Asked+"</h3>")
		for _, s := range a.Said {
			assert.Contains(t, answers, s)
		}
	}
	assert.Contains(t, answers, "spray of Thursday 16 July")
	assert.Equal(t, 1, strings.Count(text, `data-layer="treated"`))
	assert.NotContains(t, weeks(t, compared(t)), `data-layer="treated"`)
}

// Clean visits are drawn clear; the zones of one that is neither clean nor believed are not.
func TestCleanVisitsAreDrawn(t *testing.T) {
	r := compared(t)
	first := r.Fields[0].Visits[0]
	first.Assess.Trust.Doubts = []assess.Doubt{assess.MostEmpty}
	assert.Equal(t, 2, strings.Count(weeks(t, r), `<g class="layer zones">`))
	first.Assess.Max = assess.CleanShare * r.Levels.WatchAt
	require.Zero(t, first.Assess.Map.Zone(zones.Treat).Area)
	text := weeks(t, r)
	assert.Equal(t, 3, strings.Count(text, `<g class="layer zones">`))
	assert.Equal(t, 2, strings.Count(text, report.NothingToMap(figures.Both)), "seen and read aloud")
}
