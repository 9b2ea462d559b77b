package geo_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/geo"
)

// NIST SP 811 (2008), appendix B: 1 acre is 43 560 square feet, printed there
// (for the survey foot, 2 parts in 10⁶ longer) as 4046.873 m²; from memory.
func TestUnits(t *testing.T) {
	assert.Equal(t, 4046.8564224, geo.SquareMetresPerAcre)
	assert.InEpsilon(t, 43560*geo.MetresPerFoot*geo.MetresPerFoot, geo.SquareMetresPerAcre, 1e-15)
	assert.InEpsilon(t, 4046.873, geo.SquareMetresPerAcre, 5e-6)
	assert.Equal(t, 2.4710538146716536, geo.SquareMetresPerHectare/geo.SquareMetresPerAcre)
}

// NIST SP 811 (2008), appendix B: the US gallon 3.785 412 L, the mile 1609.344 m, the
// mile per hour 0.447 04 m/s, 1 gal/ac 9.353 958 L/ha by the two definitions; from memory.
func TestUnitsOfWork(t *testing.T) {
	assert.InDelta(t, 3.785411784, geo.LitresPerGallon, 1e-15)
	assert.Equal(t, 1609.344, geo.MetresPerMile)
	assert.InDelta(t, 0.44704, geo.MetresSPerMileHour, 1e-15)
	assert.InDelta(t, 1/3.6, geo.MetresSPerKilometreHour, 1e-15)
	assert.InDelta(t, 3.785411784/0.40468564224, geo.LitresHaPerGallonAc, 1e-14)
	assert.Equal(t, 0.09290304, geo.SquareMetresPerSquareFoot)
}
