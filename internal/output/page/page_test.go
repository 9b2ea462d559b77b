package page_test

import (
	"bytes"
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/geometry/boundary"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/mapping/verdict"
	"github.com/geocoris/geocoris/internal/output/page"
	"github.com/geocoris/geocoris/internal/output/scene"
	"github.com/geocoris/geocoris/internal/scouting/survey"
	"github.com/geocoris/geocoris/internal/testkit"
	"github.com/geocoris/geocoris/internal/testkit/given"
)

func of(t testing.TB, r *assess.Result) page.Page {
	t.Helper()
	p := page.Page{Program: "geocoris test", Command: "map", Inputs: []page.Input{{Path: "week2.csv", SHA256: "00ff"}}}
	answers, err := verdict.Of(r, verdict.Settings{})
	require.NoError(t, err)
	for _, f := range r.Fields {
		if !f.Scouted() {
			continue
		}
		p.Fields = append(p.Fields, fieldOf(t, r, f))
		for i, v := range answers {
			if v.Field == f.Name {
				p.Fields[len(p.Fields)-1].Verdict = &answers[i]
			}
		}
	}
	return p
}

func fieldOf(t testing.TB, r *assess.Result, f *assess.Field) page.Field {
	t.Helper()
	ground, err := f.Metric()
	require.NoError(t, err)
	out := page.Field{Subject: scene.Subject{Result: r, Field: f, Ground: ground}}
	return out
}

// demo is a week of the invented data, mapped: a copy, of which fields, stops and survey are
// the test's own.
func demo(t testing.TB, week string) *assess.Result {
	t.Helper()
	if _, known := mapped[week]; !known {
		mapped[week] = mapWeek(t, week)
	}
	r := *mapped[week]
	read := *r.Survey
	r.Survey, r.Fields = &read, slices.Clone(r.Fields)
	for i, f := range r.Fields {
		own := *f
		own.Stops = slices.Clone(f.Stops)
		r.Fields[i] = &own
	}
	return &r
}

// mapped are the weeks that a test has asked for. No two tests run at once.
var mapped = map[string]*assess.Result{}

func mapWeek(t testing.TB, week string) *assess.Result {
	t.Helper()
	c, err := geofile.Read(testkit.Testdata(t, "demo", "field.geojson"), geofile.Limits{})
	require.NoError(t, err)
	fields, _, err := boundary.Fields(c.Features, boundary.Settings{})
	require.NoError(t, err)
	s, err := survey.Read(given.Files(t, testkit.Testdata(t, "demo", week+".csv")), survey.Options{})
	require.NoError(t, err)
	r, err := assess.Run(t.Context(), fields, s, assess.Settings{KeepSurface: true})
	require.NoError(t, err)
	return r
}

func html(t testing.TB, p page.Page) string {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, p.Write(&b))
	return b.String()
}

// steers is a name with an escape sequence and a sign that turns letters round, and seen
// what a page shows of it.
const (
	steers = "a\x1b[31mb\u202ec"
	seen   = `a\u001b[31mb\u202ec`
)

// What names of files and fields hold that no one sees is shown, as on the screen.
func TestNamesDoNotSteerThePage(t *testing.T) {
	r := demo(t, "week2")
	r.Fields[0].Name = steers
	weekly := compared(t)
	weekly.Fields[0].Name = steers
	for _, text := range []string{html(t, of(t, r)), weeks(t, weekly)} {
		assert.False(t, strings.ContainsAny(text, "\x1b\u202e"))
		assert.True(t, strings.Contains(text, seen))
	}
}

func TestThePageHoldsWhatTheResultSays(t *testing.T) {
	text := html(t, of(t, demo(t, "week2")))
	for _, want := range []string{
		"<h3 id=\"field0\">Pivot</h3>", "Sorghum aphid, Wednesday 15 July 2026", "<td>5.17</td><td>12.8</td><td>10.3 %</td>",
		"Spot spray 5.17 ha (12.8 ac), the treat zone", "skill 0.42", "Gordy et al. 2019", "SHA-256 00ff",
		"<h3 id=\"field1\">Corner block</h3>", "Stop 4 lies 4.36 m outside the boundary",
		"the label is the law", "All 43 stops of Pivot", "chance of being at or above 40",
	} {
		assert.True(t, strings.Contains(text, want), want)
	}
	assert.False(t, strings.Contains(text, "NaN"))
	assert.False(t, strings.Contains(text, "ZgotmplZ"), "the template refused something")
}

func TestTheSamePageHasTheSameBytes(t *testing.T) {
	r := demo(t, "week3")
	first := html(t, of(t, r))
	assert.True(t, first == html(t, of(t, r)))
}

// Nothing in the page leads out of it: no address but the names of XML, which are
// never asked for, and no style or handler that the policy would refuse.
func TestThePageAsksForNothing(t *testing.T) {
	text := html(t, of(t, demo(t, "week2")))
	for _, address := range regexp.MustCompile(`[a-z]+://[^"'\s<]*`).FindAllString(text, -1) {
		assert.Equal(t, "http://www.w3.org/2000/svg", address)
	}
	assert.Empty(t, regexp.MustCompile(`<[^>]*\s(?:style|on[a-z]+|src)=`).FindAllString(text, -1))
	assert.True(t, strings.Contains(text, "default-src &#39;none&#39;"))
}

func TestNamesCannotBreakOut(t *testing.T) {
	r := demo(t, "week2")
	const evil = `</script><script>alert(1)</script><img src=x>`
	r.Survey.Pest = evil
	for _, f := range r.Fields {
		f.Name = evil
		for i := range f.Stops {
			f.Stops[i].Name = evil
		}
	}
	text := html(t, of(t, r))
	assert.False(t, strings.Contains(text, "<script>alert"))
	assert.False(t, strings.Contains(text, "<img"))
}

func TestAMapThatIsNotBelievedHasNoSurface(t *testing.T) {
	r := demo(t, "week2")
	for _, f := range r.Fields {
		f.Trust.Doubts = []assess.Doubt{assess.FewStops}
	}
	text := html(t, of(t, r))
	assert.True(t, strings.Contains(text, `class="trust bad"`))
	assert.False(t, strings.Contains(text, `data-layer="surface"`))
	assert.False(t, strings.Contains(text, `<g class="layer zones">`))
}

func TestAPageOfNothingIsRefused(t *testing.T) {
	require.Error(t, page.Page{}.Write(&bytes.Buffer{}))
}

// many is an invented morning: stops on a square field of so many hectares.
func many(t testing.TB, stops int, ha float64) *assess.Result {
	t.Helper()
	half := math.Sqrt(ha*geo.SquareMetresPerHectare) / 2
	frame, err := geo.NewFrame(orb.Point{-100.2, 37.1})
	require.NoError(t, err)
	f := geo.Field{Name: "Invented", Boundary: geo.Wind(frame.InversePolygons(orb.MultiPolygon{{{{-half, -half}, {half, -half}, {half, half}, {-half, half}, {-half, -half}}}}))}
	rng := rand.New(rand.NewPCG(7, 11))
	s := &survey.Survey{Pest: "sorghum aphid", Dates: []string{"2026-07-15"}}
	for i := range stops {
		x, y := (2*rng.Float64()-1)*half*0.98, (2*rng.Float64()-1)*half*0.98
		at := frame.Inverse(orb.Point{x, y})
		total := math.Round(1500 * math.Exp(-math.Hypot(x-100, y+50)/150))
		s.Stops = append(s.Stops, survey.Stop{
			Name: fmt.Sprint(i + 1), Longitude: at[0], Latitude: at[1], Total: total, Units: 10, Accuracy: math.NaN(),
			Records: []survey.Record{{File: "invented.csv", Line: i + 2}},
		})
	}
	s.Tally = survey.Tally{Read: stops, Used: stops}
	r, err := assess.Run(context.Background(), []geo.Field{f}, s, assess.Settings{KeepSurface: true})
	require.NoError(t, err)
	return r
}

func TestA50HectareFieldOf300StopsStaysSmall(t *testing.T) {
	size := len(html(t, of(t, many(t, 300, 50))))
	t.Logf("%d bytes", size)
	assert.Less(t, size, 600_000)
}

// BenchmarkPage is the price of the page after the map: drawing and writing.
func BenchmarkPage(b *testing.B) {
	p := of(b, many(b, 300, 50))
	for b.Loop() {
		html(b, p)
	}
}
