package spray

import (
	"math"

	"github.com/geocoris/geocoris/geo"
)

// Carrier is the volume in litres for an area in m² at a rate in L/ha.
func Carrier(area, rate float64) float64 { return area / geo.SquareMetresPerHectare * rate }

// Loads parts a volume into as few tank loads as hold it, all of the same size, so
// that none is left with a few litres. Nothing to spray and no tank give no loads. What
// is over a whole number of tanks by less than a millionth of one is arithmetic, not
// spray.
func Loads(volume, tank float64) []float64 {
	if !(volume > 0) || !(tank > 0) || volume/tank > maxLoads {
		return nil
	}
	loads := make([]float64, max(1, int(math.Ceil(volume/tank-1e-6))))
	for i := range loads {
		loads[i] = volume / float64(len(loads))
	}
	return loads
}

const maxLoads = 10000
