package figures_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/internal/language/figures"
)

// What stands side by side is in one form.
func TestPartsAreInOneForm(t *testing.T) {
	for _, c := range []struct {
		shares []float64
		want   []string
	}{
		{[]float64{0.25, 1. / 3}, []string{"a quarter", "a third"}},
		{[]float64{0.25, 0.31}, []string{"25 %", "31 %"}},
		{[]float64{0.31, 0.25}, []string{"31 %", "25 %"}},
		{[]float64{0.09, 0.9}, []string{"9 %", "90 %"}},
		{[]float64{0.31, 0.01, 0.95, 0.96, 1.4}, []string{"31 %", "hardly any", "95 %", "nearly all", "all"}},
		{[]float64{0.46}, []string{"46 %"}},
		{nil, []string{}},
	} {
		assert.Equal(t, c.want, figures.Both.Parts(c.shares...), c.shares)
	}
}
