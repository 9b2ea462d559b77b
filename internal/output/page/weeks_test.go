package page_test

import (
	"bytes"
	"encoding/base64"
	"image"
	"image/png"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/followup/change"
	"github.com/geocoris/geocoris/internal/followup/compare"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/output/page"
)

// compared are the three invented weeks in the larger field.
func compared(t testing.TB) *compare.Result {
	t.Helper()
	r := comparedAll(t)
	r.Fields = r.Fields[:1]
	return r
}

func comparedAll(t testing.TB) *compare.Result {
	t.Helper()
	var results []*assess.Result
	for _, week := range []string{"week1", "week2", "week3"} {
		results = append(results, demo(t, week))
	}
	r, err := compare.Run(t.Context(), results, compare.Settings{})
	require.NoError(t, err)
	return r
}

func weeks(t testing.TB, r *compare.Result) string {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, page.Weeks{Result: r, Program: "geocoris test", Command: "compare", Inputs: []page.Input{{Path: "week1.csv", SHA256: "00ff"}}}.Write(&b))
	return b.String()
}

func TestThePageOfWeeksHoldsWhatTheyAre(t *testing.T) {
	r := compared(t)
	text := weeks(t, r)
	for _, want := range []string{"<h3>Wednesday 8 July</h3>", "<h3>Wednesday 15 July</h3>", "<h3>Wednesday 22 July</h3>", "From ground to ground, Wednesday 15 July to Wednesday 22 July", "<td>14.5</td>", "Go back by"} {
		assert.True(t, strings.Contains(text, want), want)
	}
	assert.False(t, strings.Contains(text, "NaN"))
	assert.True(t, text == weeks(t, r), "the same page has the same bytes")
	require.Error(t, page.Weeks{Result: &compare.Result{}}.Write(&bytes.Buffer{}))
}

// Each visit has its surface, and on all of them a colour stands for one number: no
// picture is brighter than its own visit's most on the scale of the highest of all.
func TestSurfacesOfWeeksShareOneScale(t *testing.T) {
	r := compared(t)
	pictures := regexp.MustCompile(`data:image/png;base64,([^"]+)"`).FindAllStringSubmatch(weeks(t, r), -1)
	visits := r.Fields[0].Visits
	require.Len(t, pictures, len(visits))
	highest := 0.0
	for _, v := range visits {
		highest = max(highest, v.Assess.Max)
	}
	for i, v := range visits {
		content, err := base64.StdEncoding.DecodeString(pictures[i][1])
		require.NoError(t, err)
		img, err := png.Decode(bytes.NewReader(content))
		require.NoError(t, err)
		paletted, ok := img.(*image.Paletted)
		require.True(t, ok)
		most := 0.0
		for node := range change.NodesInside(v.Grid.Surface.Value.Lattice, r.Fields[0].XY) {
			most = max(most, v.Grid.Surface.Value.Values[node])
		}
		got := float64(slices.Max(paletted.Pix)-1) / float64(len(paletted.Palette)-2)
		assert.InDelta(t, math.Sqrt(most/highest), got, 0.02, v.Date)
	}
}

func TestAVisitThatIsNotBelievedHasNoSurface(t *testing.T) {
	r := compared(t)
	const pictured, told = "data:image/png", "so only the stops are drawn"
	assert.NotContains(t, weeks(t, r), told)
	r.Fields[0].Visits[0].Assess.Trust.Doubts = []assess.Doubt{assess.FewStops}
	text := weeks(t, r)
	assert.Equal(t, 2, strings.Count(text, pictured))
	assert.Equal(t, 1, strings.Count(text, told))
	assert.Equal(t, 1, strings.Count(text, `data-scale="surface"`))
	assert.Equal(t, 1, strings.Count(text, `<ul class="legend">`))
	for _, v := range r.Fields[0].Visits {
		v.Assess.Trust.Doubts = []assess.Doubt{assess.FewStops}
	}
	text = weeks(t, r)
	assert.Equal(t, 3, strings.Count(text, told))
	for _, nothing := range []string{pictured, `data-scale="surface"`, `data-layer="surface"`, `data-layer="zones"`, `<ul class="legend">`} {
		assert.False(t, strings.Contains(text, nothing), nothing)
	}
	assert.True(t, strings.Contains(text, `data-layer="stops"`))
}

// A legend for all maps tells the truth of each: the largest disc on them is the
// one that stands for the highest count, in a small field too.
func TestStopsOfWeeksShareOneSize(t *testing.T) {
	for i := range 2 {
		r := comparedAll(t)
		r.Fields = r.Fields[i : i+1]
		text := weeks(t, r)
		legend := between(t, text, "<span>Stops:</span>", "</p>")
		maps := strings.ReplaceAll(text, legend, "")
		assert.InDelta(t, largestDisc(t, maps), largestDisc(t, legend), 0.006, r.Fields[0].Name) // two decimals
	}
}

func between(t *testing.T, text, from, to string) string {
	t.Helper()
	_, text, ok := strings.Cut(text, from)
	require.True(t, ok, from)
	text, _, ok = strings.Cut(text, to)
	require.True(t, ok, to)
	return text
}

func largestDisc(t *testing.T, text string) (radius float64) {
	t.Helper()
	for _, circle := range regexp.MustCompile(`<circle [^>]*>`).FindAllString(text, -1) {
		r, err := strconv.ParseFloat(regexp.MustCompile(` r="([^"]+)"`).FindStringSubmatch(circle)[1], 64)
		require.NoError(t, err)
		radius = max(radius, r)
	}
	require.NotZero(t, radius)
	return radius
}

func TestThePageOfThreeWeeksStaysSmall(t *testing.T) {
	for fields, most := range map[int]int{1: 200_000, 2: 260_000} {
		r := comparedAll(t)
		r.Fields = r.Fields[:fields]
		size := len(weeks(t, r))
		t.Logf("%d fields, %d bytes", fields, size)
		assert.Less(t, size, most)
	}
}
