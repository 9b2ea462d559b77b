package roster_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/scouting/roster"
)

// A name that is known nearly so is offered: left out in silence, its field would be judged
// as all others are.
func TestNamesTypedNearlySoAreOffered(t *testing.T) {
	l, err := roster.Read(geofile.Source{Name: "f.csv", Content: []byte("field,growr,treat_at,farm\nPivott,Meyer,10,x\nHome,Meyer,10,x\n")}, "")
	require.NoError(t, err)
	assert.Equal(t, []string{`f.csv: columns not used: growr (did you mean "grower"?), farm`}, l.Notes)
	notes, err := l.Compare([]string{"Pivot", "Home"})
	require.NoError(t, err)
	assert.Contains(t, notes, `f.csv: the boundary has no field called "Pivott" (line 2) (did you mean "Pivot"?)`)
}

// A spreadsheet drops noughts from names and makes dates and powers of them; a level that
// goes with such a name would be lost.
func TestNamesThatASpreadsheetMadeAreRefused(t *testing.T) {
	for typed, want := range map[string]string{"7": "007", "1.00E+05": "1E5", "2-Jan": "1-2"} {
		l, err := roster.Read(geofile.Source{Name: "f.csv", Content: []byte("field,treat_at\nHome,20\n" + typed + ",10\n")}, "")
		require.NoError(t, err)
		_, err = l.Compare([]string{"Home", "007", "1E5", "1-2"})
		var e *geofile.Error
		require.ErrorAs(t, err, &e, typed)
		assert.EqualError(t, err, fmt.Sprintf("f.csv:3: the boundary has no field called %q: a spreadsheet makes that of %q", typed, want))
		assert.Equal(t, "format the column as text, and write "+want, e.Hint)
	}
	l, err := roster.Read(geofile.Source{Name: "f.csv", Content: []byte("field,treat_at\n7,20\n007,10\n")}, "")
	require.NoError(t, err)
	_, err = l.Compare([]string{"7", "007"})
	assert.NoError(t, err, "two fields of the boundary")
}
