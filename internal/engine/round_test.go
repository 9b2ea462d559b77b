package engine_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/engine"
)

const metresPerDegree = 111_320.0

// lattice are 24 stops, 100 m apart, of an invented field at the equator with its corner
// at 0, 0, and so many metres wide, one of them hot; extra rows stand below.
func lattice(hot int, count float64, extra ...string) (boundary, counts engine.Source) {
	w, h := 400/metresPerDegree, 600/metresPerDegree
	boundary = engine.Source{Name: "field.geojson", Content: fmt.Appendf(nil,
		`{"type":"Feature","properties":{"name":"Field"},"geometry":{"type":"Polygon","coordinates":[[[0,0],[%[1]g,0],[%[1]g,%[2]g],[0,%[2]g],[0,0]]]}}`, w, h)}
	rows := []string{"stop,longitude,latitude,count,leaves,date,kind"}
	for i := range 24 {
		n := 20.0 + float64(i%5)
		if i+1 == hot {
			n = count
		}
		at := stopAt(i + 1)
		rows = append(rows, fmt.Sprintf("%d,%.9f,%.9f,%g,10,2026-07-15,", i+1, at[0]/metresPerDegree, at[1]/metresPerDegree, n))
	}
	return boundary, engine.Source{Name: "counts.csv", Content: []byte(strings.Join(append(rows, extra...), "\n") + "\n")}
}

// stopAt is where a stop of the lattice stands, in metres.
func stopAt(n int) [2]float64 {
	return [2]float64{50 + 100*float64((n-1)%4), 50 + 100*float64((n-1)/4)}
}

func metresFrom(n int, lonlat [2]float64) float64 {
	at := stopAt(n)
	return math.Hypot(lonlat[0]*metresPerDegree-at[0], lonlat[1]*metresPerDegree-at[1])
}

// Nobody is told that it is enough while the answer asks for more stops: they go on, round
// the hot one, to a place where nobody has been.
func TestAfterAStopTheMapsAnswerIsHeeded(t *testing.T) {
	var extra []string
	for i := range 5 {
		boundary, counts := lattice(10, 900, extra...)
		made, err := engine.After(t.Context(), engine.AfterRequest{Setup: engine.Setup{Settings: engine.Defaults()}, Samples: []engine.Source{counts}, Boundary: boundary})
		require.NoError(t, err)
		said := strings.Join(made.Says, " ")
		require.Len(t, made.Verdicts, 1, said)
		if i == 4 { // walked round, and nothing found
			assert.True(t, made.Enough, made.Verdicts[0].Line)
			assert.Equal(t, "Enough: one more stop is not worth its walk.", said)
			break
		}
		assert.False(t, made.Enough)
		assert.Equal(t, 4-i, made.More)
		assert.Contains(t, said, "round stop 10, today")
		assert.NotContains(t, said, "Enough")
		require.NotNil(t, made.Next)
		assert.InDelta(t, 50, metresFrom(10, made.Next.At), 1)
		for _, row := range extra {
			assert.NotContains(t, row, fmt.Sprintf("%.6f,%.6f", made.Next.At[0], made.Next.At[1]))
		}
		extra = append(extra, fmt.Sprintf("A%d,%.9f,%.9f,20,10,2026-07-15,extra", i+1, made.Next.At[0], made.Next.At[1]))
	}
}

// Further stops stand where the answer of the map asks for them.
func TestFurtherStopsStandRoundTheHotStop(t *testing.T) {
	for name, c := range map[string]struct {
		hot   int
		extra []string
		says  string
		from  int     // a stop of the lattice
		apart float64 // metres from it
		add   int
	}{
		"inside":      {10, nil, "round stop 10, as the map asks", 10, 50, 4},
		"at the edge": {0, []string{fmt.Sprintf("E,%.9f,%.9f,900,10,2026-07-15,", 4/metresPerDegree, 150/metresPerDegree)}, "inside, beside stop E of the edge, as the map asks", 5, 23, 1},
	} {
		boundary, counts := lattice(c.hot, 900, c.extra...)
		made, err := engine.Map(t.Context(), engine.MapRequest{Setup: engine.Setup{Settings: engine.Defaults()}, Samples: []engine.Source{counts}, Boundary: boundary})
		require.NoError(t, err, name)
		q := walkOf("Field")
		q.Boundary, q.Add = boundary, c.add
		q.After = &engine.PlanAfter{
			Name:    "out",
			Summary: engine.Source{Name: "summary.json", Content: content(t, made.Files, "summary.json")},
			Stops:   engine.Source{Name: "stops.geojson", Content: content(t, made.Files, "stops.geojson")},
		}
		walk, err := engine.Plan(q)
		require.NoError(t, err, name)
		assert.Equal(t, c.says, walk.Plan.Why, name)
		require.Len(t, walk.Plan.Stops, c.add)
		for _, s := range walk.Plan.Stops {
			assert.InDelta(t, c.apart, metresFrom(c.from, s.Lonlat), 1, name)
			assert.True(t, s.Extra)
		}
	}
}

// Where the walk stands and how large the field is are refused before they become figures
// that no page can show.
func TestAPlaceThatIsNoneIsRefused(t *testing.T) {
	boundary, counts := lattice(10, 900)
	for _, q := range []engine.AfterRequest{{Last: &[2]float64{500, 500}}, {Last: &[2]float64{0, math.NaN()}}, {Area: -5}, {Area: math.Inf(1)}} {
		q.Setup, q.Samples, q.Boundary = engine.Setup{Settings: engine.Defaults()}, []engine.Source{counts}, boundary
		_, err := engine.After(t.Context(), q)
		assert.ErrorContains(t, err, "want")
	}
}
