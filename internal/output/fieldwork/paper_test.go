package fieldwork_test

import (
	"fmt"
	"html"
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
	"github.com/geocoris/geocoris/internal/language/vocabulary"
	"github.com/geocoris/geocoris/internal/mapping/rules"
	"github.com/geocoris/geocoris/internal/output/fieldwork"
	"github.com/geocoris/geocoris/internal/output/sheet"
	"github.com/geocoris/geocoris/internal/scouting/key"
	"github.com/geocoris/geocoris/internal/scouting/plan"
	"github.com/geocoris/geocoris/internal/scouting/sampling"
	"github.com/geocoris/geocoris/internal/testkit"
)

// A carried page, and on how many sheets of A4 or letter it prints at the most.
type carried struct {
	name, html string
	sheets     int
	twin       bool // like another in all that a browser sees but its length
}

func pages(t testing.TB) []carried {
	book, err := rules.Published()
	require.NoError(t, err)
	green := fieldwork.Tally{Plan: sampling.Plan{Name: "of your own", Unit: "leaf", Source: "values given", Rule: sampling.Green{Taylor: sampling.Taylor{A: 2.586, B: 1.511}}}}
	return []carried{
		{"card", rendered(t, fieldwork.Card{Tally: namedPlan(t, "sorghum-tally-50"), PerStop: 10}.WriteHTML), 2, false},
		{"card_tillers", rendered(t, fieldwork.Card{Tally: namedPlan(t, "wheat-tiller-giles"), PerStop: 10}.WriteHTML), 2, true},
		{"card_precision", rendered(t, fieldwork.Card{Tally: green, PerStop: 10}.WriteHTML), 2, true},
		{"card_short", rendered(t, fieldwork.Card{Tally: namedPlan(t, "sorghum-tally-50"), Set: sampling.Settings{Most: 20}, PerStop: 10}.WriteHTML), 1, true},
		{"plan_24", rendered(t, walk(t, 24, 3, "").WriteSheet), 3, false},
		{"plan_20", rendered(t, walk(t, 20, 0, "").WriteSheet), 2, true},
		{"plan_60", rendered(t, walk(t, 60, 0, "").WriteSheet), 4, true},
		{"plan_leaves", rendered(t, walk(t, 20, 0, "sorghum-aphid-mean-40").WriteSheet), 2, true},
		{"plan_plants", rendered(t, walk(t, 20, 0, "sorghum-aphid-high-plains").WriteSheet), 2, false},
		{"plan_heads", rendered(t, walk(t, 4, 0, "sorghum-headworm").WriteSheet), 2, false},
		{"plan_sweeps", rendered(t, walk(t, 10, 0, "canola-lygus").WriteSheet), 2, false},
		{"drill", rendered(t, fieldwork.Drill{}.WriteHTML), 2, false},
		{"key", rendered(t, fieldwork.KeyPage{}.WriteHTML), 1, false},
		{"rules", rendered(t, fieldwork.RulesPage{Rules: book.Rules}.WriteHTML), 2, false},
		{"rules_pest", rendered(t, fieldwork.RulesPage{Rules: book.OfPest("sorghum aphid")}.WriteHTML), 1, true},
		{"field_sheet", rendered(t, sheet.WriteHTML), 1, false},
	}
}

// walk is an invented plan in a field of 16 ha, for a rule where one is named.
func walk(t testing.TB, stops, edge int, rule string) fieldwork.Plan {
	t.Helper()
	frame, err := geo.NewFrame(orb.Point{-100, 37})
	require.NoError(t, err)
	square := frame.InversePolygons(orb.MultiPolygon{{orb.Ring{{0, 0}, {500, 0}, {500, 200}, {300, 400}, {0, 400}, {0, 0}}}})
	start := frame.Inverse(orb.Point{-20, -20})
	made, err := plan.Make(geo.Field{Name: "North 40", Boundary: square}, plan.Settings{Stops: stops, Edge: edge, Start: &start})
	require.NoError(t, err)
	p := fieldwork.Plan{Plan: made}
	if rule != "" {
		book, err := rules.Published()
		require.NoError(t, err)
		named, err := book.Named(rule)
		require.NoError(t, err)
		stage := "" // of the rules that have one
		if len(named.Bands) > 1 {
			stage = named.Bands[1].Stages[0]
		}
		needs, err := named.Needs(stage, stops, 40)
		require.NoError(t, err)
		p.Needs, p.Pest = &needs, named.Pest
	}
	return p
}

// saved is the page as a file, for a browser.
func saved(t testing.TB, c carried) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), c.name+".html")
	require.NoError(t, os.WriteFile(path, []byte(c.html), 0o600))
	return "file://" + path
}

func TestPagesHaveLandmarks(t *testing.T) {
	b := testkit.StartBrowser(t)
	for _, c := range pages(t) {
		if c.twin {
			continue
		}
		b.Open(saved(t, c), 1366, 800)
		assert.Equal(t, "en 1 1 1", b.Text(`[document.documentElement.lang, document.querySelectorAll("main").length, document.querySelectorAll("h1").length, document.querySelectorAll("main h1").length].join(" ")`), c.name)
		b.AssertNothingOverlaps(c.name, testkit.AllWidths()...)
		for _, width := range []int{360, 390, 1366} {
			b.Size(width, 800)
			b.Picture(fmt.Sprintf("%s_%d.png", c.name, width))
		}
	}
}

func TestPagesAreAccessible(t *testing.T) {
	b := testkit.StartBrowser(t)
	for _, c := range pages(t) {
		for _, width := range []int{1366, 360} {
			if c.twin {
				continue
			}
			b.Open(saved(t, c), width, 800)
			b.AssertAccessible(fmt.Sprintf("%s at %d px", c.name, width))
		}
	}
}

// The pages that are there in Spanish: words are longer, and must have room too.
func TestPagesInSpanishHaveRoom(t *testing.T) {
	said := figures.Both.In(vocabulary.Spanish)
	card := fieldwork.Card{Tally: namedPlan(t, "sorghum-tally-50"), PerStop: 10}
	card.Said = said
	walked := walk(t, 24, 3, "")
	walked.Said = said
	b := testkit.StartBrowser(t)
	for name, page := range map[string]string{"card": rendered(t, card.WriteHTML), "plan": rendered(t, walked.WriteSheet), "drill": rendered(t, fieldwork.Drill{Units: said}.WriteHTML)} {
		b.Open(saved(t, carried{name: name, html: page}), 1366, 800)
		assert.Equal(t, "es 1 1", b.Text(`[document.documentElement.lang, document.querySelectorAll("main").length, document.querySelectorAll("main h1").length].join(" ")`), name)
		b.AssertNothingOverlaps(name+" in Spanish", 320, 360, 390, 768, 1366)
		b.Size(360, 800)
		b.AssertAccessible(name + " in Spanish")
		read := testkit.ReadingOf(testkit.PageText(t, page))
		assert.LessOrEqual(t, read.LongestWords, 25, read.Longest)
	}
}

func TestPagesPrintOnFewSheets(t *testing.T) {
	b := testkit.StartBrowser(t)
	for _, c := range pages(t) {
		b.Open(saved(t, c), 1366, 800)
		for _, paper := range []struct {
			name string
			size testkit.Paper
		}{{"a4", testkit.A4}, {"letter", testkit.Letter}} {
			assert.LessOrEqual(t, len(testkit.PDFPages(t, b.Print(c.name+"_"+paper.name+".pdf", paper.size))), c.sheets, "%s on %s", c.name, paper.name)
		}
	}
}

func TestPagesReadEasily(t *testing.T) {
	for _, c := range pages(t) {
		t.Logf("%s: grade %.1f", c.name, testkit.ReadingOf(testkit.PageText(t, c.html)).Grade())
		testkit.AssertReads(t, testkit.PageText(t, c.html), 9, 25)
	}
}

// A stop stands on one side of paper with all of its boxes, 20 stops to a side where
// their boxes are one line, and the boxes are large enough to write in.
func TestNoStopIsOnTwoSides(t *testing.T) {
	b := testkit.StartBrowser(t)
	two := walk(t, 24, 0, "")
	two.Leaves = 20
	for name, tc := range map[string]struct {
		plan  fieldwork.Plan
		sides []int // stops on each
	}{"one line": {walk(t, 41, 0, ""), []int{20, 20, 1}}, "two lines": {two, []int{10, 10, 4}}, "plants": {walk(t, 20, 0, "sorghum-aphid-high-plains"), []int{20}}} {
		b.Open(saved(t, carried{name: "sides", html: rendered(t, tc.plan.WriteSheet)}), 1366, 800)
		smallest := b.Evaluate(`Math.min(...[...document.querySelectorAll("td.box")].map(e => Math.min(e.clientWidth, e.clientHeight)))`)
		assert.Greater(t, smallest, 8.0*96/25.4, "%s: 8 mm", name)
		for _, paper := range []testkit.Paper{testkit.A4, testkit.Letter} {
			read := testkit.PDFPages(t, b.Print("sides.pdf", paper))
			require.Len(t, read, 1+len(tc.sides), name)
			for i, want := range tc.sides {
				assert.Equal(t, [2]int{want, want}, [2]int{like(read[i+1], `^3[67]\.\d{5}$`), like(read[i+1], `^-\d+\.\d{5}$`)}, "%s, side %d", name, i+1)
			}
		}
	}
}

// like is how many words of a page a pattern fits.
func like(p testkit.PDFPage, pattern string) (n int) {
	for _, w := range p.Words {
		if regexp.MustCompile(pattern).MatchString(w.Text) {
			n++
		}
	}
	return n
}

// A rule's sheet has a box for each leaf of each plant, and a column for what it is fed by.
func TestSheetHasABoxForEachLeaf(t *testing.T) {
	for rule, want := range map[string]struct {
		boxes  int
		labels []string
		heads  []string
	}{
		"":                          {10, []string{">1<", ">10<"}, []string{"10 leaves", ">count<", ">leaves (10)<"}},
		"sorghum-aphid-mean-40":     {10, []string{">1a<", ">5b<"}, []string{"5 plants, 2 leaves of each", ">count<", ">leaves (10)<"}},
		"sorghum-aphid-high-plains": {10, []string{">1a<", ">5b<"}, []string{">plants (5)<", ">plants with a leaf at or above 50<"}},
		"canola-lygus":              {1, nil, []string{"10 sweeps", ">count<", ">sweeps (10)<"}},
		"cotton-aphid":              {10, []string{">1<", ">10<"}, nil},
	} {
		sheet := rendered(t, walk(t, 6, 0, rule).WriteSheet)
		assert.Equal(t, 6*want.boxes, strings.Count(sheet, `<td class="box">`), rule)
		for _, text := range append(want.labels, want.heads...) {
			assert.Contains(t, sheet, text, rule)
		}
	}
}

// The page of rules has each level of each rule, at each stage that it holds at.
func TestRulesPageHoldsEveryLevel(t *testing.T) {
	book, err := rules.Published()
	require.NoError(t, err)
	raw := rendered(t, fieldwork.RulesPage{Rules: book.Rules}.WriteHTML)
	page := testkit.PageText(t, raw)
	levels := 0
	for _, r := range book.Rules {
		for _, b := range r.Bands {
			levels += max(1, len(b.Stages))
			assert.Contains(t, page, r.StatedAs(b), r.Name)
		}
		assert.Contains(t, page, r.Name)
		assert.Contains(t, html.UnescapeString(raw), r.Source)
	}
	rows := regexp.MustCompile(`(?m)^\d+$`).FindAllString(page, -1)
	assert.Len(t, rows, levels, "each with the number of its rule")
}

// The key on paper is the key that answers: whoever shows the cells of a column is that
// species, and a mark in bold alone decides.
func TestKeyPageIsTheKey(t *testing.T) {
	page := rendered(t, fieldwork.KeyPage{}.WriteHTML)
	for _, s := range key.Table() {
		seen := key.Seen{}
		for _, m := range key.Marks() {
			if shown := s.Shows(m.Name); m.Decides && len(shown) > 0 {
				seen[m.Name] = shown[0]
			}
		}
		v, err := key.Judge(seen, true)
		require.NoError(t, err)
		require.True(t, v.Decided, s.Name)
		assert.Equal(t, s.Name, v.Fits[0].Name)
		assert.Contains(t, page, s.Name)
	}
	assert.Equal(t, []string{"hairy", "yes", "dark", "red to orange", "dark"}, bold(page), "spines, stripe, patch twice, head")
	for _, seen := range []key.Seen{{"spines": "yes"}, {"stripe": "yes"}, {"patch": "dark"}, {"patch": "red"}, {"head": "dark"}} {
		v, err := key.Judge(seen, true)
		require.NoError(t, err)
		assert.True(t, v.Decided, seen)
	}
}

func bold(page string) (cells []string) {
	for _, m := range regexp.MustCompile(`<td class="alone">([^<]*)<`).FindAllStringSubmatch(page, -1) {
		cells = append(cells, m[1])
	}
	return cells
}
