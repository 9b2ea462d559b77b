package fieldwork_test

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/mapping/rules"
	"github.com/geocoris/geocoris/internal/output/fieldwork"
	"github.com/geocoris/geocoris/internal/scouting/observer"
	"github.com/geocoris/geocoris/internal/scouting/plan"
	"github.com/geocoris/geocoris/internal/scouting/sampling"
	"github.com/geocoris/geocoris/internal/testkit"
)

func rendered(t testing.TB, write func(io.Writer) error) string {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, write(&b))
	return b.String()
}

// wellFormed reads a picture to its end and returns how often an element occurs.
func wellFormed(t testing.TB, text, element string) (n int) {
	t.Helper()
	d := xml.NewDecoder(strings.NewReader(text))
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return n
		}
		require.NoError(t, err)
		if start, ok := token.(xml.StartElement); ok && start.Name.Local == element {
			n++
		}
	}
}

func namedPlan(t testing.TB, name string) fieldwork.Tally {
	t.Helper()
	p, ok := sampling.PlanNamed(name)
	require.True(t, ok)
	return fieldwork.Tally{Plan: p}
}

func TestCurvesAreWhole(t *testing.T) {
	tally := namedPlan(t, "sorghum-tally-50")
	walk := sampling.Walk{PerStop: 10, Runs: 50, Seed: 1}
	points, err := sampling.Simulate(tally.Plan.Rule, walk, sampling.Range(tally.Plan.Rule))
	require.NoError(t, err)
	c := fieldwork.Curves{Tally: tally, Walk: walk, Points: points}
	assert.Equal(t, 2, wellFormed(t, rendered(t, c.WriteSVG), "polyline"))
	rows, err := csv.NewReader(strings.NewReader(rendered(t, c.WriteCSV))).ReadAll()
	require.NoError(t, err)
	assert.Len(t, rows, 1+len(points))
	assert.NotContains(t, rendered(t, c.WriteSVG), "NaN")
}

func TestSheetHoldsEveryStopAndNoMarkup(t *testing.T) {
	frame, err := geo.NewFrame(orb.Point{-100, 37})
	require.NoError(t, err)
	square := frame.InversePolygons(orb.MultiPolygon{{orb.Ring{{0, 0}, {400, 0}, {400, 400}, {0, 400}, {0, 0}}}})
	start := frame.Inverse(orb.Point{-20, -20})
	made, err := plan.Make(geo.Field{Name: `North <b>& "South"</b>`, Boundary: square}, plan.Settings{Stops: 7, Edge: 3, Start: &start})
	require.NoError(t, err)
	p := fieldwork.Plan{Plan: made, Why: "why"}
	sheet := rendered(t, p.WriteSheet)
	assert.NotContains(t, sheet, "<b>")
	assert.Equal(t, 10, strings.Count(sheet, `<tbody class="stop">`))
	picture := sheet[strings.Index(sheet, "<svg"):strings.Index(sheet, "</svg>")] + "</svg>"
	assert.Equal(t, 7, wellFormed(t, picture, "circle"))
	assert.Equal(t, 3, wellFormed(t, picture, "rect"))
	assert.Equal(t, 13, wellFormed(t, picture, "text"), "stops, the start, north and the scale")
	assert.NotContains(t, picture, "NaN")
	features := p.Features()
	assert.Len(t, features, 11, "stops and the walk")
	assert.Len(t, p.Route().Points, 10)
	assert.Len(t, p.Document().Folders[1].Placemarks, 10)
}

// Each stop is marked for what it is, and what it tells stands under its name.
func TestStopsAreMarkedForWhatTheyAre(t *testing.T) {
	stops := []plan.Stop{
		{Name: "1", Lonlat: orb.Point{-100, 37}, Leg: 40.26},
		{Name: "E1", Lonlat: orb.Point{-100.001, 37}, Leg: 12, Edge: true, Extra: true},
		{Name: "X1", Lonlat: orb.Point{-100.002, 37}, Leg: 81, Extra: true, Gain: 1234.4},
	}
	p := fieldwork.Plan{Plan: plan.Plan{Field: geo.Field{Name: "F", Boundary: orb.MultiPolygon{{{{-100.01, 36.99}, {-99.99, 36.99}, {-99.99, 37.01}, {-100.01, 36.99}}}}}, Stops: stops}}
	sheet := rendered(t, p.WriteSheet)
	marks := regexp.MustCompile(`>(edge|extra)<`).FindAllStringSubmatch(sheet, -1)
	require.Len(t, marks, 2, "the planned stop has none")
	assert.Equal(t, [2]string{"edge", "extra"}, [2]string{marks[0][1], marks[1][1]})

	features := p.Features()
	for i, want := range []map[string]any{
		{"stop": "1", "order": int64(1), "edge": false, "leg_m": 40.3, "gain_m2": nil},
		{"stop": "E1", "order": int64(2), "edge": true, "leg_m": 12.0, "gain_m2": nil},
		{"stop": "X1", "order": int64(3), "edge": false, "leg_m": 81.0, "gain_m2": 1234.0},
	} {
		for name, value := range want {
			got, _ := features[i].Properties.Get(name)
			assert.Equal(t, value, got, "%s of stop %d", name, i)
		}
	}
}

// As many stops as the source asks for are enough.
func TestFewerStopsThanTheSourceAsksForAreSaid(t *testing.T) {
	p := fieldwork.Plan{Plan: plan.Plan{
		Field: geo.Field{Name: "F", Boundary: orb.MultiPolygon{{{{-100.01, 36.99}, {-99.99, 36.99}, {-99.99, 37.01}, {-100.01, 36.99}}}}},
		Stops: []plan.Stop{{Name: "1", Lonlat: orb.Point{-100, 37}}, {Name: "2", Lonlat: orb.Point{-100, 36.999}}},
	}}
	for places, said := range map[int]bool{0: false, 2: false, 3: true} {
		p.Needs = &rules.Needs{Rows: 1, Units: 1, Parts: 1, Places: places}
		assert.Equal(t, said, strings.Contains(rendered(t, p.WriteSheet), "fewer stops than the"), "%d places", places)
		assert.Equal(t, said, strings.Contains(p.Text(), "stops are fewer than the"), "%d places", places)
	}
}

func TestPairsPlotShowsEveryPair(t *testing.T) {
	pairs := []observer.Pair{{Observer: "A <i>", Estimated: 0, Counted: 0}, {Observer: "B", Estimated: 1, Counted: 5000}}
	for i := range 12 {
		v := math.Pow(2, float64(i))
		pairs = append(pairs, observer.Pair{Observer: "A <i>", Estimated: v, Counted: v * 1.5})
	}
	plot := rendered(t, fieldwork.PairsPlot{Calibrations: observer.Calibrate(pairs), Pairs: pairs}.WriteSVG)
	assert.Equal(t, len(pairs)+2, strings.Count(plot, "<path transform"), "pairs and the legend")
	assert.Equal(t, 1, wellFormed(t, plot, "polyline"), "one observer has a line")
	assert.NotContains(t, plot, "NaN")
	assert.NotContains(t, plot, "<i>")
}

// Any number of observers differ in shape, so in grey too, and in colour; the picture
// has room for all of them.
func TestNoTwoObserversLookAlike(t *testing.T) {
	const many = 64
	var pairs []observer.Pair
	for i := range many {
		pairs = append(pairs, observer.Pair{Observer: fmt.Sprintf("Scout %d with a name that is longer than any", i), Estimated: 3, Counted: float64(i + 1)})
	}
	plot := rendered(t, fieldwork.PairsPlot{Calibrations: observer.Calibrate(pairs), Pairs: pairs}.WriteSVG)
	shapes, colours := map[string]int{}, map[string]int{}
	for _, line := range regexp.MustCompile(`(?m)^.*<path transform="translate\([^)]*\)" d="([^"]*)" fill="([^"]*)"[^>]*stroke="([^"]*)"[^>]*/>(?:<text [^>]*>(\d+)</text>)?`).FindAllStringSubmatch(plot, -1) {
		shapes[fmt.Sprint(line[1], line[2] == "none", line[4])]++
		colours[line[3]]++
	}
	assert.Len(t, shapes, many)
	assert.Len(t, colours, many)
	for shape, n := range shapes {
		assert.Equal(t, 2, n, "the pair and the legend: %s", shape)
	}
	var height, last float64
	_, err := fmt.Sscanf(regexp.MustCompile(`viewBox="0 0 860 [0-9.]+`).FindString(plot), `viewBox="0 0 860 %f`, &height)
	require.NoError(t, err)
	for _, y := range regexp.MustCompile(`y="([0-9.]+)"`).FindAllStringSubmatch(plot, -1) {
		last = max(last, number(t, y[1]))
	}
	assert.LessOrEqual(t, last, height)
}

func TestPairsPlotIsLookedAt(t *testing.T) {
	b := testkit.StartBrowser(t)
	var pairs []observer.Pair
	for who := range 7 {
		for i := range 12 {
			v := math.Pow(1.8, float64(i))
			pairs = append(pairs, observer.Pair{Observer: fmt.Sprintf("Scout %c", 'A'+who), Estimated: math.Round(v * (0.5 + 0.15*float64((who+i)%5))), Counted: math.Round(v)})
		}
	}
	path := filepath.Join(t.TempDir(), "pairs.svg")
	require.NoError(t, os.WriteFile(path, []byte(rendered(t, fieldwork.PairsPlot{Calibrations: observer.Calibrate(pairs), Pairs: pairs}.WriteSVG)), 0o600))
	b.Open("file://"+path, 860, 560)
	b.Picture("pairs.png")
	b.Evaluate(`document.documentElement.style.filter = "grayscale(1)"`)
	b.Picture("pairs_grey.png")
	assert.Equal(t, "7", b.Text(`[...document.querySelectorAll("text")].filter(e => /^sees \d+ of 100, 12 leaves$/.test(e.textContent)).length`), "each is told in words")
}

// Eyes with one pair, or with nothing but zeros, have numbers that do not exist.
func TestCalibrationsWithoutNumbers(t *testing.T) {
	for name, pairs := range map[string][]observer.Pair{
		"one pair": {{Observer: "A", Estimated: 1, Counted: 2}}, "zeros": {{Observer: "A"}, {Observer: "A"}, {Observer: "A"}},
		"no name": {{Estimated: 3, Counted: 4}, {Estimated: 3, Counted: 4}, {Estimated: 3, Counted: 4}},
	} {
		found := fieldwork.Calibrations(observer.Calibrate(pairs))
		assert.NotContains(t, found.Text(figures.Both), "NaN", name)
		assert.NotContains(t, found.Details(), "NaN", name)
		assert.True(t, json.Valid([]byte(rendered(t, found.WriteJSON))), name)
		require.NotPanics(t, func() { rendered(t, observer.FileOf(found).Write) })
	}
}
