package scene_test

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"html"
	"image"
	"image/color"
	"image/png"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/geometry/boundary"
	"github.com/geocoris/geocoris/internal/geometry/zones"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/mapping/verdict"
	"github.com/geocoris/geocoris/internal/output/report"
	"github.com/geocoris/geocoris/internal/output/scene"
	"github.com/geocoris/geocoris/internal/scouting/survey"
	"github.com/geocoris/geocoris/internal/testkit"
	"github.com/geocoris/geocoris/internal/testkit/given"
)

// demo is the subject of each field of an invented week that was scouted.
func demo(t testing.TB, week string, set assess.Settings) (out []scene.Subject) {
	t.Helper()
	c, err := geofile.Read(testkit.Testdata(t, "demo", "field.geojson"), geofile.Limits{})
	require.NoError(t, err)
	fields, _, err := boundary.Fields(c.Features, boundary.Settings{})
	require.NoError(t, err)
	s, err := survey.Read(given.Files(t, testkit.Testdata(t, "demo", week+".csv")), survey.Options{})
	require.NoError(t, err)
	set.KeepSurface = true
	r, err := assess.Run(t.Context(), fields, s, set)
	require.NoError(t, err)
	for _, f := range r.Fields {
		if f.Scouted() {
			ground, err := f.Metric()
			require.NoError(t, err)
			out = append(out, scene.Subject{Result: r, Field: f, Ground: ground})
		}
	}
	return out
}

// tool finds a program that checks our files.
func tool(t testing.TB, name string) string {
	t.Helper()
	path, err := exec.LookPath(name)
	if err != nil {
		testkit.Missing(t, name)
	}
	return path
}

func draw(t testing.TB, paper scene.Paper, s scene.Subject) scene.Scene {
	t.Helper()
	out, err := scene.Sheet{Paper: paper, Sources: "Invented data: week2.csv, field.geojson; geocoris"}.Of(s)
	require.NoError(t, err)
	return out
}

func written(t testing.TB, write func(io.Writer) error) []byte {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, write(&b))
	return b.Bytes()
}

func pictures(t testing.TB, s scene.Subject) map[string][]byte {
	t.Helper()
	phone, a4 := draw(t, scene.Phone(), s), draw(t, scene.A4(), s)
	return map[string][]byte{
		"phone.png": written(t, func(w io.Writer) error { return scene.WritePNG(w, phone, scene.PhonePixels) }),
		"a4.svg":    written(t, func(w io.Writer) error { return scene.WriteSVG(w, a4) }),
		"a4.pdf":    written(t, func(w io.Writer) error { return scene.WritePDF(w, []scene.Scene{a4}) }),
	}
}

func save(t testing.TB, name string, content []byte) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	require.NoError(t, os.WriteFile(path, content, 0o644))
	return path
}

func TestTheSamePictureHasTheSameBytes(t *testing.T) {
	s := demo(t, "week2", assess.Settings{})[0]
	assert.Equal(t, pictures(t, s), pictures(t, s))
}

// Pixels may differ a little between processors, so the golden picture is
// compared with a tolerance: of all pixels one in five hundred may differ by more
// than a tenth of the full range.
func TestGoldenPictures(t *testing.T) {
	for name, s := range map[string]scene.Scene{
		"week2.png":    draw(t, scene.Phone(), demo(t, "week2", assess.Settings{})[0]),
		"week1.png":    draw(t, scene.Phone(), demo(t, "week1", assess.Settings{})[0]),
		"overview.png": overviewOf(t, scene.Phone(), farm(subjects(t), 12))[0],
	} {
		t.Run(name, func(t *testing.T) {
			got := written(t, func(w io.Writer) error { return scene.WritePNG(w, s, 4) })
			want := testkit.Golden(t, filepath.Join("scene", name), got)
			a, b := decoded(t, got), decoded(t, want)
			require.Equal(t, b.Bounds(), a.Bounds())
			differ := 0
			for y := range a.Bounds().Dy() {
				for x := range a.Bounds().Dx() {
					if far(a.At(x, y), b.At(x, y)) {
						differ++
					}
				}
			}
			assert.LessOrEqual(t, differ, a.Bounds().Dx()*a.Bounds().Dy()/500)
		})
	}
}

func decoded(t testing.TB, data []byte) image.Image {
	t.Helper()
	img, err := png.Decode(bytes.NewReader(data))
	require.NoError(t, err)
	return img
}

func far(a, b color.Color) bool {
	ar, ag, ab, _ := a.RGBA()
	br, bg, bb, _ := b.RGBA()
	for _, d := range [3]int{int(ar) - int(br), int(ag) - int(bg), int(ab) - int(bb)} {
		if d > 0xFFFF/10 || d < -0xFFFF/10 {
			return true
		}
	}
	return false
}

// What the picture shows of each zone is what the zone is: its colour stands
// where the middle of its stops lies, away from signs and discs.
func TestColoursStandWhereTheZonesAre(t *testing.T) {
	s := demo(t, "week2", assess.Settings{})[0]
	m, plot := scene.MapOnly(s, 180, 180)
	for i, l := range m.Layers {
		if l.Name != scene.LayerGround && l.Name != scene.LayerZones {
			m.Layers[i].Items = nil
		}
	}
	const perMM = 4
	img := decoded(t, written(t, func(w io.Writer) error { return scene.WritePNG(w, m, perMM) }))
	checked := map[zones.Class]int{}
	for _, stop := range s.Field.Stops {
		if stop.Outside > 0 {
			continue
		}
		p := plot.Point(stop.XY)
		if !far(img.At(int(p.X*perMM), int(p.Y*perMM)), report.Colour(stop.Zone)) {
			checked[stop.Zone]++
		}
	}
	for _, c := range zones.Classes() {
		assert.GreaterOrEqual(t, float64(checked[c]), 0.9*float64(s.Field.StopsIn(c)), c.String())
		assert.Positive(t, checked[c], c.String())
	}
}

// A zone that is not on the map has no patch in the legend, which would look like one
// that was missed.
func TestZonesThatAreNotThereHaveNoPatch(t *testing.T) {
	texts := func(s scene.Subject) (all []string, patches int) {
		for _, l := range draw(t, scene.A4(), s).Layers {
			for _, item := range l.Items {
				switch item := item.(type) {
				case scene.Text:
					all = append(all, item.Text)
				case scene.Area:
					if item.Style.Fill == report.Colour(zones.Treat) {
						patches++
					}
				}
			}
		}
		return all, patches
	}
	none := demo(t, "week1", assess.Settings{})[0]
	require.Zero(t, none.Field.Map.Zone(zones.Treat).Area)
	said, patches := texts(none)
	assert.Zero(t, patches)
	assert.Contains(t, said, "Spray (red, hatched): none")
	assert.Contains(t, draw(t, scene.A4(), none).Description, "Spray (red, hatched): none.")
	some := demo(t, "week2", assess.Settings{})[0]
	said, patches = texts(some)
	assert.Equal(t, 2, patches, "on the map and in the legend")
	assert.NotContains(t, said, "Spray (red, hatched): none")
}

func TestSVGIsValid(t *testing.T) {
	svg := pictures(t, demo(t, "week2", assess.Settings{})[0])["a4.svg"]
	for d := xml.NewDecoder(bytes.NewReader(svg)); ; {
		_, err := d.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		require.NoError(t, err)
	}
	for _, text := range []string{"5.17 ha (12.8 ac), 10.3 %; 4 stops", "Pivot", "Sorghum aphid, Wednesday 15 July 2026", "200 m", "Watch (yellow, dotted): 12.6 or more"} {
		assert.True(t, bytes.Contains(svg, []byte(text)), text)
	}
	assert.False(t, bytes.Contains(svg, []byte("NaN")))
	out, err := exec.Command(tool(t, "xmllint"), "--noout", "--nonet", save(t, "a4.svg", svg)).CombinedOutput()
	assert.NoError(t, err, string(out))
}

// The figures of the zones and the counts stand in the PDF as text, on one page
// of A4 (ISO 216: 210 by 297 mm, 595.28 by 841.89 points).
func TestPDFIsRead(t *testing.T) {
	s := demo(t, "week2", assess.Settings{})[0]
	path := save(t, "a4.pdf", pictures(t, s)["a4.pdf"])
	info, err := exec.Command(tool(t, "pdfinfo"), path).CombinedOutput()
	require.NoError(t, err, string(info))
	assert.Regexp(t, `Pages:\s+1\n`, string(info))
	assert.Regexp(t, `Page size:\s+595\.\d* x 841\.\d* pts \(A4\)`, string(info))
	text, err := exec.Command(tool(t, "pdftotext"), "-layout", path, "-").CombinedOutput()
	require.NoError(t, err, string(text))
	for _, z := range s.Field.Map.Zones {
		assert.Contains(t, string(text), scene.Figures(s, z, figures.Both))
	}
	assert.Contains(t, string(text), "112")
	assert.Contains(t, string(text), "the label is the law")
}

func TestAMapThatIsNotBelievedShowsStopsAlone(t *testing.T) {
	s := demo(t, "week1", assess.Settings{})[0]
	s.Field.Trust.Doubts = []assess.Doubt{assess.FewStops}
	m, _ := scene.MapOnly(s, 100, 100)
	var layers []string
	for _, l := range m.Layers {
		layers = append(layers, l.Name)
	}
	assert.Equal(t, []string{scene.LayerGround, scene.LayerBoundary, scene.LayerStops, scene.LayerValues}, layers)
	svg := string(pictures(t, s)["a4.svg"])
	assert.True(t, strings.Contains(html.UnescapeString(svg), "The map is no better than the average, so do not go by it alone."))
	assert.False(t, strings.Contains(svg, strings.ToLower(fmt.Sprintf("#%02X%02X%02X", 0xD5, 0x5E, 0x00))))
}

// fewFound is a field of so many stops in rows, the last with a value and the others with
// none, levels 40 and 12.
func fewFound(t testing.TB, stops int, highest float64) scene.Subject {
	t.Helper()
	c, err := geofile.Read(testkit.Testdata(t, "demo", "field.geojson"), geofile.Limits{})
	require.NoError(t, err)
	fields, _, err := boundary.Fields(c.Features, boundary.Settings{})
	require.NoError(t, err)
	rows := "stop,longitude,latitude,count,leaves\n"
	for i := range stops {
		count := 0.0
		if i == stops-1 {
			count = 10 * highest
		}
		rows += fmt.Sprintf("%d,%.6f,%.6f,%g,10\n", i+1, -101.6025+0.0012*float64(i%4), 35.8965+0.0012*float64(i/4), count)
	}
	path := save(t, "few.csv", []byte(rows))
	s, err := survey.Read(given.Files(t, path), survey.Options{})
	require.NoError(t, err)
	r, err := assess.Run(t.Context(), fields, s, assess.Settings{KeepSurface: true, Levels: assess.LevelSettings{TreatAt: 40, WatchAt: 12}})
	require.NoError(t, err)
	ground, err := r.Fields[0].Metric()
	require.NoError(t, err)
	return scene.Subject{Result: r, Field: r.Fields[0], Ground: ground}
}

func layerNames(s scene.Scene) (names []string) {
	for _, l := range s.Layers {
		names = append(names, l.Name)
	}
	return names
}

// A clean field is drawn clear with its stops, and ground beyond their reach watch; one
// stop that is not far below the watch level, or too few stops, and the stops stand alone.
func TestACleanFieldIsDrawnClear(t *testing.T) {
	for _, c := range []struct {
		stops   int
		highest float64
		drawn   bool
	}{{16, 0, true}, {16, 6, true}, {16, 7, false}, {9, 0, false}} {
		s := fewFound(t, c.stops, c.highest)
		require.False(t, s.Field.Trust.Believed())
		m, _ := scene.MapOnly(s, 100, 100)
		assert.Equal(t, c.drawn, slices.Contains(layerNames(m), scene.LayerZones), "%d stops, highest %g", c.stops, c.highest)
		sheet := draw(t, scene.A4(), s)
		texts := strings.Join(textsOf(sheet), "\n")
		assert.Equal(t, c.drawn, strings.Contains(texts, "Few found anywhere, so there is nothing to map"))
		assert.Equal(t, c.drawn, strings.Contains(texts, scene.Figures(s, s.Field.Map.Zone(zones.Clear), figures.Both)))
		assert.Equal(t, c.drawn, strings.Contains(texts, "Spray (red, hatched): none"))
		if c.drawn {
			assert.Equal(t, s.Field.Map.Zone(zones.Watch).Area > 0, slices.Contains(keysOf(m, scene.LayerZones), "watch"), "beyond reach")
			assert.Contains(t, keysOf(m, scene.LayerZones), "clear")
		}
	}
}

// textsOf are all texts of a picture.
func textsOf(s scene.Scene) (texts []string) {
	for _, l := range s.Layers {
		for _, item := range l.Items {
			if text, ok := item.(scene.Text); ok {
				texts = append(texts, text.Text)
			}
		}
	}
	return texts
}

// keysOf are the keys of the areas and discs of a layer.
func keysOf(s scene.Scene, layer string) (keys []string) {
	for _, l := range s.Layers {
		if l.Name != layer {
			continue
		}
		for _, item := range l.Items {
			switch item := item.(type) {
			case scene.Area:
				keys = append(keys, item.Key)
			case scene.Disc:
				keys = append(keys, item.Key)
			}
		}
	}
	return keys
}

func TestStopsGrowWithTheCount(t *testing.T) {
	assert.InDelta(t, 2, scene.StopRadius(100, 100, 2), 1e-12)
	assert.InDelta(t, 0.56, scene.StopRadius(0, 100, 2), 1e-12)
	assert.Less(t, scene.StopRadius(10, 100, 2), scene.StopRadius(20, 100, 2))
	assert.InDelta(t, 0.56, scene.StopRadius(0, 0, 2), 1e-12)
}

func TestPNGRefusesSizesThatCannotBeMeant(t *testing.T) {
	s := scene.Scene{Width: 1000, Height: 1000}
	require.ErrorContains(t, scene.WritePNG(io.Discard, s, 100), "pixels")
	require.ErrorContains(t, scene.WritePNG(io.Discard, s, 0), "pixels")
	require.Error(t, scene.WritePDF(io.Discard, nil))
}

// A stop that was not read is a question mark on white, on paper and alone, and the
// legend and the words say what it means; without one nothing is said of it.
func TestStopsThatWereNotReadAreMarked(t *testing.T) {
	s := demo(t, "week2", assess.Settings{})[0]
	none := draw(t, scene.A4(), s)
	marked := *s.Field
	marked.Unread = []assess.Unread{
		{Own: true, Placed: true, XY: orb.Point{10, 20}}, {Own: true, Rows: make([]survey.Unread, 1)}, {Of: []int{0}, Placed: true, XY: orb.Point{30, 20}},
	}
	s.Field = &marked
	assert.Equal(t, []orb.Point{{10, 20}}, s.Unread(), "those without a place, and parts of stops that are drawn, are no signs")
	only, plot := scene.MapOnly(s, 110, 125)
	layer := only.Layers[len(only.Layers)-1]
	require.Equal(t, scene.LayerUnread, layer.Name)
	disc := layer.Items[0].(scene.Disc)
	assert.Equal(t, plot.Point(orb.Point{10, 20}), disc.Centre)
	assert.Equal(t, "?", layer.Items[1].(scene.Text).Text)
	drawn := draw(t, scene.A4(), s)
	svg := func(sc scene.Scene) string {
		return string(written(t, func(w io.Writer) error { return scene.WriteSVG(w, sc) }))
	}
	assert.Equal(t, 2, strings.Count(svg(drawn), ">?</text>"), "on the map and in the legend")
	assert.Contains(t, svg(drawn), scene.UnreadMeaning)
	assert.Contains(t, drawn.Description, "1 stop marked ?")
	for _, text := range []string{svg(drawn), drawn.Description} {
		assert.Contains(t, text, "1 stop that was not read has no place on the map")
	}
	assert.NotContains(t, svg(none), "has no place")
	assert.NotContains(t, svg(none), "?</text>")
	assert.NotContains(t, svg(none), scene.UnreadMeaning)
}

// Ground that the answer names is to be seen, also where the map may not be believed and
// the red ground is what to spray if nobody can walk on today.
func TestGroundThatTheAnswerNamesIsDrawn(t *testing.T) {
	s := fewFound(t, 16, 300)
	require.False(t, s.Field.Trust.Believed())
	for i, c := range []struct {
		verdict *verdict.Verdict
		drawn   bool
	}{
		{nil, false}, {&verdict.Verdict{Kind: verdict.LookAgain}, false}, {&verdict.Verdict{Kind: verdict.Undecided}, false},
		{&verdict.Verdict{Kind: verdict.TreatWhole}, false}, {&verdict.Verdict{Kind: verdict.Undecided, Instead: verdict.TreatWhole}, false},
		{&verdict.Verdict{Kind: verdict.SpotSpray}, true}, {&verdict.Verdict{Kind: verdict.Undecided, Instead: verdict.SpotSpray}, true},
	} {
		s.Verdict = c.verdict
		m, _ := scene.MapOnly(s, 100, 100)
		assert.Equal(t, c.drawn, slices.Contains(keysOf(m, scene.LayerZones), "treat"), "case %d", i)
	}
}
