package assess

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/interp"
)

// net is n by n stops so many metres apart.
func net(n int, apart float64) (samples []interp.Sample) {
	for i := range n * n {
		samples = append(samples, interp.Sample{X: apart * float64(i%n), Y: apart * float64(i/n)})
	}
	return samples
}

// Stops laid evenly over a field reach 1.5 times their spacing; what lies together
// reaches as far as it stands apart, whatever the field, and one stop the least.
func TestReachGoesByHowStopsStand(t *testing.T) {
	const field = 700 * 700
	assert.InEpsilon(t, 1.5*100, reachOf(field, net(7, 100), 0), 0.05)
	assert.Equal(t, 1.5*700/8, reachOf(field, net(8, 95), 0), "spread to the edge: by the field's area")
	assert.Equal(t, 30.0, reachOf(field, net(1, 0), 0))
	assert.Equal(t, 30.0, reachOf(field, append(net(1, 0), net(1, 0)...), 0), "one place, counted twice")
	assert.Equal(t, 30.0, reachOf(field, net(4, 10), 0))
	assert.Less(t, reachOf(field, net(2, 60), 0), 1.5*100)
	assert.Equal(t, 20.0, reachOf(field, net(7, 100), 20), "a search radius")
	// On a line n stops d apart span P = 2(n − 1)d, so s = P/2/(n − π/4).
	line := net(10, 0)[:0]
	for i := range 10 {
		line = append(line, interp.Sample{X: 60 * float64(i)})
	}
	assert.InDelta(t, 1.5*540/(10-math.Pi/4), reachOf(field, line, 0), 1e-9)
}
