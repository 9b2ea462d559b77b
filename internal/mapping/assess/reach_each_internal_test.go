package assess

import (
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
)

// Stops of a net reach as far as all of them. Of a walk along a line one stop off its end
// leaves how far the others see as it was, and sees no farther itself than if all were even.
func TestOneStopLetsNoOthersSeeFarther(t *testing.T) {
	at := func(xy ...orb.Point) (stops []Stop) {
		for _, p := range xy {
			stops = append(stops, Stop{XY: p})
		}
		return stops
	}
	var net, line []orb.Point
	for i := range 49 {
		net = append(net, orb.Point{50 + 100*float64(i%7), 50 + 100*float64(i/7)})
	}
	for i := range 30 {
		line = append(line, orb.Point{20 + 40*float64(i), 20})
	}
	all := reachOf(700*700, samplesOf(at(net...)), 0)
	for _, r := range reaches(700*700, all, at(net...), nil) {
		assert.InEpsilon(t, all, r, 0.05)
	}
	const field = 1240 * 400
	alone, together := at(line...), at(append(line, orb.Point{1180, 380})...)
	before := reaches(field, reachOf(field, samplesOf(alone), 0), alone, nil)
	reach := reachOf(field, samplesOf(together), 0)
	after := reaches(field, reach, together, nil)
	assert.Greater(t, reach, 1.5*before[0], "all of them together span much more")
	for i := range 15 { // farther from it than 3.2 spacings
		assert.InEpsilon(t, before[15], after[i], 0.1)
	}
	assert.LessOrEqual(t, after[30], reach)

	// Taken for a crowd, most of a walk still tells how close it stood.
	few := at(append(line, orb.Point{1180, 380})...)
	crowd := Together{At: 0}
	for i := 1; i < 30; i++ {
		few[i].Extra = true
		crowd.Others = append(crowd.Others, i)
	}
	assert.InDeltaSlice(t, after, reaches(field, reach, few, []Together{crowd}), 1e-9)
	crowd.Round = true
	assert.Greater(t, reaches(field, reach, few, []Together{crowd})[0], after[0], "a walk round a stop takes nothing from the others")
	assert.Equal(t, []float64{30}, reaches(field, 30, at(line[0]), nil))
}
