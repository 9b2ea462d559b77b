package figures_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/testkit"
)

func TestDaysAsPeopleSayThem(t *testing.T) {
	for iso, want := range map[string][2]string{
		"2026-07-18": {"Saturday 18 July", "Sat 18 Jul"}, "2026-01-01": {"Thursday 1 January", "Thu 1 Jan"},
		"2024-02-29": {"Thursday 29 February", "Thu 29 Feb"}, "": {"", ""}, "2026-02-30": {"2026-02-30", "2026-02-30"},
	} {
		assert.Equal(t, want, [2]string{figures.Day(iso), figures.ShortDay(iso)}, iso)
	}
}

// A part in words is never off by more than half of itself.
func TestPartsInWords(t *testing.T) {
	for share, want := range map[float64]string{0: "none", 0.01: "hardly any", 0.103: "a tenth", 0.2: "a fifth", 0.24: "a quarter", 0.31: "a third", 0.46: "half", 0.96: "nearly all", 1: "all", 1.2: "all"} {
		assert.Equal(t, want, figures.Part(share), share)
	}
	of := map[string]float64{"a fortieth": 1. / 40, "a twentieth": 1. / 20, "a tenth": 1. / 10, "a seventh": 1. / 7, "a sixth": 1. / 6, "a fifth": 1. / 5, "a quarter": 1. / 4, "a third": 1. / 3, "two fifths": 2. / 5,
		"half": 1. / 2, "three fifths": 3. / 5, "two thirds": 2. / 3, "three quarters": 3. / 4, "four fifths": 4. / 5, "nine tenths": 9. / 10}
	testkit.Property(t, func(t *rapid.T) {
		share := rapid.Float64Range(0.02, 0.95).Draw(t, "share")
		said, known := of[figures.Part(share)]
		assert.True(t, known, figures.Part(share))
		assert.InEpsilon(t, share, said, 0.5, figures.Part(share))
	})
}
