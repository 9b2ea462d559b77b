package cli_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A folder of map that was moved is compared and reported by what lies in it, beside it or
// where the command runs, if that is what it was made from; else it is said what to do.
func TestAMovedFolderIsFoundAgain(t *testing.T) {
	inFolder(t)
	for _, week := range []string{"1", "2"} {
		code, _, errs := run(t, "map", "week"+week+".csv", "--field", "field.geojson", "--out", "o"+week)
		require.Zero(t, code, errs)
	}
	code, want, errs := run(t, "compare", "o1", "o2", "--out", "c")
	require.Zero(t, code, errs)
	code, _, errs = run(t, "report", "o2")
	require.Zero(t, code, errs)
	page := contents(t, "o2")["report.html"]

	require.NoError(t, os.Mkdir("usb", 0o700))
	for _, name := range []string{"o1", "o2"} {
		require.NoError(t, os.Rename(name, filepath.Join("usb", name)))
	}
	require.NoError(t, os.Mkdir("desk", 0o700))
	t.Chdir("desk")
	one, two := filepath.Join("..", "usb", "o1"), filepath.Join("..", "usb", "o2")
	compared := func() (int, string, string) { return run(t, "compare", one, two, "--out", "c") }
	code, _, errs = compared()
	assert.Equal(t, 1, code)
	assert.Equal(t, "geocoris: field.geojson is not there\nhint: put field.geojson into ../usb/o2, or run this where map ran, or name it with --field\n", errs)
	code, _, errs = run(t, "report", two)
	assert.Equal(t, 1, code)
	assert.Equal(t, "geocoris: week2.csv is not there\nhint: put week2.csv into ../usb/o2, or run this where map ran\n", errs)

	put := func(name, at string) {
		content, err := os.ReadFile(filepath.Join("..", name))
		require.NoError(t, err)
		require.NoError(t, os.WriteFile(at, content, 0o600))
	}
	put("week3.csv", filepath.Join(two, "week2.csv")) // of the name, and another file
	put("week1.csv", filepath.Join(one, "week1.csv"))
	put("field.geojson", "field.geojson")
	code, _, errs = compared()
	assert.Equal(t, 1, code)
	assert.Contains(t, errs, "was made from week2.csv: week2.csv is not there\nhint: put week2.csv into ../usb/o2, or run this where map ran, or give the files of counts themselves\n")
	put("week2.csv", filepath.Join("..", "usb", "week2.csv"))
	code, got, errs := compared()
	require.Zero(t, code, errs)
	assert.Equal(t, want, strings.ReplaceAll(got, "../usb/", "")) // the next command names the folder
	code, _, errs = run(t, "report", two)
	require.Zero(t, code, errs)
	assert.True(t, page == contents(t, two)["report.html"])
}
