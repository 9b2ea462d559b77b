package vocabulary_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/internal/language/vocabulary"
)

func TestUnitsOfSeveralThings(t *testing.T) {
	for name, want := range map[string]struct {
		unit         vocabulary.Unit
		column, many string
	}{
		"":             {vocabulary.Unit{Size: 1, Thing: "leaf"}, "leaves", "s"},
		"leaf":         {vocabulary.Unit{Size: 1, Thing: "leaf"}, "leaves", "leaves"},
		"plants":       {vocabulary.Unit{Size: 1, Thing: "plants"}, "plants", "plants"},
		"square metre": {vocabulary.Unit{Size: 1, Thing: "square metre"}, "square_metres", "square metres"},
		"10 sweeps":    {vocabulary.Unit{Size: 10, Thing: "sweep"}, "sweeps", "10 sweeps"},
		"25 leaves":    {vocabulary.Unit{Size: 25, Thing: "leaf"}, "leaves", "25 leaves"},
		"1 sweeps":     {vocabulary.Unit{Size: 1, Thing: "1 sweeps"}, "1_sweeps", "1 sweeps"},
	} {
		u := vocabulary.UnitOf(name)
		assert.Equal(t, want.unit, u, name)
		assert.Equal(t, want.column, u.Column(), name)
		if name != "" {
			assert.Equal(t, want.many, vocabulary.English.Things(2, name), name)
			assert.Equal(t, name, u.String())
		}
	}
	assert.Equal(t, "10 pases de red", vocabulary.Spanish.Things(1, "10 sweeps"))
}
