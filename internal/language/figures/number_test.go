package figures_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/internal/language/figures"
)

// A number beside a counted one is written alike, on either side of a thousand.
func TestNumbersAreWrittenAsThoseOfThings(t *testing.T) {
	for n, want := range map[int]string{0: "0", 1: "1", 999: "999", 1000: "1,000", 1387: "1,387"} {
		assert.Equal(t, want, figures.Number(n))
		if n != 1 {
			assert.Equal(t, want+" stops", figures.Counted(n, "stop"))
		}
	}
}
