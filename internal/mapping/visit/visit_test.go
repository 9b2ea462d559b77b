package visit_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/internal/mapping/visit"
	_ "github.com/geocoris/geocoris/internal/testkit" // knows -fields
)

func TestDays(t *testing.T) {
	assert.Equal(t, "2026-08-01", visit.After("2026-07-31", 1.9), "parts of a day are dropped")
	assert.Equal(t, "2026-07-31", visit.After("2026-07-31", 0))
	assert.Equal(t, "2028-02-29", visit.After("2028-02-28", 1))
	for _, days := range []float64{-1, math.NaN(), math.Inf(1), 3660} {
		assert.Empty(t, visit.After("2026-07-31", days), days)
	}
	assert.Empty(t, visit.After("31 July", 1))
	assert.Equal(t, 1.0, visit.Between("2026-07-31", "2026-08-01"))
	assert.Equal(t, -31.0, visit.Between("2026-08-31", "2026-07-31"))
	assert.True(t, math.IsNaN(visit.Between("", "2026-08-01")))
	assert.True(t, math.IsNaN(visit.Between("2026-08-01", "")))
	for _, c := range [][3]string{{"2026-07-02", "2026-07-03", "2026-07-02"}, {"2026-07-03", "2026-07-02", "2026-07-02"}, {"", "2026-07-02", "2026-07-02"}, {"2026-07-02", "", "2026-07-02"}, {"", "", ""}} {
		assert.Equal(t, c[2], visit.Earlier(c[0], c[1]), c)
	}
}

// The watch level that reaches 40 in 7 days, doubling every 4.2, is 40·2^(−7/4.2).
func TestGoodFor(t *testing.T) {
	for _, c := range []struct{ treat, watch, doubling, want float64 }{
		{40, 40 * math.Exp2(-7/4.2), 4.2, 7},
		{40, 20, 4, 4},                     // at equality: one doubling
		{40, math.Nextafter(20, 21), 1, 1}, // to a hair
		{40, 20.1, 4, 3},                   // short of it
		{40, 25, 4.2, 2},                   // 2.85 days
		{40, 40, 4.2, 0}, {40, 50, 4.2, 0}, // no less than none
		{20, 10, 0, visit.Usual}, {20, 0, 4, 7}, // no growth known
	} {
		assert.Equal(t, c.want, visit.GoodFor(c.treat, c.watch, c.doubling, visit.Usual), c)
	}
}

func TestTheNextLookComesAfterTheCount(t *testing.T) {
	for _, c := range []struct {
		days       float64
		good, want string
	}{
		{3, "", "2026-07-18"}, {3, "2026-07-20", "2026-07-18"},
		{3, "2026-07-18", "2026-07-18"}, // at equality
		{3, "2026-07-17", "2026-07-17"},
		{3, "2026-07-16", "2026-07-16"},
		{3, "2026-07-15", "2026-07-16"}, // not on the day of the count
		{3, "2026-07-11", "2026-07-16"}, {0, "2026-07-20", "2026-07-16"},
		{math.Inf(1), "2026-07-18", "2026-07-18"},
	} {
		assert.Equal(t, c.want, visit.NextLook("2026-07-15", c.days, c.good), c)
	}
	assert.Empty(t, visit.NextLook("", 3, ""), "no day, no look")
}
