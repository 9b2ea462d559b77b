package testkit

import (
	"flag"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Property checks a property on a hundred random cases in CI and on the first tenth of
// them elsewhere, the same ones on every run: what passed once must not fail another day by
// chance. RAPID_SEED and RAPID_CHECKS in the environment, or the flags of rapid, search
// elsewhere and longer.
func Property(t *testing.T, property func(*rapid.T)) {
	t.Helper()
	Hundreds(t, 1, property)
}

// Hundreds is Property on as many hundreds of cases. All that are asked for are seen, or the
// test fails: near the end of a test's time rapid would pass with those it had.
func Hundreds(t *testing.T, hundreds int, property func(*rapid.T)) {
	t.Helper()
	Cases(t, 100*hundreds, property)
}

// Cases is Property on so many cases in place of a hundred, for what takes long.
func Cases(t *testing.T, cases int, property func(*rapid.T)) {
	t.Helper()
	if seed := flag.Lookup("rapid.seed"); seed.Value.String() == "0" {
		defer set(t, seed, "1")()
	}
	want, seen := Draws(cases), 0
	defer set(t, flag.Lookup("rapid.checks"), strconv.Itoa(want))()
	rapid.Check(t, func(r *rapid.T) {
		seen++
		property(r)
	})
	require.GreaterOrEqual(t, seen, want, "cases seen before the time ran out")
}

// Draws is how many cases a test draws that is no property, and draws n in CI: as many times
// more as checks of properties are asked for than their hundred. Where nobody asks and
// nothing is required, it is the tenth that has to do while one works, 1 at least.
func Draws(n int) int {
	checks, err := strconv.Atoi(flag.Lookup("rapid.checks").Value.String())
	if err != nil {
		return n
	}
	if checks == usualChecks {
		checks = Few(usualChecks, usualChecks/10)
	}
	return max(n*checks/usualChecks, 1)
}

// usualChecks is how many checks rapid makes of a property where nobody asks for more.
const usualChecks = 100

// set gives a flag a value, until it is told to give back the one before.
func set(t *testing.T, f *flag.Flag, value string) (back func()) {
	t.Helper()
	before := f.Value.String()
	require.NoError(t, f.Value.Set(value))
	return func() { require.NoError(t, f.Value.Set(before)) }
}
