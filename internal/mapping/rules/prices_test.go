package rules_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/mapping/rules"
)

// Larvae of bertha armyworm per square metre by cost of control, $ an acre, and price of
// canola, $ 6 to 12 a bushel: the table of Alberta Agriculture, which rounds to whole
// larvae. The rows of $7 and $12 stand as read; those between by C/(0.058·V) (Bracken &
// Bucher 1977), worked out by hand, which all cells of the table match.
func TestPublishedLevelsOfBerthaArmyworm(t *testing.T) {
	r, err := published(t).Named("canola-bertha-armyworm")
	require.NoError(t, err)
	for cost, row := range map[float64][7]float64{
		7:  {20, 17, 15, 13, 12, 11, 10},
		8:  {23, 20, 17, 15, 14, 13, 11},
		9:  {26, 22, 19, 17, 16, 14, 13},
		10: {29, 25, 22, 19, 17, 16, 14},
		11: {32, 27, 24, 21, 19, 17, 16},
		12: {34, 30, 26, 23, 21, 19, 17},
	} {
		for i, want := range row {
			price := float64(6 + i)
			t.Run(fmt.Sprintf("%g at %g", cost, price), func(t *testing.T) {
				l, err := r.AtPrices("", rules.Prices{Cost: cost, Price: price})
				require.NoError(t, err)
				assert.Equal(t, want, math.Round(l.Treat))
				assert.Equal(t, 0.058, l.Loss)
				assert.Contains(t, l.Source(), fmt.Sprintf("C/(V·0.058) = %g/(%g·0.058) = ", cost, price))
			})
		}
	}
}

// Losses by stage: Wise & Lamb 1998. At $10 an acre and $10 a bushel 1/0.1235 = 8.097 and
// 1/0.0882 = 11.34, by hand.
func TestPublishedLevelsOfLygus(t *testing.T) {
	r, err := published(t).Named("canola-lygus")
	require.NoError(t, err)
	for stage, want := range map[string]float64{"late flower": 8.097, "Early pod": 8.097, "late pod": 11.338} {
		l, err := r.AtPrices(stage, rules.Prices{Cost: 10, Price: 10})
		require.NoError(t, err)
		assert.InDelta(t, want, l.Treat, 0.001, stage)
	}
	_, err = r.AtPrices("late pod", rules.Prices{Cost: 10})
	assert.ErrorContains(t, err, "rule canola-lygus goes by cost and price: give --cost of control, with --per acre or hectare, and --price of a bushel")
	_, err = r.AtPrices("", rules.Prices{Cost: 10, Price: 10})
	assert.ErrorContains(t, err, "give --stage, one of late flower, early pod, late pod")
	_, err = r.At("rosette")
	assert.ErrorContains(t, err, `says nothing at stage "rosette"`)
}

// 33,256·5/(6·18,000) = 1.5396 (Knutson & Cronholm 2007), by hand.
func TestMidgeByPrices(t *testing.T) {
	r, err := published(t).Named("sorghum-midge")
	require.NoError(t, err)
	l, err := r.AtPrices("half bloom", rules.Prices{Cost: 5, Price: 6, Heads: 18000})
	require.NoError(t, err)
	assert.InDelta(t, 1.5396, l.Treat, 1e-4)
	assert.InDelta(t, 5, l.Treat*l.Loss*6, 1e-9, "at the level the loss is worth the control")
	_, err = r.AtPrices("boot", rules.Prices{Cost: 5, Price: 6, Heads: 18000})
	assert.ErrorContains(t, err, "says nothing at stage")
	_, err = r.AtPrices("6", rules.Prices{Heads: 18000})
	assert.ErrorContains(t, err, "cost 0: want a number above 0")
}

func TestLossesThatCannotBeMeant(t *testing.T) {
	for want, rest := range map[string]string{
		"a loss without yield":                     "statistic = \"mean\"\nbands = [{loss = 2}]",
		"a loss stands in place of the value":      "statistic = \"mean\"\nyield = \"bushel\"\nbands = [{loss = 2, value = 3}]",
		"a loss stands in place of the value of":   "statistic = \"share\"\nyield = \"bushel\"\nbands = [{loss = 2, tally = 3}]",
		"sampling: total and acres go together":    "statistic = \"mean\"\nsampling = {total = 3, source = \"us\"}\nbands = [{value = 2}]",
		"sampling: has no source":                  "statistic = \"mean\"\nsampling = {units = 3}\nbands = [{value = 2}]",
		"sampling: numbers must be finite and not": "statistic = \"mean\"\nsampling = {units = -3, source = \"us\"}\nbands = [{value = 2}]",
	} {
		_, err := rules.Decode("own.toml", []byte(rule(rest)))
		assert.ErrorContains(t, err, want)
	}
}
