package fieldwork_test

import (
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/output/fieldwork"
	"github.com/geocoris/geocoris/internal/output/sheet"
	"github.com/geocoris/geocoris/internal/scouting/sampling"
	"github.com/geocoris/geocoris/internal/testkit"
)

// A carried page, and on how many sheets of A4 or letter it prints at the most.
type carried struct {
	name, html string
	sheets     int
}

func pages(t testing.TB) []carried {
	green := fieldwork.Tally{Plan: sampling.Plan{Name: "of your own", Unit: "leaf", Source: "values given", Rule: sampling.Green{Taylor: sampling.Taylor{A: 2.586, B: 1.511}}}}
	return []carried{
		{"card", rendered(t, fieldwork.Card{Tally: namedPlan(t, "sorghum-tally-50"), PerStop: 10}.WriteHTML), 2},
		{"card_tillers", rendered(t, fieldwork.Card{Tally: namedPlan(t, "wheat-tiller-giles"), PerStop: 10}.WriteHTML), 2},
		{"card_precision", rendered(t, fieldwork.Card{Tally: green, PerStop: 10}.WriteHTML), 2},
		{"card_short", rendered(t, fieldwork.Card{Tally: namedPlan(t, "sorghum-tally-50"), Set: sampling.Settings{Most: 20}, PerStop: 10}.WriteHTML), 1},
		{"field_sheet", rendered(t, sheet.WriteHTML), 1},
	}
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
			b.Open(saved(t, c), width, 800)
			b.AssertAccessible(fmt.Sprintf("%s at %d px", c.name, width))
		}
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
