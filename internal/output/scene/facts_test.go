package scene_test

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/geometry/zones"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/output/report"
	"github.com/geocoris/geocoris/internal/output/scene"
)

// itemsOf are the items of all layers of a name.
func itemsOf(s scene.Scene, layer string) (items []scene.Item) {
	for _, l := range s.Layers {
		if l.Name == layer {
			items = append(items, l.Items...)
		}
	}
	return items
}

// subjects are fields of all kinds: spots, next to nothing, stops alone.
func subjects(t *testing.T) (all []scene.Subject) {
	for _, week := range []string{"week1", "week2", "week3"} {
		all = append(all, demo(t, week, assess.Settings{})...)
	}
	return append(all, fewFound(t, 16, 3), fewFound(t, 6, 300))
}

// What the picture shows is the result, to the last figure.
func TestPicturesHoldTheFactsOfTheResult(t *testing.T) {
	seen := map[bool]int{}
	for _, s := range subjects(t) {
		for _, u := range []figures.Units{figures.Both, figures.Metric, figures.US} {
			sheet, err := scene.Sheet{Paper: scene.Phone(), Units: u}.Of(s)
			require.NoError(t, err)
			only, plot := scene.MapOnly(s, 110, 125)
			seen[s.Zoned()]++
			for _, m := range []scene.Scene{sheet, only} {
				assert.Len(t, itemsOf(m, scene.LayerStops), len(s.Field.Stops))
				drawn := keysOf(m, scene.LayerZones)
				for _, z := range s.Field.Map.Zones {
					assert.Equal(t, s.Zoned() && z.Area > 0, slices.Contains(drawn, z.Class.String()), z.Class)
				}
				for _, item := range itemsOf(m, scene.LayerStops) {
					disc := item.(scene.Disc)
					i, err := strconv.Atoi(disc.Key)
					require.NoError(t, err)
					assert.Equal(t, s.Field.Stops[i].Value >= s.Result.Levels.TreatAt, disc.Style.Fill.R == 0, "black at or above the treat level")
				}
			}
			assertFigures(t, s, sheet, u)
			assertZonesAreTheirAreas(t, s, only, plot)
			assertScaleBar(t, s, sheet, u, true)
		}
	}
	assert.Positive(t, seen[true])
	assert.Positive(t, seen[false])
}

func assertFigures(t *testing.T, s scene.Subject, sheet scene.Scene, u figures.Units) {
	t.Helper()
	said := strings.Join(textsOf(sheet), " ")
	for _, z := range s.Field.Map.Zones {
		if !s.Zoned() {
			assert.NotContains(t, said, scene.Figures(s, z, u))
			continue
		}
		if z.Area == 0 {
			assert.Contains(t, said, report.LegendZone(z.Class, figures.Both)+": none")
			continue
		}
		assert.Contains(t, said, u.Area(z.Area)+", "+figures.Share(z.Area/s.Field.Area))
	}
	assert.Contains(t, said, report.Levelled(s.Field.Max, s.Result.Levels.Levels))
	assert.Contains(t, said, figures.Counted(len(s.Field.Stops), "stop"))
}

// assertZonesAreTheirAreas measures the ground on paper.
func assertZonesAreTheirAreas(t *testing.T, s scene.Subject, m scene.Scene, p scene.Plot) {
	t.Helper()
	for _, item := range itemsOf(m, scene.LayerZones) {
		area := item.(scene.Area)
		i := slices.IndexFunc(zones.Classes(), func(c zones.Class) bool { return c.String() == area.Key })
		require.GreaterOrEqual(t, i, 0, area.Key)
		assert.InEpsilon(t, s.Field.Map.Zone(zones.Classes()[i]).Area, paperArea(area)/p.Scale/p.Scale, 1e-6)
	}
}

// assertScaleBar measures the bar against the length written beside it, by the field's
// own area on paper. North stands beside it where it is asked for.
func assertScaleBar(t *testing.T, s scene.Subject, m scene.Scene, u figures.Units, north bool) {
	t.Helper()
	perMetre := math.Sqrt(paperArea(itemsOf(m, scene.LayerBoundary)[0].(scene.Area)) / s.Field.Area)
	var words []string
	left, right := math.Inf(1), math.Inf(-1)
	for _, item := range itemsOf(m, scene.LayerMeasures) {
		switch item := item.(type) {
		case scene.Text:
			words = append(words, item.Text)
		case scene.Area:
			if item.Style.Stroke.A > 0 {
				for _, at := range item.Rings[0] {
					left, right = min(left, at.X), max(right, at.X)
				}
			}
		}
	}
	require.NotEmpty(t, words)
	assert.Equal(t, north, slices.Contains(words, "N"))
	var number float64
	var unit string
	_, err := fmt.Sscan(words[0], &number, &unit)
	require.NoError(t, err)
	assert.Equal(t, map[bool]string{true: "ft", false: "m"}[u == figures.US], unit)
	length := number * map[string]float64{"ft": geo.MetresPerFoot, "m": 1}[unit]
	assert.InEpsilon(t, length, (right-left)/perMetre, 1e-6)
	assert.Equal(t, u == figures.Both, strings.HasSuffix(words[0], " ("+figures.US.Length(length)+")"), words[0])
}

// paperArea is that of rings wound as they are filled, in mm².
func paperArea(area scene.Area) float64 {
	sum := 0.0
	for _, ring := range area.Rings {
		for i, a := range ring {
			b := ring[(i+1)%len(ring)]
			sum += (a.X*b.Y - b.X*a.Y) / 2
		}
	}
	return math.Abs(sum)
}

// boxOf is the ground that an item covers on paper.
func boxOf(item scene.Item) orb.Bound {
	var points []scene.Point
	switch item := item.(type) {
	case scene.Area:
		points = slices.Concat(item.Rings...)
	case scene.Lines:
		points = slices.Concat(item.Lines...)
	case scene.Dots:
		points = item.Centres
	case scene.Disc:
		points = []scene.Point{{X: item.Centre.X - item.Radius, Y: item.Centre.Y - item.Radius}, {X: item.Centre.X + item.Radius, Y: item.Centre.Y + item.Radius}}
	case scene.Text:
		x0, y0, x1, y1 := scene.TextBox(item)
		points = []scene.Point{{X: x0, Y: y0}, {X: x1, Y: y1}}
	}
	b := orb.Bound{Min: orb.Point{math.Inf(1), math.Inf(1)}, Max: orb.Point{math.Inf(-1), math.Inf(-1)}}
	for _, p := range points {
		b = b.Extend(orb.Point{p.X, p.Y})
	}
	return b
}

// overlap reports whether boxes share more than a tenth of a millimetre each way.
func overlap(a, b orb.Bound) bool {
	const little = 0.1
	return min(a.Max[0], b.Max[0])-max(a.Min[0], b.Min[0]) > little && min(a.Max[1], b.Max[1])-max(a.Min[1], b.Min[1]) > little
}

// Nothing is cut off by the paper's edge, words lie neither on words nor on the map, and
// counts lie on no other count, on no stop and on no ?.
func TestNothingOverlaps(t *testing.T) {
	for _, s := range subjects(t) {
		marked := *s.Field
		marked.Stops = slices.Clone(marked.Stops)
		edge := geo.Bound(s.Ground.XY)
		for i, at := range []orb.Point{{edge.Max[0], edge.Center()[1]}, {edge.Min[0], edge.Center()[1]}, edge.Min, edge.Max} {
			if i+2 == len(marked.Stops) {
				break
			}
			marked.Stops[i+2].XY, marked.Stops[i+2].Value = at, 1234.5 // at the edge, with much to write
		}
		marked.Unread = []assess.Unread{{Own: true, Placed: true, XY: marked.Stops[0].XY}, {Own: true, Placed: true, XY: orb.Point{marked.Stops[1].XY[0] + 8, marked.Stops[1].XY[1]}}}
		s.Field = &marked
		only, _ := scene.MapOnly(s, 110, 125)
		narrow, _ := scene.MapOnly(s, 80, 125)
		for _, m := range []scene.Scene{draw(t, scene.Phone(), s), draw(t, scene.A4(), s), draw(t, scene.Letter(), s), only, narrow} {
			assertApart(t, m)
		}
	}
}

func assertApart(t *testing.T, m scene.Scene) {
	t.Helper()
	paper := orb.Bound{Max: orb.Point{m.Width, m.Height}}
	var words, ground, counts, signs []orb.Bound
	for _, l := range m.Layers {
		for _, item := range l.Items {
			b := boxOf(item)
			assert.True(t, paper.Contains(b.Min) && paper.Contains(b.Max), "%s: %v is cut off", l.Name, item)
			_, text := item.(scene.Text)
			switch {
			case (l.Name == "words" || l.Name == scene.LayerMeasures) && text:
				words = append(words, b)
			case l.Name == scene.LayerBoundary:
				ground = append(ground, b)
			case l.Name == scene.LayerValues && !text:
				counts = append(counts, b)
			case l.Name == scene.LayerStops, l.Name == scene.LayerUnread && !text:
				signs = append(signs, b)
			}
		}
	}
	for i, w := range words {
		for _, other := range slices.Concat(words[i+1:], ground, counts, signs) {
			assert.False(t, overlap(w, other), "words at %v and %v", w, other)
		}
	}
	for i, c := range counts {
		for _, other := range slices.Concat(counts[i+1:], signs) {
			assert.False(t, overlap(c, other), "a count at %v and %v", c, other)
		}
	}
}

// Maps on one scale draw a count at one size, whatever the field; one map alone stays as
// it is.
func TestOneScale(t *testing.T) {
	all := subjects(t)
	assert.Equal(t, all[:1], scene.OneScale(all[:1]))
	highest := 0.0
	sizes := map[float64][]float64{}
	for _, s := range scene.OneScale(all) {
		highest = max(highest, s.Field.Max)
		m, _ := scene.MapOnly(s, 110, 125)
		for i, item := range itemsOf(m, scene.LayerStops) {
			disc := item.(scene.Disc)
			stop, err := strconv.Atoi(disc.Key)
			require.NoError(t, err, i)
			v := s.Field.Stops[stop].Value
			sizes[v] = append(sizes[v], disc.Radius)
		}
		values := scene.LegendValues(s)
		assert.GreaterOrEqual(t, values[len(values)-1], highest, "the legend tells the shared scale")
	}
	several := 0
	for v, radii := range sizes {
		assert.InDelta(t, slices.Min(radii), slices.Max(radii), 1e-12, "a count of %g", v)
		if len(radii) > 1 {
			several++
		}
	}
	assert.Greater(t, several, 5)
	assert.Zero(t, all[0].Most, "what was given is as it was")
}
