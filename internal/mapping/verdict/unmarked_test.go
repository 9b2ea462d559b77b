package verdict_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/mapping/fieldstats"
	"github.com/geocoris/geocoris/internal/testkit"
)

// An unmarked walk adds stops at one of the hottest places, as who is there and wants to be
// sure does, with the spacing of the walk in metres.
type unmarked struct {
	name    string
	at      func(p orb.Point, spacing float64) []orb.Point
	circles bool // of many stops
}

var unmarkedWalks = []unmarked{
	{"3 copies", around(3, 2), false}, {"circle", func(p orb.Point, s float64) []orb.Point { return around(6, s/2)(p, s) }, true},
	{"1 copy", around(1, 2), false}, {"2 copies", around(2, 2), false}, {"4 copies", around(4, 2), false}, {"5 copies", around(5, 2), false}, {"8 copies", around(8, 2), false},
	{"1 at 12 m", around(1, 12), false}, {"2 at 12 m", around(2, 12), false}, {"3 at 12 m", around(3, 12), false},
	{"two circles", func(p orb.Point, s float64) []orb.Point {
		return append(around(8, 0.3*s)(p, s), around(8, 0.6*s)(p, s)...)
	}, true},
}

func around(n int, far float64) func(orb.Point, float64) []orb.Point {
	return func(p orb.Point, _ float64) (at []orb.Point) {
		for i := range n {
			sin, cos := math.Sincos(1 + 2*math.Pi*float64(i)/float64(n))
			at = append(at, orb.Point{p[0] + far*cos, p[1] + far*sin})
		}
		return at
	}
}

const mostPlaces = 3

// TestUnmarked adds stops that nobody marked at the hottest stops of invented fields, at three
// or at one where they are many, and sets the mean against that of the walk without them:
//
//	go test ./internal/mapping/verdict -run TestUnmarked -v -fields 240
func TestUnmarked(t *testing.T) {
	fields := max(len(inventedKinds), simulated()/4)
	for _, w := range unmarkedWalks[:testkit.Few(len(unmarkedWalks), 2)] {
		without, with := w.walk(t, fields, false), w.walk(t, fields, true)
		more := make([]float64, fields) // of the mean, in thresholds
		for i, f := range with {
			more[i] = (f.figures.Stats.Mean - without[i].figures.Stats.Mean) / inventedLevel
		}
		mean, se := fieldstats.Mean(more), math.Sqrt(fieldstats.Variance(more)/float64(fields))
		t.Logf("%-12s mean higher by %.3f ± %.3f of the threshold", w.name, mean, se)
		most := 0.1
		if w.name == "two circles" { // of walks at random, and where much is hot, not all are known
			most = 0.5
		}
		assert.InDelta(t, 0, mean, most+se, w.name)
	}
}

// walk walks so many fields, with what nobody marked or without it.
func (w unmarked) walk(t *testing.T, fields int, with bool) []judged {
	return judgeEach(t, fields, func(t *testing.T, number int) judged {
		kind := number % len(inventedKinds)
		return coarselyJudged(t, draw(t, number, inventedKinds[kind].truth, kind == concaveKind, func(f *invented, r *rand.Rand) {
			anyWalk(f, r)
			f.stops = max(f.stops, 16)
			if w.circles { // else they are more than the walk
				f.stops = max(f.stops, 45)
			}
			if with {
				f.more = w.added(f)
			}
		}))
	})
}

// added are the stops of a walk at the hottest ones that lie in the field.
func (w unmarked) added(f *invented) func([]orb.Point, *rand.Rand) []orb.Point {
	return func(hot []orb.Point, _ *rand.Rand) (at []orb.Point) {
		places := mostPlaces
		if w.circles {
			places = 1
		}
		for _, p := range hot[:min(len(hot), places)] {
			at = append(at, w.at(p, f.size/math.Sqrt(float64(f.stops)))...)
		}
		return slices.DeleteFunc(at, func(p orb.Point) bool { return !geo.Contains(f.xy, p) })
	}
}

// coarselyJudged has the mean of a field only, of a map too coarse to decide by.
func coarselyJudged(t *testing.T, field invented) judged {
	r, err := assess.Run(t.Context(), []geo.Field{field.field}, field.survey, assess.Settings{Levels: assess.LevelSettings{TreatAt: inventedLevel}, Cell: 40})
	require.NoError(t, err)
	f := judged{invented: field}
	f.figures.Stats.Mean = r.Fields[0].Mean
	return f
}
