package geo_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/geo"
)

func TestNumbersOfProperties(t *testing.T) {
	p := geo.Properties{{Name: "share", Value: 0.5}, {Name: "stops", Value: int64(3)}, {Name: "name", Value: "3"}, {Name: "none"}}
	for name, want := range map[string]float64{"share": 0.5, "stops": 3} {
		v, ok := p.Number(name)
		assert.True(t, ok, name)
		assert.Equal(t, want, v, name)
	}
	for _, name := range []string{"name", "none", "other"} {
		_, ok := p.Number(name)
		assert.False(t, ok, name)
	}
}
