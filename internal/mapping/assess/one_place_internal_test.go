package assess

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/testkit"
	"github.com/geocoris/geocoris/interp"
)

// Two scouts at the same stops of a field without a pattern are no reason to believe its
// map: skill is that of one of them, and places are as many as one walked.
func TestASecondScoutAtTheSameStopsIsNoWitness(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 5))
	var one, two []Stop
	for range 16 {
		s := Stop{Value: 100 * rng.Float64()}
		s.XY[0], s.XY[1] = testkit.InventedSide*rng.Float64(), testkit.InventedSide*rng.Float64()
		one, two = append(one, s), append(two, s)
		s.XY[0] += 0.5
		s.Value *= 0.9 + 0.2*rng.Float64()
		two = append(two, s)
	}
	single, err := trustIn(samplesOf(one), interp.IDW{})
	require.NoError(t, err)
	twice, err := trustIn(samplesOf(two), interp.IDW{})
	require.NoError(t, err)
	assert.False(t, single.Believed())
	assert.False(t, twice.Believed())
	assert.InDelta(t, single.Score.Skill, twice.Score.Skill, 0.1)
	assert.Equal(t, []int{16, 16, 32, 16}, []int{single.Stops, single.Places, twice.Stops, twice.Places})

	five, err := trustIn(samplesOf(two[:10]), interp.IDW{})
	require.NoError(t, err)
	assert.Contains(t, five.Doubts, FewStops, "ten stops at five places")
}

// Nearer than five metres a stop is at another's place, at five it is not; the nearest place
// takes it, and of two as near the earlier one.
func TestAPlaceAtItsBounds(t *testing.T) {
	at := func(xy ...float64) (all []interp.Sample) {
		for i := 0; i < len(xy); i += 2 {
			all = append(all, interp.Sample{X: xy[i], Y: xy[i+1], Value: float64(i)})
		}
		return all
	}
	for _, c := range []struct {
		name           string
		samples, moved []interp.Sample
		places         int
	}{
		{"none", nil, nil, 0},
		{"a hair nearer, across squares", at(4, 4, 7, 7.999), at(4, 4, 4, 4), 1},
		{"at five metres", at(4, 4, 7, 8), at(4, 4, 7, 8), 2},
		{"below nothing", at(-1, 0, 3, 0), at(-1, 0, -1, 0), 1},
		{"the nearer of two", at(0, 0, 8, 0, 4.5, 0), at(0, 0, 8, 0, 8, 0), 2},
		{"of two as near the earlier", at(0, 0, 8, 0, 4, 0), at(0, 0, 8, 0, 0, 0), 2},
	} {
		moved, places := atPlaces(c.samples)
		assert.Equal(t, c.places, places, c.name)
		assert.Equal(t, c.moved, moved, c.name)
	}
}

// Counts at one place are one to the model of chance, by their leaves; others stay.
func TestCountsAtOnePlaceAreOneToTheChances(t *testing.T) {
	stops := make([]Stop, 3)
	for i, x := range []float64{0, 4, 60} {
		stops[i].XY[0], stops[i].Units, stops[i].Value = x, 10, float64(20*(i+1))
	}
	counts := countsOf(stops, Statistic{}, 1)
	assert.Equal(t, []float64{0, 0, 60}, []float64{counts[0].X, counts[1].X, counts[2].X})
	assert.Equal(t, []float64{20, 40, 60}, []float64{counts[0].Mean, counts[1].Mean, counts[2].Mean})
}
