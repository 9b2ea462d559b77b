package engine_test

import (
	"fmt"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/engine"
	"github.com/geocoris/geocoris/internal/language/vocabulary"
	"github.com/geocoris/geocoris/internal/mapping/rules"
)

// perUnit are found on each unit of a table that a rule asks for, infested all of them; of
// shares a fifth is over.
const perUnit = 3.0

// filledIn is the table that a rule asks for, with its columns filled in at twelve stops.
func filledIn(t *testing.T, n rules.Needs) (table string, value float64) {
	var things float64
	for _, c := range n.Columns {
		if v, err := strconv.ParseFloat(c.Filled, 64); err == nil && c.Header != "at_or_above" {
			things = v
		}
	}
	require.Positive(t, things)
	units := things / float64(vocabulary.UnitOf(n.Level.Rule.Unit).Size)
	header, cells := []string{"stop", "longitude", "latitude"}, []string{}
	value = perUnit
	for _, c := range n.Columns {
		header = append(header, c.Header)
		switch c.Header {
		case "count":
			cells = append(cells, fmt.Sprint(perUnit*units))
		case "mean":
			cells = append(cells, fmt.Sprint(perUnit))
		case "infested":
			cells = append(cells, fmt.Sprint(units))
		case "plants_over":
			cells, value = append(cells, fmt.Sprint(units/5)), 20
		default:
			require.NotEmpty(t, c.Filled, c.Header)
			cells = append(cells, c.Filled)
		}
	}
	table = strings.Join(header, ",") + "\n"
	for i := range 12 {
		table += fmt.Sprintf("%d,%.6f,%.6f,%s\n", i+1, 9.998+0.001*float64(i%4), -0.001+0.001*float64(i/4), strings.Join(cells, ","))
	}
	return table, value
}

// A table with the columns that template, plan and the phone write for a rule is read in the
// unit of the rule, at each of its stages; so is the table of a scout who writes leaves where
// these are not asked for refused.
func TestEachRuleReadsTheColumnsItAsksFor(t *testing.T) {
	book, err := engine.RuleBook(nil)
	require.NoError(t, err)
	seen := map[string]bool{}
	for _, rule := range book.Rules {
		for _, band := range rule.Bands {
			stage := strings.Join(band.Stages[:min(1, len(band.Stages))], "")
			n, err := rule.Needs(stage, 0, 0)
			if err != nil {
				continue // advice alone
			}
			table, want := filledIn(t, n)
			if header, _, _ := strings.Cut(table, "\n"); seen[header+rule.Unit+rule.Part+band.Sign] {
				continue // columns and unit as of a rule before
			} else {
				seen[header+rule.Unit+rule.Part+band.Sign] = true
			}
			q := morning(t, "week2")
			q.Incoming, q.Samples = true, []engine.Source{{Name: "walk.csv", Content: []byte(table)}}
			q.Boundary = engine.Source{Name: "field.geojson", Content: []byte(squareField)}
			q.Settings.Rule, q.Settings.Stage = rule.Name, stage
			if band.Loss > 0 || rule.Formula != "" {
				q.Settings.Cost, q.Settings.Price, q.Settings.Heads = 10, 10, 50_000
			}
			made, err := engine.MapData(t.Context(), q)
			require.NoError(t, err, "%s at %q: %s", rule.Name, stage, table)
			for _, s := range made.Result.Fields[0].Stops {
				assert.InDelta(t, want, s.Value, 1e-9, "%s at %q: %s", rule.Name, stage, table)
			}

			if rule.Unit == "leaf" || rule.Statistic == rules.Share {
				continue
			}
			head, rows, _ := strings.Cut(table, "\n")
			q.Samples[0].Content = []byte(strings.Replace(head, vocabulary.UnitOf(rule.Unit).Column(), "leaves", 1) + "\n" + rows)
			_, err = engine.MapData(t.Context(), q)
			require.ErrorContains(t, err, `column "leaves" says how many leaves were looked at, and counts are asked for`, rule.Name)
			q.Incoming = false // kept before
			_, err = engine.MapData(t.Context(), q)
			require.NoError(t, err, rule.Name)
		}
	}
	assert.Greater(t, len(seen), 10)
}
