package assess

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// The variance between the leaves of a stop is that of a sample, with n − 1.
func TestUnitVarianceIsOfASample(t *testing.T) {
	of := func(totals ...float64) survey.Stop {
		var s survey.Stop
		for _, v := range totals {
			s.Records = append(s.Records, survey.Record{Total: v, Units: 1})
			s.Total, s.Units = s.Total+v, s.Units+1
		}
		return s
	}
	assert.Equal(t, 2.0, unitVariance(of(2, 4)))
	assert.Equal(t, 4.0, unitVariance(of(1, 3, 5)))
	assert.Zero(t, unitVariance(of(5, 5, 5)))
	assert.Zero(t, unitVariance(of(5)), "one leaf tells nothing of leaves")
	pooled := of(2, 4)
	pooled.Records[1].Units = 10
	assert.Zero(t, unitVariance(pooled), "leaves put together tell nothing of leaves")
}
