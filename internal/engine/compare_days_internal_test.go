//go:build !small

package engine

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/scouting/survey"
	"github.com/geocoris/geocoris/internal/testkit/given"
)

// One field was counted twice at the same few places, the other once, by halves on both days:
// that has no second visit.
func TestAFieldFinishedLaterIsOneVisitBesideOneCountedTwice(t *testing.T) {
	square := func(name string, west float64) geo.Field {
		return geo.Field{Name: name, Boundary: given.Rectangle(west, 38, west+0.004, 38.004)}
	}
	var b strings.Builder
	b.WriteString("stop,longitude,latitude,count,leaves,date\n")
	row := func(name int, west float64, day int) {
		fmt.Fprintf(&b, "%d,%.5f,%.5f,%d,10,2026-07-%02d\n", name, west+0.0007*float64(name%5), 38.0005+0.0007*float64(name%5), day+name, day)
	}
	for name := 1; name <= 4; name++ {
		row(name, -100, 8)
		row(name, -100, 10)
		row(name+10, -99.9, 8+name/3*2)
	}
	counts, err := survey.Read(given.Table(b.String()), survey.Options{})
	require.NoError(t, err)
	parts, without, err := visitsOf([]geo.Field{square("A", -100), square("B", -99.9)}, counts)
	require.NoError(t, err)
	assert.Empty(t, without)
	var stops []int
	var days [][]string
	for _, p := range parts {
		stops, days = append(stops, len(p.Stops)), append(days, p.Dates)
	}
	assert.Equal(t, []int{8, 4}, stops)
	assert.Equal(t, [][]string{{"2026-07-08", "2026-07-10"}, {"2026-07-10"}}, days)
}
