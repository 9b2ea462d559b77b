package page_test

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/assess"
	"github.com/geocoris/geocoris/internal/compare"
	"github.com/geocoris/geocoris/internal/page"
)

func weeks(t testing.TB) string {
	t.Helper()
	var results []*assess.Result
	for _, week := range []string{"week1", "week2", "week3"} {
		results = append(results, demo(t, week))
	}
	r, err := compare.Run(t.Context(), results, compare.Settings{})
	require.NoError(t, err)
	r.Fields = r.Fields[:1]
	var b bytes.Buffer
	require.NoError(t, page.Weeks{Result: r, Program: "geocoris test", Command: "compare"}.Write(&b))
	return b.String()
}

func TestThePageOfWeeksHoldsWhatTheyAre(t *testing.T) {
	text := weeks(t)
	for _, want := range []string{"2026-07-08", "2026-07-15", "2026-07-22", "From zone to zone, 2026-07-15 to 2026-07-22", "<td>14.47</td>", "go back by"} {
		assert.True(t, strings.Contains(text, want), want)
	}
	assert.False(t, strings.Contains(text, "NaN"))
	assert.True(t, text == weeks(t), "the same page has the same bytes")
	require.Error(t, page.Weeks{Result: &compare.Result{}}.Write(&bytes.Buffer{}))
}

func TestBrowserSlidesThroughWeeks(t *testing.T) {
	b := newBrowser(t)
	path := filepath.Join(t.TempDir(), "report.html")
	require.NoError(t, os.WriteFile(path, []byte(weeks(t)), 0o644))
	b.open(path, 1280, 900)
	shown := func() any {
		return b.evaluate(`[...document.querySelectorAll(".weeks figure")].filter((f) => f.offsetParent).map((f) => f.dataset.date).join(" ")`)
	}
	assert.Equal(t, "2026-07-08 2026-07-15 2026-07-22", shown())
	b.picture("weeks.png")
	b.evaluate(`(() => { const s = document.querySelector(".slider input"); s.value = "1"; s.dispatchEvent(new Event("input")); })()`)
	assert.Equal(t, "2026-07-15", shown())
	b.evaluate(`document.querySelector(".slider button").click()`)
	assert.Equal(t, "2026-07-08 2026-07-15 2026-07-22", shown())
	b.evaluate(`document.querySelectorAll("svg.plot")[2].dispatchEvent(new KeyboardEvent("keydown", {key: "n"}))`)
	assert.Contains(t, b.evaluate(`document.querySelectorAll(".told")[2].textContent`), "Stop ")
	b.assertQuiet()
	b.session = ""
	b.open(path, 360, 740)
	assert.LessOrEqual(t, b.evaluate(`document.documentElement.scrollWidth`), 360.0, "no sideways scroll")
	b.picture("weeks_phone.png")
}
