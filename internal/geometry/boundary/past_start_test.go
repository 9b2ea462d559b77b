package boundary_test

import (
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/geometry/boundary"
)

// along is a way round corners with a fix every so many metres, as a receiver keeps it.
func along(t *testing.T, every float64, corners ...orb.Point) orb.LineString {
	t.Helper()
	xy := []orb.Point{corners[0]}
	for i := 1; i < len(corners); i++ {
		a, b := corners[i-1], corners[i]
		dx, dy := b[0]-a[0], b[1]-a[1]
		length := max(dx, -dx) + max(dy, -dy) // along an axis
		for d := every; d < length; d += every {
			xy = append(xy, orb.Point{a[0] + dx*d/length, a[1] + dy*d/length})
		}
		xy = append(xy, b)
	}
	return way(t, xy...)
}

// A track that goes on past its start closes where it first comes back, and says so; one
// that only passes its start on the way does not.
func TestATrackPastItsStartIsClosedThere(t *testing.T) {
	a, b, c, d := orb.Point{0, 0}, orb.Point{400, 0}, orb.Point{400, 400}, orb.Point{0, 400}
	for name, one := range map[string]struct {
		line orb.LineString
		area float64 // m²; 0 where it stays open
		said string
	}{
		"one round":          {along(t, 19, a, b, c, d, orb.Point{0, 8}), 160000, "the ends of a line are 8.0 m apart"},
		"a little more":      {along(t, 19, a, b, c, d, a, orb.Point{382, 0}), 160000, "its last 383 m are left out"},
		"beside the start":   {along(t, 19, a, b, c, d, orb.Point{0, -9}, orb.Point{200, -9}), 160000, "its last 209 m are left out"},
		"between two fixes":  {along(t, 90, a, b, c, d, orb.Point{0, -170}), 160000, "its last 170 m are left out"},
		"too far beside":     {along(t, 19, orb.Point{20, 0}, b, c, d, orb.Point{0, -60}, orb.Point{200, -60}), 0, ""},
		"two rounds":         {along(t, 19, a, b, c, d, a, b, c, d, a), 160000, ""},
		"two rounds and on":  {along(t, 19, a, b, c, d, a, b, c, d, a, orb.Point{300, 0}), 160000, "its last 300 m are left out"},
		"back for something": {along(t, 19, a, orb.Point{-200, 0}, a, b, c, d, orb.Point{0, 60}), 0, ""},
		"a lane":             {along(t, 19, a, b, orb.Point{400, 3}, orb.Point{0, 3}, orb.Point{-90, 3}), 0, ""},
	} {
		t.Run(name, func(t *testing.T) {
			o, err := boundary.Read([]geo.Feature{feature(one.line)}, boundary.Settings{})
			if one.area == 0 {
				require.ErrorContains(t, err, "end the line where it began")
				return
			}
			require.NoError(t, err)
			assert.InDelta(t, one.area, areas(t, o.Fields)["field"], 4000)
			if one.said == "" {
				assert.NotContains(t, strings.Join(o.Notes, "; "), "left out")
				return
			}
			assert.Contains(t, strings.Join(o.Notes, "; "), one.said)
		})
	}
}
