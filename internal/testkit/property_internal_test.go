package testkit

import (
	"flag"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

func TestGoldensAreRewrittenWhole(t *testing.T) {
	t.Setenv("GEOCORIS_CI", "")
	defer func(before bool) { *update = before }(*update)
	for updated, want := range map[bool]int{false: 2, true: 10} {
		*update = updated
		assert.Equal(t, want, Few(10, 2))
	}
}

// A tenth of the cases is drawn while one works and all of them in CI, and a test that asks
// afterwards how many there were is told the same as before.
func TestCIDrawsAllCases(t *testing.T) {
	defer set(t, flag.Lookup("rapid.checks"), "100")()
	for ci, want := range map[string]int{"": 20, "1": 200} {
		t.Setenv("GEOCORIS_CI", ci)
		drawn := 0
		Hundreds(t, 2, func(*rapid.T) { drawn++ })
		assert.Equal(t, want, drawn)
		assert.Equal(t, want, Draws(200))
		assert.Equal(t, 1, Draws(1))
	}
}
