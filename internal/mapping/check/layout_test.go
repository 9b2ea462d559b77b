package check_test

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/geometry/boundary"
	"github.com/geocoris/geocoris/internal/mapping/check"
	"github.com/geocoris/geocoris/internal/scouting/survey"
	"github.com/geocoris/geocoris/internal/testkit"
	"github.com/geocoris/geocoris/internal/testkit/given"
)

// Sixty stops along a W or by a road leave ground that no stop speaks for, and are
// said so in one line; as many on a grid or at random are not, nor twenty along a W,
// which reach as far as they are apart.
func TestStopsAlongALine(t *testing.T) {
	const degree = 111_195 // metres at the equator, nearly
	side := testkit.InventedSide / degree
	ground, err := geofile.Decode("f.geojson", strings.NewReader(
		fmt.Sprintf(`{"type":"Polygon","coordinates":[[[0,0],[%[1]v,0],[%[1]v,%[1]v],[0,%[1]v],[0,0]]]}`, side)), geofile.Limits{})
	require.NoError(t, err)
	fields, _, err := boundary.Fields(ground.Features, boundary.Settings{})
	require.NoError(t, err)
	for _, c := range []struct {
		walk  string
		stops int
		want  string
	}{
		{"W", 60, "along a line or to one side: none is within 9"}, {"W", 20, ""},
		{"road", 60, "in a part of the field"}, {"road", 12, "in a part of the field"},
		{"grid", 60, ""}, {"grid", 12, ""}, {"random", 60, ""}, {"random", 30, ""},
	} {
		t.Run(fmt.Sprint(c.walk, c.stops), func(t *testing.T) {
			rows := "stop,longitude,latitude,count,leaves\n"
			for i, at := range testkit.Walks()[c.walk](rand.New(rand.NewPCG(2, 2)), c.stops) {
				rows += fmt.Sprintf("%d,%.7f,%.7f,%d,10\n", i+1, at[0]/degree, at[1]/degree, i%7)
			}
			s, err := survey.Read(given.Table(rows), survey.Options{})
			require.NoError(t, err)
			r, err := check.Run(s, fields)
			require.NoError(t, err)
			var said []string
			for _, f := range r.Findings {
				if strings.Contains(f.What, "the stops stand") {
					said = append(said, f.What)
					assert.Contains(t, f.Fix, "plan")
					assert.True(t, strings.HasPrefix(f.String(), s.Files[0]+": field "), f) // of no row and no cell
				}
			}
			if c.want == "" {
				assert.Empty(t, said)
				return
			}
			require.Len(t, said, 1, "one line")
			assert.Contains(t, said[0], c.want)
		})
	}
}

// The clean file keeps which stops are extra, so that it says of the mean what the
// counts said; without any it has no such column.
func TestTheCleanFileKeepsExtraStops(t *testing.T) {
	for kind, want := range map[string]bool{"extra": true, "planned": false} {
		s, err := survey.Read(given.Table("stop,longitude,latitude,count,leaves,kind\n1,1,2,3,10,planned\n2,1.1,2,3,10,"+kind+"\n"), survey.Options{})
		require.NoError(t, err)
		r, err := check.Run(s, nil)
		require.NoError(t, err)
		var names []string
		for _, c := range r.Columns() {
			names = append(names, c.Name)
		}
		assert.Equal(t, want, slices.Contains(names, "kind"), "%v", names)
	}
}

// A stop in no field is named by the column that its place stands in, and as it stands there.
func TestPlacesAreNamedByTheirColumn(t *testing.T) {
	for text, want := range map[string]string{
		"stop,longitude,latitude,count,leaves\n1,8.25,44.5,3,10\n": `longitude "8.250000, 44.500000"`,
		"stop;lat lon;count;leaves\n1;44.5, 8.25;3;10\n":           `lat lon "44.500000, 8.250000"`,
		"stop;lon lat;count;leaves\n1;8.25, 44.5;3;10\n":           `lon lat "8.250000, 44.500000"`,
	} {
		s, err := survey.Read(given.Table(text), survey.Options{})
		require.NoError(t, err)
		r, err := check.Run(s, []geo.Field{square(t, "Home", 0)})
		require.NoError(t, err)
		require.NotEmpty(t, r.Findings)
		assert.Contains(t, r.Findings[0].String(), want+": stop 1 lies in no field")
	}
}
