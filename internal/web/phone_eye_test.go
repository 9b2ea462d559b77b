package web_test

import (
	"encoding/csv"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/testkit"
)

// The drill: as many insects are drawn as it then tells, what was guessed and counted is
// kept, and goes on after a crash with another leaf.
func TestTrainTheEye(t *testing.T) {
	p := newPhone(t)
	var told []string
	for leaf := range 2 {
		p.tap("#eye")
		p.shows("eye")
		p.write("eye-name", "scout A")
		p.tap("#eye-start")
		p.Await(`document.getElementById("eye-guess") !== null`)
		p.write("eye-guess", "40")
		p.tap("#eye-count")
		drawn := p.Evaluate(`document.querySelectorAll(".insect").length`).(float64)
		p.tap(add(25))
		p.tap(add(5))
		if leaf == 0 {
			p.screen("eye")
		}
		p.tap("#eye-truth")
		p.Await(`document.getElementById("eye-next") !== null`)
		told = append(told, fmt.Sprintf("There are %v. You guessed 40 and counted 30.", drawn))
		assert.Equal(t, told[leaf], p.status("eye-said"))
		p.again()
	}
	assert.NotEqual(t, told[0], told[1])
	text := p.Text(`import("./main.js").then(({ modules }) => [modules["store.js"], modules["log.js"], modules["drill.js"]]).then(async ([s, l, d]) => d.pairsTable(l.stateOf(await (await s.openStore()).all()).pairs))`)
	rows, err := csv.NewReader(strings.NewReader(text)).ReadAll()
	require.NoError(t, err)
	require.Len(t, rows, 3)
	assert.Equal(t, []string{"scout A", "30"}, rows[1][:2])
	got := p.value("drill.js", `m.outOfHundred([{ estimated: 50, counted: 100 }, { estimated: 200, counted: 100 }, { estimated: 0, counted: 9 }], "estimated")`)
	assert.Equal(t, 100.0, got, "half and twice are even")
}

// What was practised is said at noon and corrects the answer if its owner asks for it. The
// shared counts stay as they were tapped and say so; with the shared pairs the command line
// makes the same zones of them. Invented: an eye that finds four of five.
func TestPracticeCorrectsTheAnswer(t *testing.T) {
	p, shared := atNoon(t, "en"), t.TempDir()
	assert.Equal(t, "", p.status("correction"), "nobody practised")
	var pairs []map[string]any
	for i := range 14 {
		pairs = append(pairs, map[string]any{"kind": "pair", "pair": map[string]any{"observer": "Scout  a", "estimated": 4 * (i + 1), "counted": 5 * (i + 1), "first_guess": 3, "leaf": i + 1}})
	}
	p.keep(pairs[:3]...)
	noon := func() {
		p.shows("walk")
		p.tap("#noon")
		p.shows("noon")
		p.Await(`document.querySelector("#found svg") !== null && document.getElementById("correction").textContent !== ""`)
		p.openAll()
	}
	noon()
	assert.Contains(t, p.status("correction"), "Leaves practised: 3. From ten on")
	p.keep(pairs[3:]...)
	noon()
	assert.Contains(t, p.status("correction"), "You tend to find 20 % too few. Leaves practised: 14.")
	raw, plain := p.status("answer"), p.csv()
	assert.NotContains(t, raw, "corrected")
	p.tap("#correct")
	p.Await(`document.getElementById("answer").textContent.includes("Counts are corrected by the observer's practice.")`)
	assert.NotEqual(t, raw, strings.TrimSuffix(p.status("answer"), " Counts are corrected by the observer's practice."), "other ground")
	p.Await(`document.querySelector('[data-save="my counts for calibrate"]') !== null`)
	p.openAll()
	p.screen("noon-corrected")
	p.DownloadTo(shared)
	for _, file := range []string{"counts", "my counts for calibrate", "zones (GeoJSON)", "boundary"} {
		p.tap(fmt.Sprintf(`[data-save="%s"]`, file))
	}
	zones, counts := wait(t, shared, "zones.geojson"), wait(t, shared, "counts-Pivot-*.csv")
	text, err := os.ReadFile(counts)
	require.NoError(t, err)
	rows, err := csv.NewReader(strings.NewReader(string(text))).ReadAll()
	require.NoError(t, err)
	require.Len(t, rows, 1+len(plain))
	at, notes := slices.Index(rows[0], "count"), slices.Index(rows[0], "notes")
	for i, row := range plain {
		assert.Equal(t, row["count"], rows[1+i][at], "as it was tapped")
	}
	assert.Equal(t, "raw counts; the answer on the phone was corrected by 14 pairs of pairs.csv", rows[1][notes])

	out := t.TempDir()
	program := func(args ...string) {
		testkit.Program(t, nil, "go", append([]string{"run", "github.com/geocoris/geocoris/cmd/geocoris"}, args...)...)
	}
	program("calibrate", wait(t, shared, "pairs.csv"), "--out", filepath.Join(out, "eyes"))
	program("map", counts, "--field", wait(t, shared, "field.geojson"), "--out", filepath.Join(out, "map"), "--rule", "sorghum-aphid-mean-40", "--stage", "boot", "--observers", filepath.Join(out, "eyes", "observers.json"))
	want, err := os.ReadFile(filepath.Join(out, "map", "zones.geojson"))
	require.NoError(t, err)
	got, err := os.ReadFile(zones)
	require.NoError(t, err)
	assert.Equal(t, string(want), string(got))
}
