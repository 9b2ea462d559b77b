package compare

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// The day that the last map asks for a look by is never missed; an earlier day stands, at
// equality with its own reason.
func TestNoFieldIsGoneBackToLaterThanItsMapSays(t *testing.T) {
	for _, c := range []struct {
		day, look, want string
		cause           Cause
	}{
		{"2026-07-16", "2026-07-18", "2026-07-16", QuickGrowth},
		{"2026-07-18", "2026-07-18", "2026-07-18", QuickGrowth},
		{"2026-07-19", "2026-07-18", "2026-07-18", MapLook},
		{"2026-07-19", "", "2026-07-19", QuickGrowth},
	} {
		n := Next{GoBackBy: c.day, Why: Reason{Cause: QuickGrowth}}
		n.Heed(c.look)
		assert.Equal(t, c.want, n.GoBackBy, c)
		assert.Equal(t, c.cause, n.Why.Cause, c)
		assert.Equal(t, c.look, n.MapLook)
	}
}
