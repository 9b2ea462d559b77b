package boundary_test

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/geometry/boundary"
)

// Each field of before, alone under the later ones, fares as [boundary.Succeed] has it.
func TestRedrawnByAsSucceeds(t *testing.T) {
	rng := rand.New(rand.NewPCG(9, 10))
	drawn, alone := 0, 0
	for range 200 {
		var before, later []geo.Field
		for i := range 8 { // side by side, so that the later ones leave one another alone
			west := float64(60 * i)
			later = append(later, block(fmt.Sprintf("L%d", i), west, west+20+40*rng.Float64()))
			west = float64(rng.IntN(560))
			before = append(before, block(fmt.Sprintf("B%d", i), west, west+10+120*rng.Float64()))
		}
		got, err := boundary.RedrawnBy(before, later)
		require.NoError(t, err)
		var want []boundary.Redrawn
		for _, f := range before {
			s, err := boundary.Succeed(append(append([]geo.Field{}, later...), f))
			require.NoError(t, err)
			want = append(want, s.Redrawn...)
			if len(s.Redrawn) == 0 {
				alone++
			}
		}
		assert.Equal(t, want, got)
		drawn += len(got)
	}
	assert.Greater(t, drawn, 400)
	assert.Greater(t, alone, 40)
}
