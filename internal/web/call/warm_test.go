package call_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/web/call"
)

// What warms the engine is answered as a walk's own calls are, with all kinds of ground:
// a call that failed would warm nothing, and nobody would see it.
func TestWarmUpsDoTheWork(t *testing.T) {
	all := call.WarmUps()
	for _, c := range all {
		reply, facts := asked(t, c.Do, string(c.Settings), c.Files...)
		require.Nil(t, reply.Error, c.Do)
		if c.Do != "map" {
			continue
		}
		assert.Empty(t, facts["problems"])
		field := facts["fields"].([]any)[0].(map[string]any)
		assert.Len(t, field["stops"], 16)
		assert.Len(t, field["zones"], 3)
	}
	assert.Equal(t, "map", all[len(all)-1].Do)
}
