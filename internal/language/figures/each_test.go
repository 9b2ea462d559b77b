package figures_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/language/vocabulary"
)

func TestEachNamesTheUnitOfAMean(t *testing.T) {
	for unit, want := range map[string][2]string{
		"":             {"a leaf", "por hoja"},
		"leaf":         {"a leaf", "por hoja"},
		"ear":          {"an ear", "por mazorca"},
		"square metre": {"a square metre", "por metro cuadrado"},
		"sweep":        {"a sweep", "por pase de red"},
		"10 sweeps":    {"in 10 sweeps", "en 10 pases de red"},
		"25 leaves":    {"in 25 leaves", "en 25 hojas"},
	} {
		assert.Equal(t, want, [2]string{figures.Both.Each(unit), figures.Both.In(vocabulary.Spanish).Each(unit)}, unit)
	}
}

// A level that is not 0 never reads as 0.
func TestSmallFiguresAreNotNone(t *testing.T) {
	for v, want := range map[float64]string{0.005: "0.01", 0.0049: "0.005", 0.003: "0.003", 0.00025: "0.0003", 2e-6: "0.000002", 1e-7: "0", 0: "0"} {
		assert.Equal(t, want, figures.Level(v), v)
	}
}
