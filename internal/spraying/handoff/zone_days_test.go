package handoff_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/spraying/handoff"
)

// What other programs make of days, truth values and long names is read as it was meant.
func TestPropertiesThatWentThroughOtherPrograms(t *testing.T) {
	for date, want := range map[string]string{"2026/07/22": "2026-07-22", "2026-07-22": "2026-07-22", "2026/07/22 00:00:00": "2026-07-22", "2026-07-15/2026-07-16": "2026-07-15/2026-07-16", "2026/7/22": "2026/7/22"} {
		of := zones()
		for i := range of {
			of[i].Properties = append(geo.Properties{{Name: "date", Value: date}}, append(of[i].Properties[:2:2], of[i].Properties[3:]...)...)
			of[i].Properties = append(of[i].Properties, geo.Property{Name: "whole_due", Value: int64(1)}, geo.Property{Name: "if_not_tod", Value: "spot spray"}, geo.Property{Name: "verdict", Value: "spot spray"})
		}
		r, err := handoff.Run(of, settings())
		require.NoError(t, err)
		assert.Equal(t, want, r.Jobs[0].Date, date)
		assert.True(t, r.Jobs[0].Advice.WholeDue)
		assert.Equal(t, "spot spray", r.Jobs[0].Advice.Instead)
	}
}
