package compare_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/internal/followup/compare"
)

// The day that the last map asks for a look by is never missed; an earlier day stands, at
// equality with its own reason.
func TestNoFieldIsGoneBackToLaterThanItsMapSays(t *testing.T) {
	for _, c := range []struct {
		day, look, want string
		cause           compare.Cause
	}{
		{"2026-07-16", "2026-07-18", "2026-07-16", compare.QuickGrowth},
		{"2026-07-18", "2026-07-18", "2026-07-18", compare.QuickGrowth},
		{"2026-07-19", "2026-07-18", "2026-07-18", compare.MapLook},
		{"2026-07-19", "", "2026-07-19", compare.QuickGrowth},
	} {
		n := compare.Next{GoBackBy: c.day, Why: compare.Reason{Cause: compare.QuickGrowth}}
		n.Heed(c.look, "2026-07-21")
		assert.Equal(t, c.want, n.GoBackBy, c)
		assert.Equal(t, c.cause, n.Why.Cause, c)
		assert.Equal(t, c.look, n.MapLook)
		n.Heed(c.look, "")
		assert.Equal(t, "2026-07-21", n.GoodUntil, "a verdict that does not say takes nothing back")
	}
}
