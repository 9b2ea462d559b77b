package fieldwork_test

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/output/fieldwork"
	"github.com/geocoris/geocoris/internal/scouting/observer"
	"github.com/geocoris/geocoris/internal/testkit"
)

func drillAt(t testing.TB, d fieldwork.Drill) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "drill.html")
	var b bytes.Buffer
	require.NoError(t, d.WriteHTML(&b))
	require.NoError(t, os.WriteFile(path, b.Bytes(), 0o666))
	return path
}

const nextLeaf = `document.querySelector('#setup button').click()`

// One leaf from look to truth; returns the number drawn.
func playLeaf(t testing.TB, b *testkit.Browser, guess, groups, rest int) (drawn int) {
	t.Helper()
	b.Text(nextLeaf)
	drawn, err := strconv.Atoi(b.Text(`document.querySelectorAll('#leaf .insect').length`))
	require.NoError(t, err)
	b.Await(`document.getElementById('leaf').dataset.step === 'guessing'`)
	assert.Equal(t, "hidden", b.Text(`document.getElementById('leaf').style.visibility`), "no second look before the guess")
	b.Text(fmt.Sprintf(`document.getElementById('guess').value = %d; document.querySelector('#guessing button').click()`, guess))
	assert.Equal(t, "visible", b.Text(`document.getElementById('leaf').style.visibility`))
	for range groups {
		b.Text(`document.getElementById('more').click()`)
	}
	b.Text(fmt.Sprintf(`document.getElementById('rest').value = %d; document.querySelector('#counting button:not([type])').click()`, rest))
	assert.Equal(t, strconv.Itoa(drawn), b.Text(`document.getElementById('leaf').dataset.declared`), "the number drawn is the number declared")
	assert.Contains(t, b.Text(`document.getElementById('truth').textContent`), fmt.Sprintf("There are %d.", drawn))
	return drawn
}

func TestDrillIsPlayed(t *testing.T) {
	b := testkit.StartBrowser(t)
	downloads := t.TempDir()
	b.DownloadTo(downloads)
	b.Open("file://"+drillAt(t, fieldwork.Drill{Seed: 9, Seconds: 0.2, Most: 300}), 1280, 900)
	b.Text(`document.getElementById('observer').value = 'Scout, "A"'`)
	var truths []int
	for leaf := range 12 {
		truths = append(truths, playLeaf(t, b, 40+leaf, 5+leaf, 3))
	}
	assert.Equal(t, "5", b.Text(`document.getElementById('group').textContent`), "a tenth of 51")
	assert.Contains(t, b.Text(`document.getElementById('bias').textContent`), "Leaves: 12.")
	text := b.Text(`document.getElementById('csv').value`)

	b.Text(`document.getElementById('save').click()`)
	saved := filepath.Join(downloads, "pairs.csv")
	require.Eventually(t, func() bool { _, err := os.Stat(saved); return err == nil }, time.Minute, 40*time.Millisecond)
	content, err := os.ReadFile(saved)
	require.NoError(t, err)
	assert.Equal(t, text, string(content))

	pairs, problems, err := observer.ReadPairs("pairs.csv", bytes.NewReader(content))
	require.NoError(t, err)
	assert.Empty(t, problems)
	require.Len(t, pairs, 12)
	for i, p := range pairs {
		group := 5.0 // the group nearest to a tenth of 40 to 51
		assert.Equal(t, observer.Pair{Observer: `Scout, "A"`, Estimated: group*float64(5+i) + 3, Counted: float64(truths[i])}, p)
	}
	assert.Len(t, observer.Calibrate(pairs), 1)
}

// Leaves of a series are the same on every opening, hold what they declare up to
// the most, and no insect lies on another.
func TestDrillDrawsWhatItDeclares(t *testing.T) {
	b := testkit.StartBrowser(t)
	b.Open("file://"+drillAt(t, fieldwork.Drill{}), 1280, 900)
	assert.Equal(t, "true", b.Text(`[1, 2, 37, 180, 500, 1000].every(n => { draw(n, randomOf(n)); return Number($("leaf").dataset.drawn) === n })`))
	assert.Equal(t, "true", b.Text(`[3, 60, 500].every(n => { const p = placesOf(n, randomOf(n)).placed;
		return p.every((a, i) => p.slice(0, i).every(c => Math.hypot(a.x - c.x, a.y - c.y) > 0.4 * (a.reach + c.reach))) })`))
	assert.Equal(t, "true", b.Text(`JSON.stringify(placesOf(80, randomOf(4))) === JSON.stringify(placesOf(80, randomOf(4)))`))
	assert.Equal(t, "true", b.Text(`JSON.stringify(placesOf(80, randomOf(4))) !== JSON.stringify(placesOf(80, randomOf(5)))`))
	assert.Equal(t, "1,1,5,10,20,50", b.Text(`[0, 8, 45, 90, 200, 430].map(groupFor).join()`))
	young, err := strconv.Atoi(b.Text(`draw(400, randomOf(1)), document.querySelectorAll('.insect.young').length`))
	require.NoError(t, err)
	assert.Greater(t, young, 150)
	assert.Less(t, young, 350)
}

// On a phone the leaf fills the window, its adults are more than dots, and it turns, zooms
// and moves by buttons and by fingers, upright and on its side.
func TestDrillLeafFillsAPhone(t *testing.T) {
	const insect = `(() => { const all = [...document.querySelectorAll(".insect.adult ellipse")].map(e => e.getBoundingClientRect()).map(r => Math.max(r.width, r.height)).sort((a, b) => a - b); return all[all.length >> 1] })()`
	const part = `(() => { const r = document.getElementById("leaf").getBoundingClientRect(); return r.width * r.height / innerWidth / innerHeight })()`
	const long = `(() => { const r = document.querySelector("#blade path").getBoundingClientRect(); return Math.max(r.width / innerWidth, r.height / innerHeight) })()`
	b := testkit.StartBrowser(t)
	for _, size := range [][2]int{{360, 640}, {640, 360}, {390, 844}} {
		b.Open("file://"+drillAt(t, fieldwork.Drill{Seed: 3, Seconds: 60, Most: 200}), size[0], size[1])
		b.Text(`document.getElementById("observer").value = "A"; ` + nextLeaf)
		name := fmt.Sprint(size)
		assert.Greater(t, b.Evaluate(part), 0.6, name)
		assert.Greater(t, b.Evaluate(long), 0.6, name)
		before := b.Evaluate(insect).(float64)
		assert.Greater(t, before, 5.0, "%s: pixels", name)
		assert.Empty(t, b.Overlaps(), name)
		b.Picture(fmt.Sprintf("drill_look_%d.png", size[0]))
		b.Text(`document.getElementById("in").click()`)
		assert.InDelta(t, 1.5*before, b.Evaluate(insect), 0.2*before, name)
		b.Text(`document.getElementById("turn").click()`)
		across := b.Evaluate(`(() => { const r = document.querySelector("#blade path").getBoundingClientRect(); return r.width > r.height })()`)
		assert.Equal(t, size[0] < size[1], across, "%s: turned from along the window", name)
		b.Text(`document.getElementById("fit").click()`)
		assert.InDelta(t, before, b.Evaluate(insect), 1e-6, name)
	}
	b.Fingers(2)
	before := b.Evaluate(insect).(float64)
	b.Touch("touchStart", [2]float64{150, 300}, [2]float64{200, 300})
	b.Touch("touchMove", [2]float64{125, 300}, [2]float64{225, 300})
	b.Touch("touchEnd")
	b.Await(`view.zoom > 1.7`)
	assert.Greater(t, b.Evaluate(insect), 1.5*before, "two fingers that part")
	was := b.Evaluate(`document.querySelector("#blade path").getBoundingClientRect().left`).(float64)
	b.Touch("touchStart", [2]float64{150, 300})
	b.Touch("touchMove", [2]float64{180, 300})
	b.Touch("touchEnd")
	assert.InDelta(t, was+30, b.Evaluate(`document.querySelector("#blade path").getBoundingClientRect().left`), 2, "one finger that moves")
	b.AssertNothingOverlaps("looking", testkit.AllWidths()...)
	b.Text(`step("counting")`)
	b.AssertNothingOverlaps("counting", testkit.AllWidths()...)
	b.Size(360, 640)
	b.Picture("drill_count_360.png")
}

func TestDrillNeedsNothingFromOutside(t *testing.T) {
	var b bytes.Buffer
	require.NoError(t, fieldwork.Drill{}.WriteHTML(&b))
	for _, address := range regexp.MustCompile(`(?:https?:)?//[^\s"']+`).FindAllString(b.String(), -1) {
		if regexp.MustCompile(`^https?:|^//[a-z]`).MatchString(address) {
			assert.Equal(t, "http://www.w3.org/2000/svg", address, "a name, not a place to fetch from")
		}
	}
	assert.NotContains(t, b.String(), "<img")
	assert.Error(t, fieldwork.Drill{Seconds: 100}.Validate())
	assert.Error(t, fieldwork.Drill{Most: 5}.Validate())
	assert.NoError(t, fieldwork.Drill{}.Validate())
}
