package engine_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/engine"
)

// With another threshold the counts are not read anew, nor is what lies between them.
func TestAnotherThresholdUsesWhatIsRemembered(t *testing.T) {
	q := morning(t, "week2")
	q.Settings.Only = []string{"Pivot"}
	rows := 0
	q.Memory, q.Progress = engine.NewMemory(), func(int, int) { rows++ }
	first, err := engine.MapData(t.Context(), q)
	require.NoError(t, err)
	require.NotZero(t, rows)
	rows, q.Settings.TreatAt = 0, 39
	again, err := engine.MapData(t.Context(), q)
	require.NoError(t, err)
	assert.Zero(t, rows, "rows of the surface")
	assert.Same(t, &first.Result.Fields[0].Stops[0].Records[0], &again.Result.Fields[0].Stops[0].Records[0])
	assert.NotEqual(t, first.Result.Levels, again.Result.Levels)
}
