package roster_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/scouting/roster"
)

// Two fields may differ in case alone: each goes by its own line, and a line that may be of
// both is refused.
func TestNamesThatDifferInCaseAreTwoFields(t *testing.T) {
	fields := []geo.Field{{Name: "Home"}, {Name: "HOME"}}
	on := func(text string) (roster.List, error) {
		list, err := roster.Read(geofile.Source{Name: "f.csv", Content: []byte("field,treat_at\n" + text)}, "")
		require.NoError(t, err)
		return list.On(fields)
	}
	level := func(l roster.List, name string) float64 {
		e, _ := l.Of(name)
		return e.TreatAt
	}
	both, err := on("HOME,10\nHome,20\n")
	require.NoError(t, err)
	assert.InDelta(t, 20, level(both, "Home"), 0)
	assert.InDelta(t, 10, level(both, "HOME"), 0)

	one, err := on("HOME,10\n")
	require.NoError(t, err)
	assert.Zero(t, level(one, "Home"), "which has no line")
	assert.InDelta(t, 10, level(one, "HOME"), 0)
	notes, err := one.Compare([]string{"Home", "HOME"})
	require.NoError(t, err)
	assert.Equal(t, []string{`f.csv: tells nothing of "Home"`}, notes)

	_, err = on("home,10\n")
	assert.EqualError(t, err, `f.csv:2: field "home" can be "Home", "HOME": write it as the one that is meant`)
	fields = fields[:1]
	folded, err := on("home,10\n")
	require.NoError(t, err)
	assert.InDelta(t, 10, level(folded, "Home"), 0, "one field is meant however it is written")
	_, err = on("home,10\nHome,20\n")
	assert.ErrorContains(t, err, "stands at f.csv:2 already")
}
