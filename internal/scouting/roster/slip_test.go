package roster_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/scouting/roster"
)

// listOf is a list with a level for each name, and a line that says the name alone of those
// behind a stroke.
func listOf(t *testing.T, names ...string) roster.List {
	t.Helper()
	var b strings.Builder
	b.WriteString("field,treat_at\n")
	for _, name := range names {
		name, alone := strings.CutPrefix(name, "|")
		b.WriteString(name + ",")
		if !alone {
			b.WriteString("10")
		}
		b.WriteString("\n")
	}
	l, err := roster.Read(geofile.Source{Name: "f.csv", Content: []byte(b.String())}, "")
	require.NoError(t, err)
	return l
}

// A field that has no line, beside a line of nearly its name, would be judged by the level of
// all others: by 40 where 10 was written, with a firm answer.
func TestALineOfNearlyAFieldsNameIsRefused(t *testing.T) {
	for typed, field := range map[string]string{
		"Corner Blk": "Corner block", "Pivott": "Pivot", "ivot": "Pivot", "Cornerblock": "Corner block", "Home": "Home Place",
		"N 40": "North 40", "N40": "North 40", "Corner": "Corner block", "pivot-field": "Pivot", "Müler": "Müller", "Noth 40": "North 40", "NE corner": "Northeast corner",
	} {
		err := listOf(t, "Brook", typed).Slipped([]string{"Brook", field})
		var e *geofile.Error
		require.ErrorAs(t, err, &e, typed)
		assert.EqualError(t, err, `f.csv:3: the boundary has no field called "`+typed+`", and no line names its field "`+field+`"`)
		assert.Equal(t, "write "+field+" there; if they are two fields, add a line that says "+field+" alone", e.Hint)
		assert.NoError(t, listOf(t, "Brook", typed, "|"+field).Slipped([]string{"Brook", field}), "a line of its own: %s", typed)
	}
}

// A table of the whole farm tells of fields that this boundary has not.
func TestALineOfAFieldElsewhereIsNoSlip(t *testing.T) {
	for typed, field := range map[string]string{
		"East": "West", "North": "South", "Block A": "Block B", "North 1": "North 2", "7": "70", "Este": "Oeste", "North 40": "South 40",
		"Noreste": "Noroeste", "Nowhere": "Brook", "Southwest": "Southeast", "N 40": "S 40", "River": "Hill", "Block 7": "Block", "A": "B",
	} {
		assert.NoError(t, listOf(t, "Pivot", typed).Slipped([]string{"Pivot", field}), "%s, %s", typed, field)
	}
}
