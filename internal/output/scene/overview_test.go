package scene_test

import (
	"fmt"
	"io"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/mapping/verdict"
	"github.com/geocoris/geocoris/internal/output/report"
	"github.com/geocoris/geocoris/internal/output/scene"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// farm is so many fields with answers of all kinds, named by their numbers; of the last
// no stop was read, and every third has a stop that was not.
func farm(models []scene.Subject, n int) (all []scene.Subject) {
	kinds := []verdict.Kind{verdict.NoSpray, verdict.TreatWhole, verdict.LookAgain, verdict.Undecided, verdict.SpotSpray}
	for i := range n {
		s := models[i%len(models)]
		field := *s.Field
		field.Name = fmt.Sprintf("Field %d", i+1)
		if i%3 == 0 {
			field.Unread = []assess.Unread{{Own: true, Placed: true, XY: field.Stops[0].XY}}
		}
		if i == n-1 {
			field.Unread = []assess.Unread{{Own: true, Placed: true, XY: field.Stops[0].XY}}
			field.Stops, field.Map, field.Trust, field.Mean, field.Max = nil, nil, assess.Trust{}, 0, 0
		}
		s.Field = &field
		s.Verdict = &verdict.Verdict{Field: field.Name, Kind: kinds[i%len(kinds)]}
		s.Verdict.Stats.Mean = field.Mean
		all = append(all, s)
	}
	all[1].Field.Name = "Bottom land, east of the old windmill road and north of the county line, rented"
	all[2].Field.Name = "東区"
	return all
}

func overviewOf(t *testing.T, paper scene.Paper, all []scene.Subject) []scene.Scene {
	t.Helper()
	pages, err := scene.Overview{Sheet: scene.Sheet{Paper: paper, Units: figures.US, Sources: "Invented data"}, Title: "sorghum aphid", Unscouted: []string{"North"}}.Pages(all)
	require.NoError(t, err)
	return pages
}

// tilesOf are the parts of an overview: its own words, and the layers of each field.
func tilesOf(page scene.Scene) (own []scene.Layer, tiles [][]scene.Layer) {
	for _, l := range page.Layers {
		switch {
		case l.Name == scene.LayerGround:
			tiles = append(tiles, []scene.Layer{l})
		case len(tiles) == 0:
			own = append(own, l)
		default:
			tiles[len(tiles)-1] = append(tiles[len(tiles)-1], l)
		}
	}
	return own, tiles
}

// An overview shows every field once, the worst first, with its stops and what was not
// read, the answer in a word, and a scale bar; pages are bounded for any number of fields.
func TestOverviewShowsEveryField(t *testing.T) {
	models := subjects(t)
	for _, n := range []int{1, 2, 12, scene.OverviewMost, scene.OverviewMost + 1, 100} {
		all := farm(models, max(n, 3))[:n]
		want := scene.WorstFirst(all)
		pages := overviewOf(t, scene.Phone(), all)
		assert.Len(t, pages, (n+scene.OverviewMost-1)/scene.OverviewMost)
		shown := 0
		for _, page := range pages {
			assert.Equal(t, [2]float64{scene.Phone().Width, scene.Phone().Height}, [2]float64{page.Width, page.Height})
			_, tiles := tilesOf(page)
			for _, tile := range tiles {
				s := want[shown]
				shown++
				m := scene.Scene{Layers: tile}
				said := textsOf(scene.Scene{Layers: tile[len(tile)-1:]})
				name, _ := scene.Printable(s.Field.Name)
				assert.True(t, strings.HasPrefix(name, strings.TrimSuffix(strings.Join(said[:len(said)-1], " "), "…")), "%q for %q", said, name)
				assert.Equal(t, report.ShortAnswer(s.Verdict.Kind, figures.US), said[len(said)-1])
				assert.Len(t, itemsOf(m, scene.LayerStops), len(s.Field.Stops))
				assert.Len(t, slices.DeleteFunc(textsOf(scene.Scene{Layers: slices.DeleteFunc(slices.Clone(tile), func(l scene.Layer) bool { return l.Name != scene.LayerUnread })}),
					func(text string) bool { return text != "?" }), len(s.Unread()))
				assert.Equal(t, s.Zoned(), slices.ContainsFunc(tile, func(l scene.Layer) bool { return l.Name == scene.LayerZones }))
				assertScaleBar(t, s, m, figures.US, false)
			}
			assert.Contains(t, page.Description, want[shown-1].Field.Name)
		}
		assert.Equal(t, n, shown)
	}
}

func TestWorstFirst(t *testing.T) {
	var kinds []string
	var all []scene.Subject
	for _, k := range []verdict.Kind{verdict.NoSpray, verdict.Undecided, verdict.TreatWhole, verdict.LookAgain, verdict.SpotSpray} {
		for _, mean := range []float64{1, 2} {
			field := assess.Field{Mean: mean}
			field.Name = fmt.Sprint(k, " ", mean)
			v := verdict.Verdict{Kind: k}
			v.Stats.Mean = mean
			all = append(all, scene.Subject{Field: &field, Verdict: &v})
		}
	}
	for _, s := range scene.WorstFirst(all) {
		kinds = append(kinds, s.Field.Name)
	}
	var want []string
	for _, k := range []verdict.Kind{verdict.TreatWhole, verdict.SpotSpray, verdict.Undecided, verdict.LookAgain, verdict.NoSpray} {
		want = append(want, fmt.Sprint(k, " 2"), fmt.Sprint(k, " 1"))
	}
	assert.Equal(t, want, kinds)
}

// Tiles lie on paper, on no other tile and on none of the words of the page; in a tile
// words and scale bar lie beside the map.
func TestTilesOfAnOverviewStandApart(t *testing.T) {
	models := subjects(t)
	for name, paper := range map[string]scene.Paper{"phone": scene.Phone(), "A4": scene.A4(), "letter": scene.Letter()} {
		for _, n := range []int{3, 12, 24, 25} {
			for _, page := range overviewOf(t, paper, farm(models, n)) {
				sheet := orb.Bound{Max: orb.Point{page.Width, page.Height}}
				own, tiles := tilesOf(page)
				var boxes []orb.Bound
				for _, l := range own[1:] { // the first is the paper
					for _, item := range l.Items {
						boxes = append(boxes, boxOf(item))
					}
				}
				words := len(boxes)
				for _, tile := range tiles {
					ground, beside := boxesOf(tile)
					whole := ground
					for _, b := range beside {
						assert.False(t, overlap(b, ground), "%s, %d fields: words on a map", name, n)
						whole = whole.Union(b)
					}
					boxes = append(boxes, whole)
				}
				for i, b := range boxes {
					assert.True(t, sheet.Contains(b.Min) && sheet.Contains(b.Max), "%s, %d fields: %v is cut off", name, n, b)
					for k := max(words, i+1); k < len(boxes); k++ {
						assert.False(t, overlap(b, boxes[k]), "%s, %d fields: %d and %d", name, n, i, k)
					}
				}
			}
		}
	}
}

// boxesOf are the ground of a tile's map, and of each of its words and its scale bar.
func boxesOf(tile []scene.Layer) (ground orb.Bound, beside []orb.Bound) {
	ground = boxOf(tile[0].Items[0])
	for _, l := range tile {
		for _, item := range l.Items {
			switch l.Name {
			case "words", scene.LayerMeasures:
				beside = append(beside, boxOf(item))
			case scene.LayerStops, scene.LayerUnread:
				ground = ground.Union(boxOf(item))
			}
		}
	}
	return ground, beside
}

func TestOverviewsOfNothing(t *testing.T) {
	assert.Empty(t, overviewOf(t, scene.Phone(), nil))
	assert.Zero(t, scene.OverviewPages(0))
}

func TestAnOverviewIsWritten(t *testing.T) {
	page := overviewOf(t, scene.Phone(), farm(subjects(t), 12))[0]
	assert.NotEmpty(t, written(t, func(w io.Writer) error { return scene.WriteSVG(w, page) }))
	require.NoError(t, scene.WritePDF(io.Discard, []scene.Scene{page}))
	text := strings.Join(textsOf(page), " ")
	for _, want := range []string{"12 fields, worst first", "spray", "watch", "clear", "black: 40 or more", "White ground: the map is not sure enough there", "1 field not scouted", "U+6771 U+533A", "Unicode numbers"} {
		assert.Contains(t, text, want)
	}
}

// A stop without a place that may be of two fields is said to be on neither map, once.
func TestAnOverviewSaysWhatIsNotOnItsMaps(t *testing.T) {
	fields := subjects(t)[:2]
	assert.NotContains(t, strings.Join(textsOf(overviewOf(t, scene.Phone(), fields)[0]), " "), "no place on the map")
	for i := range fields {
		lost := *fields[i].Field
		lost.Unread = []assess.Unread{{Own: true, Loose: true, Rows: []survey.Unread{{Problem: survey.Problem{File: "a.csv", Line: 9}}}}}
		fields[i].Field = &lost
	}
	assert.Contains(t, strings.Join(textsOf(overviewOf(t, scene.Phone(), fields)[0]), " "), "1 stop that was not read has no place on the map.")
}
