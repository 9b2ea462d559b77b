package assess

import (
	"cmp"
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/geometry/boundary"
	"github.com/geocoris/geocoris/internal/scouting/survey"
	"github.com/geocoris/geocoris/internal/testkit"
	"github.com/geocoris/geocoris/internal/testkit/given"
)

// demoWalk are the stops of an invented week in the pivot, and its area in m².
func demoWalk(t *testing.T, week string) (stops []Stop, area float64) {
	ground, err := geofile.Read(testkit.Testdata(t, "demo", "field.geojson"), geofile.Limits{})
	require.NoError(t, err)
	fields, _, err := boundary.Fields(ground.Features, boundary.Settings{})
	require.NoError(t, err)
	s, err := survey.Read(given.Files(t, testkit.Testdata(t, "demo", week)), survey.Options{})
	require.NoError(t, err)
	placed, _, err := Place(fields, s.Stops)
	require.NoError(t, err)
	at := slices.IndexFunc(placed, func(p Placed) bool { return p.Field == "Pivot" })
	require.GreaterOrEqual(t, at, 0)
	p := placed[at]
	for i, one := range p.Stops {
		stops = append(stops, Stop{Stop: one, XY: p.at[i], Value: one.Mean()})
	}
	return stops, geo.Area(p.ground)
}

// meanOf is the mean of the stops that are not extra.
func meanOf(stops []Stop) float64 {
	mean, _ := meanAndMax(plannedSamples(stops))
	return mean
}

// hottest are the numbers of the stops with the most, the most first.
func hottest(stops []Stop, n int) []int {
	all := make([]int, len(stops))
	for i := range all {
		all[i] = i
	}
	slices.SortFunc(all, func(a, b int) int { return cmp.Compare(stops[b].Value, stops[a].Value) })
	return all[:n]
}

// typedIn are so many stops round one, with counts like its own, later than the walk.
func typedIn(stops []Stop, at, n int, far float64, times bool) (more []Stop) {
	of := []float64{1.1, 0.9, 1.3, 0.8, 1.2, 0.7, 1, 1.05}
	for i, xy := range roundAbout(stops[at].XY, n, far) {
		s := Stop{XY: xy, Value: of[i] * stops[at].Value}
		s.Name = fmt.Sprint(101 + i)
		if s.Date = stops[at].Date; times {
			s.Time = fmt.Sprintf("10:%02d", 4*i)
		}
		more = append(more, s)
	}
	return more
}

// Of stops typed in round a hot one without their kind the mean is that of the marked file,
// and no stop of the walk itself is taken as extra: with times, or with numbers only.
func TestTypedInStopsAreTakenAsMarked(t *testing.T) {
	for _, week := range []string{"week2.csv", "week3.csv"} {
		walk, area := demoWalk(t, week)
		require.Empty(t, markTogether(area, 40, slices.Clone(walk)), week)
		for _, at := range hottest(walk, 3) {
			for _, far := range []float64{5, 8, 12, 20} {
				for n := range 8 {
					for _, times := range []bool{true, false} {
						name := fmt.Sprintf("%s, %d at %g m of stop %s, times %t", week, n+1, far, walk[at].Name, times)
						all := append(slices.Clone(walk), typedIn(walk, at, n+1, far, times)...)
						rand.New(rand.NewPCG(1, uint64(n))).Shuffle(len(all), func(i, j int) { all[i], all[j] = all[j], all[i] })
						markTogether(area, 40, all)
						assert.Equal(t, n+1, extras(all), name)
						assert.InEpsilon(t, meanOf(walk), meanOf(all), 1e-9, name)
					}
				}
			}
		}
	}
}

// A stop walked first is not put in place of others that are more than twice as hot.
func TestTheFirstStopHidesNothing(t *testing.T) {
	for _, c := range []struct{ first, others, want float64 }{{100, 150, 100}, {50, 150, 150}, {39, 60, 39}, {40, 60, 40}} {
		at := netOf(5)
		stops := walked(append(at, roundAbout(at[12], 2, 5)...)...)
		for i := range stops {
			stops[i].Name = fmt.Sprint(i + 1)
		}
		stops[12].Value, stops[25].Value, stops[26].Value = c.first, c.others, c.others
		together := markTogether(squareArea, 40, stops)
		require.Len(t, together, 1)
		assert.Equal(t, c.want, stops[together[0].At].Value, "%g", c.first)
	}
}

// On an even walk a hot stop up to a quarter of the way to the next is of the same place
// where the walk came back to it, and not where it went on.
func TestWhoComesBackIsAtThePlace(t *testing.T) {
	const far = testkit.InventedSide / 5 * evenPlace
	for _, c := range []struct {
		far    float64
		name   string
		hot    float64
		wanted int
	}{{far - 0.01, "26", 40, 1}, {far + 0.01, "26", 40, 0}, {far - 0.01, "13.5", 40, 0}, {far - 0.01, "26", 39, 0}} {
		at := netOf(5)
		stops := walked(append(at, roundAbout(at[12], 1, c.far)...)...)
		for i := range stops {
			stops[i].Name = fmt.Sprint(i + 1)
		}
		stops[12].Value, stops[25].Value, stops[25].Name = c.hot, 50, c.name
		markTogether(squareArea, 40, stops)
		assert.Equal(t, c.wanted, extras(stops), "%+v", c)
	}
	// It went on: the second is next to the first.
	at := netOf(5)
	stops := walked(append(at, roundAbout(at[24], 1, far-0.01)...)...)
	for i := range stops {
		stops[i].Name, stops[i].Value = fmt.Sprint(i+1), 5
	}
	stops[24].Value, stops[25].Value = 90, 100
	assert.Empty(t, markTogether(squareArea, 40, stops))
}

// A stop beside another is none of its own at a few places; at more a second scout was there,
// whose counts are averaged with the first one's.
func TestASecondScoutsCountsAreAveraged(t *testing.T) {
	for _, c := range []struct{ places, wanted int }{{1, 1}, {fewClose, fewClose}, {fewClose + 1, 0}, {8, 0}, {16, 0}} {
		at := netOf(4)
		for i := range c.places {
			at = append(at, roundAbout(at[i], 1, 8)...)
		}
		stops := walked(at...)
		for i := range stops {
			stops[i].Name, stops[i].Value = fmt.Sprint(i+1), float64(10+i)
		}
		markTogether(squareArea, 40, stops)
		assert.Equal(t, c.wanted, extras(stops), "%d places", c.places)
	}
	at := netOf(6) // an eighth of 36 places is more than few
	for i := range 5 {
		at = append(at, roundAbout(at[i], 1, 8)...)
	}
	stops := walked(at...)
	markTogether(squareArea, 40, stops)
	assert.Zero(t, extras(stops), "5 of 36")
	markTogether(squareArea, 40, stops[:40])
	assert.Equal(t, 4, extras(stops[:40]), "4 of 36")
}
