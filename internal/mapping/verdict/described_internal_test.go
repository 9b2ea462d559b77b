package verdict

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/internal/mapping/fieldstats"
	"github.com/geocoris/geocoris/internal/recall"
)

// Seeds that are one as a float64 are still two.
func TestWhatIsKeptIsBySeedToTheBit(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	stops := make([]fieldstats.Stop, 20)
	for i := range stops {
		stops[i] = fieldstats.Stop{X: 100 * random.Float64(), Y: 100 * random.Float64(), Value: 50 * random.Float64(), Units: 10, Found: true, Inside: 30}
	}
	memory := recall.New(2)
	for _, seed := range []uint64{1 << 53, 1<<53 + 1} {
		set := Settings{Statistics: fieldstats.Settings{Seed: seed}}
		want := set.described(stops, 20)
		set.Memory = memory
		assert.Equal(t, want.Interval, set.described(stops, 20).Interval, "%d", seed)
	}
}
