package verdict_test

import (
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/geometry/boundary"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/mapping/verdict"
	"github.com/geocoris/geocoris/internal/scouting/survey"
	"github.com/geocoris/geocoris/internal/testkit"
	"github.com/geocoris/geocoris/internal/testkit/given"
)

var patchFields = flag.Int("patches", testkit.Few(24, 6), "fields on which a patch is found beside a hot stop")

// withExtra is the verdict of an invented square of 25 ha by planned stops and extra ones, in
// metres with what was counted a leaf.
func withExtra(t *testing.T, planned, extra [][3]float64) verdict.Verdict {
	const degree = 111_320.0
	side := 500 / degree
	c, err := geofile.Decode("square.geojson", strings.NewReader(fmt.Sprintf(
		`{"type":"Polygon","coordinates":[[[0,0],[%[1]g,0],[%[1]g,%[1]g],[0,%[1]g],[0,0]]]}`, side)), geofile.Limits{})
	require.NoError(t, err)
	fields, _, err := boundary.Fields(c.Features, boundary.Settings{})
	require.NoError(t, err)
	text := "stop,longitude,latitude,count,leaves,kind\n"
	for i, p := range append(slices.Clone(planned), extra...) {
		kind := ""
		if i >= len(planned) {
			kind = "extra"
		}
		text += fmt.Sprintf("%d,%.9f,%.9f,%.0f,10,%s\n", i+1, p[0]/degree, p[1]/degree, 10*p[2], kind)
	}
	s, err := survey.Read(given.Table(text), survey.Options{})
	require.NoError(t, err)
	r, err := assess.Run(t.Context(), fields, s, assess.Settings{})
	require.NoError(t, err)
	all, err := verdict.Of(r, verdict.Settings{})
	require.NoError(t, err)
	return all[0]
}

// grid are n stops of nearly nothing over the square.
func grid(n int) (stops [][3]float64) {
	side := int(math.Ceil(math.Sqrt(float64(n))))
	rows := (n + side - 1) / side
	for i := range n {
		stops = append(stops, [3]float64{500 * (float64(i%side) + 0.5) / float64(side), 500 * (float64(i/side) + 0.5) / float64(rows), 2})
	}
	return stops
}

// ring are four stops round a place.
func ring(at [3]float64, far, value float64) [][3]float64 {
	return [][3]float64{{at[0] + far, at[1], value}, {at[0] - far, at[1], value}, {at[0], at[1] + far, value}, {at[0], at[1] - far, value}}
}

// Who walks round the one hot stop is not asked for the walk again: cold stops round it
// show a single place, hot ones a patch, which is sprayed and no larger for being met
// five times.
func TestTheWalkThatWasAskedForIsAskedOnce(t *testing.T) {
	for _, n := range []int{10, 16} {
		for _, hot := range []float64{60, 300} {
			for _, far := range []float64{10, 30} {
				stops := grid(n)
				stops[n/2][2] = hot
				name := fmt.Sprintf("%d stops, %g, %g m", n, hot, far)
				before := withExtra(t, stops, nil)
				require.Equal(t, verdict.Undecided, before.Kind, name)
				require.Equal(t, []string{fmt.Sprint(n/2 + 1)}, before.Round, name)
				cold := withExtra(t, stops, ring(stops[n/2], far, 2))
				assert.Equal(t, verdict.LookAgain, cold.Kind, "%s: %s", name, cold.Line)
				found := withExtra(t, stops, ring(stops[n/2], far, hot))
				assert.Equal(t, verdict.SpotSpray, found.Kind, "%s: %s", name, found.Line)
				assert.Equal(t, "patch", found.Line, name)
				assert.InDelta(t, before.Skill, found.Skill, 1e-12, "extra stops are no evidence of the map: %s", name)
				assert.Less(t, found.TreatArea, 1.5*before.TreatArea+1e4, name)
			}
		}
	}
}

// One of four round a hot stop may be hot too for it to be one bad place; where two or more
// are, though the mean of the four is below, it is a patch, which is not left.
func TestOneBadPlaceIsNotHotOnMostSides(t *testing.T) {
	stops := grid(12)
	stops[6][2] = 140
	for _, c := range []struct {
		round   [4]float64
		patch   int
		kind    verdict.Kind
		because string
	}{
		{[4]float64{50, 48, 45, 3}, 1, verdict.SpotSpray, "patch"},
		{[4]float64{40, 40, 3, 3}, 1, verdict.SpotSpray, "patch"},
		{[4]float64{40, 39.9, 3, 3}, 0, verdict.LookAgain, "single"},
		{[4]float64{3, 3, 3, 3}, 0, verdict.LookAgain, "single"},
	} {
		walk := ring(stops[6], 60, 0)
		for i, v := range c.round {
			walk[i][2] = v
		}
		for name, v := range map[string]verdict.Verdict{"marked": withExtra(t, stops, walk), "typed": withExtra(t, append(slices.Clone(stops), walk...), nil)} {
			assert.Equal(t, c.patch, v.Patches, "%v %s", c.round, name)
			assert.Equal(t, []any{c.kind, c.because}, []any{v.Kind, v.Line}, "%v %s", c.round, name)
		}
	}
}

// One stop of 960 among nothing, maybe a slip, does not spray the whole field before
// anybody walked round it.
func TestOneStopDoesNotDecideAWholeField(t *testing.T) {
	stops := grid(24)
	for i := range stops {
		stops[i][2] = 0
	}
	for _, count := range []float64{959, 960, 2000} {
		stops[11][2] = count
		v := withExtra(t, stops, nil)
		require.Equal(t, count >= 960, v.Stats.Mean >= 40)
		assert.Equal(t, verdict.Undecided, v.Kind)
		assert.Equal(t, []string{"12"}, v.Round)
		assert.Equal(t, 4, v.More)
		assert.Equal(t, verdict.LookAgain, withExtra(t, stops, ring(stops[11], 20, 0)).Kind, "a single place")
		assert.Contains(t, []verdict.Kind{verdict.SpotSpray, verdict.TreatWhole}, withExtra(t, stops, ring(stops[11], 20, count)).Kind)
	}
	for i := range stops {
		stops[i][2] = 100
	}
	assert.Equal(t, verdict.TreatWhole, withExtra(t, stops, nil).Kind, "surely over")
}

// Extra stops beside a hot one that are as hot never make an answer milder.
func TestToFindAPatchIsNeverMilder(t *testing.T) {
	milder := map[verdict.Kind]int{verdict.NoSpray: 0, verdict.LookAgain: 1, verdict.Undecided: 2, verdict.SpotSpray: 3, verdict.TreatWhole: 3}
	met := map[verdict.Kind]int{}
	for seed := range uint64(*patchFields) {
		r := rand.New(rand.NewPCG(seed, 4))
		of := func(values ...float64) float64 { return values[r.IntN(len(values))] }
		stops := grid(int(of(9, 10, 12, 16, 24)))
		for i := range stops {
			stops[i][2] = of(0, 2, 2, 10, 35, 60)
		}
		at := r.IntN(len(stops))
		stops[at][2] = of(40, 45, 60, 150, 300, 1200)
		var extra [][3]float64
		for range 1 + r.IntN(5) {
			angle, far := 2*math.Pi*r.Float64(), 5+25*r.Float64()
			extra = append(extra, [3]float64{stops[at][0] + far*math.Cos(angle), stops[at][1] + far*math.Sin(angle), stops[at][2] * of(1, 1.5, 4)})
		}
		before, after := withExtra(t, stops, nil), withExtra(t, stops, extra)
		met[before.Kind]++
		assert.GreaterOrEqual(t, milder[after.Kind], milder[before.Kind], "seed %d: %s by %s, then %s by %s", seed, before.Kind, before.Line, after.Kind, after.Line)
	}
	t.Log(met)
	assert.Greater(t, len(met), 2)
}
