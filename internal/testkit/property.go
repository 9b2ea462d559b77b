package testkit

import (
	"flag"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Property checks a property on a hundred random cases, the same ones on every
// run: what passed once must not fail another day by chance. RAPID_SEED and
// RAPID_CHECKS in the environment, or the flags of rapid, search elsewhere and
// longer.
func Property(t *testing.T, property func(*rapid.T)) {
	t.Helper()
	Hundreds(t, 1, property)
}

// Hundreds is Property on as many hundreds of cases. All of them are seen, or the
// test fails: near the end of a test's time rapid would pass with those it had.
func Hundreds(t *testing.T, hundreds int, property func(*rapid.T)) {
	t.Helper()
	Cases(t, 100*hundreds, property)
}

// Cases is Property on so many cases in place of a hundred, for what takes long.
func Cases(t *testing.T, cases int, property func(*rapid.T)) {
	t.Helper()
	if seed := flag.Lookup("rapid.seed"); seed.Value.String() == "0" {
		set(t, seed, "1")
	}
	want, seen := Draws(cases), 0
	set(t, flag.Lookup("rapid.checks"), strconv.Itoa(want))
	rapid.Check(t, func(r *rapid.T) {
		seen++
		property(r)
	})
	require.GreaterOrEqual(t, seen, want, "cases seen before the time ran out")
}

// Draws is how many cases a test draws that is no property, and draws n in a plain run: as
// many times more as checks of properties are asked for than their hundred.
func Draws(n int) int {
	checks, err := strconv.Atoi(flag.Lookup("rapid.checks").Value.String())
	if err != nil {
		return n
	}
	return max(n*checks/100, 1)
}

// set gives a flag a value for the rest of the test.
func set(t *testing.T, f *flag.Flag, value string) {
	t.Helper()
	before := f.Value.String()
	require.NoError(t, f.Value.Set(value))
	t.Cleanup(func() { require.NoError(t, f.Value.Set(before)) })
}
