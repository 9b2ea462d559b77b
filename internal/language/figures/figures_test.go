package figures_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/language/figures"
)

// One rounding: three figures, never finer than 0.01 nor coarser than 1, by what is left
// after rounding.
func TestOneRounding(t *testing.T) {
	for v, want := range map[float64][2]string{
		0: {"0", "0.00"}, 0.004: {"0", "0.00"}, 0.005: {"0.01", "0.01"}, 0.1: {"0.1", "0.10"}, 1.2: {"1.2", "1.20"},
		9.994: {"9.99", "9.99"}, 9.996: {"10", "10.0"}, 12: {"12", "12.0"}, 99.94: {"99.9", "99.9"}, 99.96: {"100", "100"},
		123.78: {"124", "124"}, 999.6: {"1,000", "1,000"}, 1234567: {"1,234,567", "1,234,567"}, -0.001: {"0", "0.00"}, -1234: {"-1,234", "-1,234"}, -123: {"-123", "-123"},
	} {
		assert.Equal(t, want, [2]string{figures.Short(v), figures.Fixed(v)}, v)
	}
	assert.Equal(t, "–", figures.Short(math.NaN()))
	assert.Equal(t, "∞", figures.Short(math.Inf(1)))
	assert.Equal(t, 10.0, figures.Shown(9.996))
}

// Another language changes the signs and nothing else.
func TestSignsOfALanguage(t *testing.T) {
	s := figures.Signs{Decimal: ",", Thousand: ".", Under: "under "}
	assert.Equal(t, "1.234.567", s.Short(1234567))
	assert.Equal(t, "1,20", s.Fixed(1.2))
	assert.Equal(t, "under 0,1 %", s.Share(0.0001))
	assert.Equal(t, "12,3 %", s.Share(0.123))
	assert.Equal(t, "0,0125", s.Amount(0.0125))
}

func TestAreas(t *testing.T) {
	const acre = 4046.8564224
	for _, c := range []struct {
		m2               float64
		both, metric, us string
	}{
		{0, "0.00 ha (0.00 ac)", "0.00 ha", "0.00 ac"},
		{0.2, "1 m²", "1 m²", "2 sq ft"},
		{49, "49 m²", "49 m²", "0.01 ac"},
		{50, "0.01 ha (0.01 ac)", "0.01 ha", "0.01 ac"},
		{123.78 * acre, "50.1 ha (124 ac)", "50.1 ha", "124 ac"},
	} {
		assert.Equal(t, [3]string{c.both, c.metric, c.us}, [3]string{figures.Both.Area(c.m2), figures.Metric.Area(c.m2), figures.US.Area(c.m2)}, c.m2)
	}
	assert.Equal(t, "<0.01", figures.Metric.Bare(2), "an area above 0 never reads as none")
	assert.Equal(t, "0.00", figures.Both.Bare(0))
	assert.Equal(t, "124", figures.US.Bare(123.78*acre))
}

func TestQuantities(t *testing.T) {
	assert.Equal(t, "24.4 m (80 ft)", figures.Both.Length(24.384))
	assert.Equal(t, "24.4 m", figures.Both.Distance(24.384))
	assert.Equal(t, "80 ft", figures.US.Distance(24.384))
	assert.Equal(t, "–", figures.Both.Length(math.Inf(1)))
	assert.Equal(t, "4.9 m (16 ft)", figures.Both.Estimate(4.9))
	assert.Equal(t, "13 m (44 ft)", figures.Both.Estimate(13.45))
	assert.Equal(t, "9.9 m", figures.Metric.Estimate(9.949))
	assert.Equal(t, "10 m", figures.Metric.Estimate(9.95))
	assert.Equal(t, "–", figures.US.Estimate(math.Inf(1)))
	assert.Equal(t, "1.61 km (1.00 mi)", figures.Both.Way(1609.344))
	assert.Equal(t, "2,271 L (600 gal)", figures.Both.Volume(600*3.785411784))
	assert.Equal(t, "140 L/ha (15 gal/ac)", figures.Both.Rate(15*9.353956))
	assert.Equal(t, "12.9 km/h (8 mph)", figures.Both.Speed(8*0.44704))
	assert.Equal(t, "93 m² (1,001 sq ft)", figures.Both.Patch(93))
	assert.Equal(t, "1 h 05 min", figures.Duration(65*60-30))
	assert.Equal(t, []string{"1 stop", "0 stops", "1,200 stops"}, []string{figures.Counted(1, "stop"), figures.Counted(0, "stop"), figures.Counted(1200, "stop")})
}

func TestUnitsAreTyped(t *testing.T) {
	var u figures.Units
	assert.NoError(t, u.Set("us"))
	assert.Equal(t, figures.US, u)
	assert.EqualError(t, u.Set("feet"), "want us or metric")
	assert.Equal(t, figures.US, u, "a wrong word changes nothing")
}

// As a value of TOML and JSON, which ask for the text of what is no string.
func TestUnitsAreAText(t *testing.T) {
	var u figures.Units
	assert.Error(t, u.UnmarshalText([]byte("cubits")))
	for _, text := range []string{"us", "metric"} {
		assert.NoError(t, u.UnmarshalText([]byte(text)))
		got, err := u.MarshalText()
		assert.NoError(t, err)
		assert.Equal(t, text, string(got))
	}
}

func TestAreasKnownRoughly(t *testing.T) {
	ac := func(v float64) float64 { return v * geo.SquareMetresPerAcre }
	for want, c := range map[string][2]float64{
		"1 to 4 acres":        {1.2, 3.9},
		"up to 4 acres":       {0.04, 4},
		"about 4 acres":       {3.8, 4.2},
		"0.3 to 1 acre":       {0.31, 1.2},
		"0.1 to 1.5 acres":    {0.05, 1.25}, // at the halves, up
		"9.5 to 10 acres":     {9.6, 10.4},
		"12 to 35 acres":      {12.4, 34.6},
		"less than 0.1 acres": {0, 0.03},
		"123 to 12346 acres":  {123, 12345.6},
		"about 1 acre":        {0.97, 1.1},
	} {
		assert.Equal(t, want, figures.US.Between(ac(c[0]), ac(c[1])))
	}
	assert.Equal(t, "0.5 to 1.5 hectares", figures.Metric.Between(0.5e4, 1.6e4))
	assert.Equal(t, "0.5 to 1.5 hectares (1 to 4 acres)", figures.Both.Between(0.5e4, 1.6e4))
}
