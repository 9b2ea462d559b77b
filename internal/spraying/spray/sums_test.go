package spray_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/spraying/spray"
)

const acre = geo.SquareMetresPerAcre

// From definitions: a gallon is 3.785411784 L, an acre 0.40468564224 ha (NIST SP
// 811, 2008, appendix B).
func TestAGallonAnAcre(t *testing.T) {
	q, err := spray.ParseRate("1 gal/ac")
	require.NoError(t, err)
	assert.InDelta(t, 3.785411784/0.40468564224, q.Base, 1e-12)
	assert.InDelta(t, 9.353956, q.Base, 5e-7, "to six decimals")
	assert.InDelta(t, 3.785411784, geo.LitresPerGallon, 1e-15)
	assert.InDelta(t, 0.44704, geo.MetresSPerMileHour, 1e-15)
}

func TestLoads(t *testing.T) {
	rate, tank := 15*geo.LitresHaPerGallonAc, 600*geo.LitresPerGallon
	gallons := func(area float64) (out []float64) {
		for _, l := range spray.Loads(spray.Carrier(area, rate), tank) {
			out = append(out, l/geo.LitresPerGallon)
		}
		return out
	}
	// 600 gal at 15 gal/ac do 40 ac; 97 ac need 1,455 gal (arithmetic).
	assert.InDeltaSlice(t, []float64{600}, gallons(40*acre), 1e-6)
	assert.InDeltaSlice(t, []float64{485, 485, 485}, gallons(97*acre), 1e-6)
	// At a whole number of tanks, and a gallon over and under: 80 ac are two tanks.
	assert.InDeltaSlice(t, []float64{600, 600}, gallons(80*acre), 1e-6)
	assert.InDeltaSlice(t, []float64{401, 401, 401}, gallons(1203.0/15*acre), 1e-6, "no last load of 3 gallons")
	assert.InDeltaSlice(t, []float64{599.5, 599.5}, gallons(1199.0/15*acre), 1e-6)
	assert.InDeltaSlice(t, []float64{1e-5}, gallons(1e-5/15*acre), 1e-9, "a drop is a load")
	// Worked example of extension sheets: 15 gal/ac on 3.5 ac are 52.5 gal.
	assert.InDeltaSlice(t, []float64{52.5}, gallons(3.5*acre), 1e-6)
	assert.Empty(t, spray.Loads(0, 600))
	assert.Empty(t, spray.Loads(100, 0))
	assert.Empty(t, spray.Loads(1e12, 1e-3), "a tank too small is a slip")
}

// Worked example of extension sheets: 3 lb/ac on 3.5 ac are 10.5 lb.
func TestProductTotal(t *testing.T) {
	p, err := spray.ParseProduct("product A = 3 lb/ac")
	require.NoError(t, err)
	assert.Equal(t, spray.Product{Name: "product A", Amount: 3, Unit: "lb", Per: "ac"}, p)
	assert.InDelta(t, 10.5, p.Total(3.5*acre), 1e-9)
	p, err = spray.ParseProduct("b=0.25 fl oz/HA")
	require.NoError(t, err)
	assert.Equal(t, "fl oz", p.Unit)
	assert.InDelta(t, 0.5, p.Total(20000), 1e-12)
}

func TestQuantities(t *testing.T) {
	for text, want := range map[string]float64{"24m": 24, " 80 FT ": 24.384, "30in": 0.762, ".5 m": 0.5} {
		q, err := spray.ParseLength(text)
		require.NoError(t, err, text)
		assert.InDelta(t, want, q.Base, 1e-12, text)
	}
	for _, text := range []string{"", "24", "m", "-3m", "1e3m", "24 yd", "NaN m", "24m2", "1,5m", "2 4m"} {
		_, err := spray.ParseLength(text)
		assert.ErrorContains(t, err, "such as 24m", text)
	}
	for text, want := range map[string]string{"15gpa": "15 gal/ac", "15 GPA": "15 gal/ac", "15 gal/acre": "15 gal/ac"} {
		q, err := spray.ParseRate(text)
		require.NoError(t, err, text)
		assert.Equal(t, want, q.String(), text)
	}
	feet, err := spray.ParseLength("80 feet")
	require.NoError(t, err)
	assert.Equal(t, "80 ft", feet.String())
	q, err := spray.ParseSpeed("12 km/h")
	require.NoError(t, err)
	assert.Equal(t, "12 km/h", q.String())
	assert.InDelta(t, 10/3.0, q.Base, 1e-12)
	for _, text := range []string{"", "x", "=3lb/ac", "a=3lb", "a=lb/ac", "a=3lb/bu", "a=3/ac"} {
		_, err := spray.ParseProduct(text)
		assert.Error(t, err, text)
	}
}

func FuzzQuantities(f *testing.F) {
	for _, seed := range []string{"24m", "15gal/ac", "a=3lb/ac", "=", "1e999m", "٣m"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		if q, err := spray.ParseRate(text); err == nil {
			assert.GreaterOrEqual(t, q.Base, 0.0)
		}
		if p, err := spray.ParseProduct(text); err == nil {
			assert.GreaterOrEqual(t, p.Total(10000), 0.0)
		}
	})
}
