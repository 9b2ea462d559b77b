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
	cases(t, func(n int) int { return n * hundreds }, property)
}

// cases is Hundreds on another number of cases, of the hundred or of what was asked for.
func cases(t *testing.T, of func(int) int, property func(*rapid.T)) {
	t.Helper()
	if seed := flag.Lookup("rapid.seed"); seed.Value.String() == "0" {
		set(t, seed, "1")
	}
	checks := flag.Lookup("rapid.checks")
	n, err := strconv.Atoi(checks.Value.String())
	require.NoError(t, err)
	wanted := of(n)
	set(t, checks, strconv.Itoa(wanted))
	seen := 0
	rapid.Check(t, func(r *rapid.T) {
		seen++
		property(r)
	})
	require.GreaterOrEqual(t, seen, wanted, "cases seen before the time ran out")
}

// Quarter is Property where all checks are asked for, and on a quarter of its cases
// elsewhere, for what takes long.
func Quarter(t *testing.T, property func(*rapid.T)) {
	t.Helper()
	part := 4
	if Strict() {
		part = 1
	}
	cases(t, func(n int) int { return max(1, n/part) }, property)
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
