package roster_test

import (
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
