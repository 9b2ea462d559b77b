package cli_test

import (
	"encoding/csv"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/language/vocabulary"
	"github.com/geocoris/geocoris/internal/mapping/rules"
	"github.com/geocoris/geocoris/internal/testkit"
)

// Prices for levels that go by them, an acre and a unit of yield; invented.
const fedCost, fedPrice, fedHeads = 12.0, 9.0, 20000.0

// Each rule, at each of its stages, by its own table: plan makes it, it is filled in,
// with twice the level at the western stops and nothing at the others, and map compares
// with the level of the rule. Outside CI the first rule of each kind does. The counts are
// invented.
func TestEveryRuleIsFedByItsTable(t *testing.T) {
	book, err := rules.Published()
	require.NoError(t, err)
	seen := map[string]bool{}
	for _, rule := range book.Rules {
		for _, band := range rule.Bands {
			stage := ""
			if len(band.Stages) > 0 {
				stage = band.Stages[0]
			}
			level, err := rule.AtPrices(stage, rules.Prices{Cost: fedCost, Price: fedPrice, Heads: fedHeads})
			if err != nil {
				continue // advice and no number
			}
			if kind := fmt.Sprint(rule.Statistic, rule.Formula, band.Loss > 0); seen[kind] && !testkit.Strict() {
				continue
			} else {
				seen[kind] = true
			}
			t.Run(rule.Name+" "+stage, func(t *testing.T) {
				inFolder(t)
				args := []string{"--rule", rule.Name}
				planned := append([]string{"plan", "--field", "field.geojson", "--only", "Pivot", "--stops", "12", "--out", "walk", "--stage", stage}, args...)
				code, out, errs := run(t, planned...)
				require.Zero(t, code, errs)
				assert.Contains(t, strings.Join(strings.Fields(out), " "), "(rule "+rule.Name+")")
				west := fillIn(t, "walk/stops.csv", level)
				if band.Loss > 0 || rule.Formula != "" {
					args = append(args, "--cost", "12", "--price", "9", "--per", "acre", "--heads", "20000")
				}
				code, out, errs = run(t, append([]string{"map", "walk/stops.csv", "--details", "--field", "field.geojson", "--out", "out"}, args...)...)
				require.Zero(t, code, errs)
				assert.NotContains(t, out, "not used")
				comparedWith(t, contents(t, "out"), level, west)
			})
		}
	}
}

// fillIn fills in a table, and tells which stops were filled with twice the level.
func fillIn(t *testing.T, path string, level rules.Level) (west map[string]bool) {
	text, err := os.ReadFile(path)
	require.NoError(t, err)
	table, err := csv.NewReader(strings.NewReader(string(text))).ReadAll()
	require.NoError(t, err)
	at := map[string]int{}
	for i, name := range table[0] {
		at[name] = i
	}
	west = map[string]bool{}
	for _, row := range table[1:] {
		lon, err := strconv.ParseFloat(row[at["longitude"]], 64)
		require.NoError(t, err)
		factor := 0.0
		if lon < -101.6022 {
			factor, west[row[at["stop"]]] = 2, true
		}
		effort := 0.0
		for _, name := range []string{"leaves", "plants", "heads", "stems", "sweeps", "square_metres"} {
			if i, ok := at[name]; ok {
				effort, err = strconv.ParseFloat(row[i], 64)
				require.NoError(t, err)
				effort /= float64(vocabulary.UnitOf(level.Rule.Unit).Size)
			}
		}
		require.Positive(t, effort)
		if i, ok := at["count"]; ok {
			row[i] = fmt.Sprint(math.Ceil(factor * level.Treat * effort))
		}
		if i, ok := at["mean"]; ok {
			row[i] = fmt.Sprint(factor * level.Treat)
		}
		if i, ok := at["infested"]; ok {
			row[i] = fmt.Sprint(effort * factor / 2)
		}
		if i, ok := at["plants_over"]; ok {
			row[i] = fmt.Sprint(math.Ceil(factor * level.Treat * effort / 100))
		}
	}
	require.NotEmpty(t, west)
	require.Less(t, len(west), len(table)-1)
	f, err := os.Create(path)
	require.NoError(t, err)
	require.NoError(t, csv.NewWriter(f).WriteAll(table))
	require.NoError(t, f.Close())
	return west
}

func comparedWith(t *testing.T, files map[string]string, level rules.Level, west map[string]bool) {
	var summary struct {
		Statistic string
		Levels    struct {
			Treat_at     float64
			Treat_source string
		}
	}
	require.NoError(t, json.Unmarshal([]byte(files["summary.json"]), &summary))
	assert.InDelta(t, level.Treat, summary.Levels.Treat_at, 1e-9)
	assert.Equal(t, level.Source(), summary.Levels.Treat_source)
	assert.Equal(t, level.Rule.Statistic == rules.Share, strings.HasPrefix(summary.Statistic, "% of "), summary.Statistic)
	var stops struct {
		Features []struct {
			Properties struct {
				Stop, Zone string
				Value      float64
			}
		}
	}
	require.NoError(t, json.Unmarshal([]byte(files["stops.geojson"]), &stops))
	require.Len(t, stops.Features, 12)
	for _, f := range stops.Features {
		if p := f.Properties; west[p.Stop] {
			assert.GreaterOrEqual(t, p.Value, 2*level.Treat)
			assert.Equal(t, "treat", p.Zone, p.Stop)
		} else {
			assert.Zero(t, p.Value)
		}
	}
}
