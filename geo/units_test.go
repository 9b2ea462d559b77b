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
