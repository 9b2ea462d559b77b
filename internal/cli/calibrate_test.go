package cli_test

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/testkit"
)

// pairsFile is invented: one eye that sees 70 %, one that practised three times,
// and two faulty rows.
func pairsFile(t testing.TB) {
	t.Helper()
	t.Chdir(t.TempDir())
	var b strings.Builder
	b.WriteString("observer,estimated,counted\n")
	for i, counted := range []int{5, 9, 14, 22, 35, 47, 60, 85, 120, 160, 240, 390} {
		fmt.Fprintf(&b, "scout A,%d,%d\n", counted*[]int{62, 75, 80, 66}[i%4]/100, counted)
	}
	b.WriteString("scout B,10,12\nscout B,0,0\nscout B,50,44\nscout B,,3\nscout B,few,3\n")
	require.NoError(t, os.WriteFile("pairs.csv", []byte(b.String()), 0o666))
}

func TestCalibrateScreens(t *testing.T) {
	for name, args := range map[string][]string{
		"help_calibrate":    {"calibrate", "--help"},
		"help_drill":        {"calibrate", "drill", "--help"},
		"calibrate":         {"calibrate", "pairs.csv", "--out", "eyes"},
		"calibrate_details": {"calibrate", "pairs.csv", "--details"},
		"calibrate_json":    {"calibrate", "pairs.csv", "--json"},
	} {
		t.Run(name, func(t *testing.T) {
			pairsFile(t)
			code, out, errs := run(t, args...)
			assert.Zero(t, code, errs)
			assert.Equal(t, string(testkit.Golden(t, filepath.Join("cli", name+".txt"), []byte(out))), out)
			if !strings.HasPrefix(name, "help") {
				assert.Contains(t, errs, `pairs.csv:17: column estimated is blank`)
				assert.Contains(t, errs, `pairs.csv:18: column estimated: "few" is no number`)
			}
		})
	}
}

func TestCalibrateWritesItsFiles(t *testing.T) {
	pairsFile(t)
	code, _, errs := run(t, "calibrate", "pairs.csv", "--out", "eyes", "--strict")
	assert.Equal(t, 3, code, errs)
	assert.Equal(t, []string{"observers.json", "pairs.svg"}, names(t, "eyes"))
	var file struct {
		Observers []struct {
			Observer string
			Fit      *struct{ Slope float64 }
		}
	}
	require.NoError(t, json.Unmarshal([]byte(contents(t, "eyes")["observers.json"]), &file))
	require.Len(t, file.Observers, 2)
	assert.InDelta(t, 1, file.Observers[0].Fit.Slope, 0.1)
	assert.Nil(t, file.Observers[1].Fit, "three pairs are too few")
	code, _, errs = run(t, "calibrate", "pairs.csv", "--out", "eyes")
	assert.Equal(t, 1, code)
	assert.Contains(t, errs, "is there already")
	code, _, errs = run(t, "calibrate", "none.csv")
	assert.Equal(t, 1, code)
	assert.Contains(t, errs, "hint: want a CSV file")
	code, _, _ = run(t, "calibrate")
	assert.Equal(t, 2, code)
}

func TestDrillIsWritten(t *testing.T) {
	t.Chdir(t.TempDir())
	code, out, errs := run(t, "calibrate", "drill", "--out", "d", "--series", "7", "--seconds", "2.5")
	require.Zero(t, code, errs)
	assert.Contains(t, out, "drill.html")
	assert.Contains(t, contents(t, "d")["drill.html"], `data-seed="7" data-seconds="2.5" data-most="500"`)
	for want, args := range map[string][]string{
		"--out is missing": {},
		"want 0.2 to 60":   {"--out", "e", "--seconds", "0.1"},
		"want 10 to 1,000": {"--out", "e", "--most", "5000"},
	} {
		code, _, errs := run(t, append([]string{"calibrate", "drill"}, args...)...)
		assert.Equal(t, 2, code)
		assert.Contains(t, errs, want)
	}
	code, _, errs = run(t, "calibrate", "drill", "--out", "d")
	assert.Equal(t, 1, code)
	assert.Contains(t, errs, "is there already")
}

func TestKeyScreens(t *testing.T) {
	for name, tc := range map[string]struct {
		in   string
		args []string
	}{
		"help_key":   {"", []string{"key", "--help"}},
		"key_found":  {"", []string{"key", "--cornicles", "dark", "--feet", "dark", "--patch", "none", "--colour", "yellow"}},
		"key_open":   {"", []string{"key", "--cornicles", "dark", "--form", "winged"}},
		"key_none":   {"", []string{"key", "--stripe", "yes", "--spines", "yes"}},
		"key_asked":  {"no\n\nDark\n\nno\nred\n", []string{"key"}},
		"key_answer": {"", []string{"key", "--spines", "yes", "--json"}},
	} {
		t.Run(name, func(t *testing.T) {
			code, out, errs := typed(t, tc.in, tc.args...)
			assert.Zero(t, code, errs)
			assert.Empty(t, errs)
			assert.Equal(t, string(testkit.Golden(t, filepath.Join("cli", name+".txt"), []byte(out))), out)
		})
	}
}

// The key to print asks nothing, and goes with an answer.
func TestKeyIsPrinted(t *testing.T) {
	t.Chdir(t.TempDir())
	code, out, errs := typed(t, "", "key", "--out", "walk")
	require.Zero(t, code, errs)
	assert.Equal(t, "to print: "+filepath.Join("walk", "key.html")+"\n", out, "nothing was asked")
	assert.Equal(t, []string{"key.html"}, names(t, "walk"))
	code, _, errs = typed(t, "", "key", "--out", "walk")
	assert.Equal(t, 1, code)
	assert.Contains(t, errs, "is there already")
	code, out, errs = typed(t, "", "key", "--out", "walk", "--force", "--spines", "yes")
	require.Zero(t, code, errs)
	assert.Contains(t, out, "yellow sugarcane aphid")
	code, _, _ = typed(t, "", "key", "--out", "other", "--feet", "blue")
	assert.Equal(t, 2, code)
	assert.NoDirExists(t, "other", "nothing is written where an answer is wrong")
}

func TestRulesArePrinted(t *testing.T) {
	t.Chdir(t.TempDir())
	code, out, errs := run(t, "rules", "--pest", "sorghum aphid", "--out", "walk")
	require.Zero(t, code, errs)
	assert.Contains(t, out, "sorghum-aphid-kansas: ")
	page := contents(t, "walk")["rules.html"]
	assert.Contains(t, page, "30 % of plants with a leaf at or above 101")
	assert.NotContains(t, page, "canola")
	code, _, errs = run(t, "rules", "--out", "walk")
	assert.Equal(t, 1, code)
	assert.Contains(t, errs, "is there already")
	assert.NotContains(t, contents(t, "walk")["rules.html"], "canola", "nothing was overwritten")
	code, _, errs = run(t, "rules", "--out", "walk", "--force")
	require.Zero(t, code, errs)
	assert.Contains(t, contents(t, "walk")["rules.html"], "canola")
}

func TestKeyRefusals(t *testing.T) {
	for name, tc := range map[string]struct {
		in   string
		args []string
		code int
		want string
	}{
		"unknown answer": {"", []string{"--feet", "blue"}, 2, "want dark or pale"},
		"unknown form":   {"", []string{"--feet", "dark", "--form", "egg"}, 2, "wingless, winged or young"},
		"piped":          {"perhaps\n", nil, 1, "one to a line"},
		"nothing":        {"", nil, 1, "no mark"},
	} {
		t.Run(name, func(t *testing.T) {
			code, _, errs := typed(t, tc.in, append([]string{"key"}, tc.args...)...)
			assert.Equal(t, tc.code, code, errs)
			assert.Contains(t, errs, tc.want)
		})
	}
}
