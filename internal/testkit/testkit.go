// Package testkit serves tests only: reference folders and tables, golden files,
// properties on random cases, programs and a browser that are not ours. It imports
// nothing of ours, so any package may use it.
package testkit

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"runtime"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"
)

// Strict reports whether a missing outside resource is a failure, as in CI,
// rather than a reason to skip.
func Strict() bool { return os.Getenv("GEOCORIS_CI") == "1" }

// Few is all in CI, and where golden files are rewritten, and a few of them elsewhere: of many
// alike cases, after which everybody who tries the program would wait, and of which CI sees
// every one.
func Few(all, few int) int {
	if Strict() || *update {
		return all
	}
	return few
}

// Missing skips the test for want of something outside the repository, or
// fails it where nothing may be missing.
func Missing(t testing.TB, what string) {
	t.Helper()
	if Strict() {
		t.Fatalf("%s is missing, and GEOCORIS_CI=1 requires it", what)
	}
	t.Skipf("%s is missing; set GEOCORIS_CI=1 to require it", what)
}

// Root returns the repository's top folder.
func Root(t testing.TB) string {
	t.Helper()
	_, here, _, ok := runtime.Caller(0)
	require.True(t, ok, "no caller information")
	return filepath.Join(filepath.Dir(here), "..", "..")
}

// Testdata returns a path below the repository's testdata folder.
func Testdata(t testing.TB, elem ...string) string {
	t.Helper()
	return filepath.Join(append([]string{Root(t), "testdata"}, elem...)...)
}

// Shared returns a path in the folder of reference data beside the repository.
// That folder carries licences of its own and is not part of the repository:
// where it is missing the test is skipped, in CI it fails.
func Shared(t testing.TB, elem ...string) string {
	t.Helper()
	path := filepath.Join(append([]string{Root(t), "..", "shared"}, elem...)...)
	if _, err := os.Stat(path); err != nil {
		Missing(t, "reference data "+filepath.Join(elem...))
	}
	return path
}

// Table is a CSV file with a header, for reference values.
type Table struct {
	columns map[string]int
	rows    [][]string
}

// ReadTable reads a CSV file with a header line.
func ReadTable(t testing.TB, path string) Table {
	t.Helper()
	f, err := os.Open(path)
	require.NoError(t, err)
	defer f.Close()
	records, err := csv.NewReader(f).ReadAll()
	require.NoError(t, err)
	require.NotEmpty(t, records)
	table := Table{columns: map[string]int{}, rows: records[1:]}
	for i, name := range records[0] {
		table.columns[name] = i
	}
	return table
}

// First returns the first of some column names that the table has.
func (tb Table) First(columns ...string) string {
	for _, c := range columns {
		if _, ok := tb.columns[c]; ok {
			return c
		}
	}
	return ""
}

// Len is the number of rows below the header.
func (tb Table) Len() int { return len(tb.rows) }

// Text returns a cell as it stands.
func (tb Table) Text(t testing.TB, row int, column string) string {
	t.Helper()
	i, ok := tb.columns[column]
	require.True(t, ok, "no column %q", column)
	return tb.rows[row][i]
}

// Number returns a cell as a number; ok is false where it is empty or NA.
func (tb Table) Number(t testing.TB, row int, column string) (v float64, ok bool) {
	t.Helper()
	text := tb.Text(t, row, column)
	if text == "" || text == "NA" {
		return 0, false
	}
	v, err := strconv.ParseFloat(text, 64)
	require.NoError(t, err, "row %d, column %s", row+1, column)
	return v, true
}
