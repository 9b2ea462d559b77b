package change_test

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/followup/change"
	"github.com/geocoris/geocoris/internal/followup/paired"
	"github.com/geocoris/geocoris/internal/geometry/planar"
	"github.com/geocoris/geocoris/internal/geometry/zones"
	"github.com/geocoris/geocoris/internal/testkit"
	"github.com/geocoris/geocoris/interp"
)

// spot is an invented infestation: the treat level of 40 is reached at its
// radius, twice that in its middle.
type spot struct{ x, y, radius float64 }

func (s spot) at(x, y float64) float64 {
	return 40 * (2 - math.Hypot(x-s.x, y-s.y)/s.radius)
}

const cell = 5

// Counts on ten leaves: half of one is the least.
var numbers = paired.Scale{Least: 0.05}

// field is 600 m by 400 m with a corner cut off and a pond.
func field() orb.MultiPolygon {
	return orb.MultiPolygon{{
		{{-300, -200}, {300, -200}, {300, 120}, {211.3, 200}, {-300, 200}, {-300, -200}},
		{{-20, -20}, {-20, 20}, {20, 20}, {20, -20}, {-20, -20}},
	}}
}

// round is a field of 37 sloping edges within the same lattice.
func round() orb.MultiPolygon {
	var ring orb.Ring
	for i := range 37 {
		a := 2*math.Pi*float64(i)/37 + 0.1
		ring = append(ring, orb.Point{280 * math.Cos(a), 190 * math.Sin(a)})
	}
	return orb.MultiPolygon{{append(ring, ring[0])}}
}

// visit builds the zones of spots on a day; ground of none of them has 1.
func visit(t require.TestingT, day float64, spots ...spot) change.Visit {
	return visitTo(t, field(), day, spots...)
}

func visitTo(t require.TestingT, field orb.MultiPolygon, day float64, spots ...spot) change.Visit {
	l := interp.Lattice{X0: -310, Y0: -210, Cell: cell, Cols: 125, Rows: 85}
	value, distance := interp.NewGrid(l), interp.NewGrid(l)
	for row := range l.Rows {
		for col := range l.Cols {
			x, y := l.Node(col, row)
			v := 1.0
			for _, s := range spots {
				v = max(v, s.at(x, y))
			}
			value.Values[row*l.Cols+col], distance.Values[row*l.Cols+col] = v, 10
		}
	}
	out := change.Visit{Day: day, Surface: zones.Surface{Value: value, Distance: distance}, Reach: 50}
	var err error
	out.Map, err = zones.Build(field, out.Surface, nil, zones.Settings{
		Levels: zones.Levels{TreatAt: 40, WatchAt: 10}, Reach: 50, MinArea: 4 * cell * cell, Simplify: cell / 50.0,
	})
	require.NoError(t, err)
	return out
}

// Cumulative insect-days by hand: 0, 10, 60, 200 on days 0, 7, 14, 18 make
// 35 + 245 + 520 = 800.
func TestPestDaysByHand(t *testing.T) {
	got, err := change.PestDays([]float64{0, 7, 14, 18}, []float64{0, 10, 60, 200})
	require.NoError(t, err)
	assert.Equal(t, 800.0, got)
	_, err = change.PestDays([]float64{0, 7, 7}, []float64{1, 2, 3})
	assert.ErrorContains(t, err, "visit 3")
	_, err = change.PestDays([]float64{0}, nil)
	assert.Error(t, err)
}

// 50 to 500 per leaf in 14 days, Texas extension: r 0.164 a day, doubling 4.2
// days; and what was not scouted stays without figure.
func TestGridsOfThePublishedGrowth(t *testing.T) {
	a, b := visit(t, 0), visit(t, 14)
	for i := range a.Surface.Value.Values {
		a.Surface.Value.Values[i], b.Surface.Value.Values[i] = 50, 500
	}
	b.Surface.Value.Values[1], a.Surface.Value.Values[1] = 5, 0 // none before
	b.Surface.Value.Values[2], a.Surface.Value.Values[2] = 0, 0 // none at all
	b.Surface.Value.Values[3] = 50                              // no change
	a.Surface.Distance.Values[4] = 50.1                         // beyond reach before
	b.Surface.Distance.Values[5] = 50.1                         // and after
	g, err := change.Compare(a, b, numbers)
	require.NoError(t, err)
	assert.Equal(t, 450.0, g.Difference.Values[0])
	assert.Equal(t, 10.0, g.Ratio.Values[0])
	assert.InDelta(t, 0.164, g.Rate.Values[0], 0.0005)
	assert.InDelta(t, 4.2, g.Doubling.Values[0], 0.05)
	assert.Equal(t, 100.0, g.Ratio.Values[1])
	assert.Equal(t, 0.0, g.Difference.Values[2])
	assert.True(t, math.IsNaN(g.Rate.Values[2]), "nothing twice is no growth of 0")
	assert.Equal(t, 0.0, g.Rate.Values[3])
	assert.True(t, math.IsNaN(g.Doubling.Values[3]))
	for _, grid := range []interp.Grid{g.Difference, g.Ratio, g.Rate, g.Doubling} {
		assert.True(t, math.IsNaN(grid.Values[4]) && math.IsNaN(grid.Values[5]), "unscouted ground has no figure")
	}
	days, err := change.PestDaysGrid([]change.Visit{a, b})
	require.NoError(t, err)
	assert.Equal(t, 3850.0, days.Values[0])
	assert.True(t, math.IsNaN(days.Values[4]))
}

func TestCompareRefuses(t *testing.T) {
	a, b := visit(t, 0), visit(t, 7)
	for name, f := range map[string]func() error{
		"order": func() error { _, err := change.Compare(b, a, numbers); return err },
		"least": func() error { _, err := change.Compare(a, b, paired.Scale{}); return err },
		"other lattice": func() error {
			c := b
			c.Surface.Value.X0++
			_, err := change.Compare(a, c, numbers)
			return err
		},
		"short": func() error {
			c := b
			c.Surface.Value.Values = c.Surface.Value.Values[1:]
			_, err := change.PestDaysGrid([]change.Visit{a, c})
			return err
		},
		"no visits": func() error { _, err := change.Track(field(), nil); return err },
		"forecast": func() error {
			_, err := change.Forecast(field(), a, math.NaN(), 7, numbers, zones.Settings{})
			return err
		},
	} {
		t.Run(name, func(t *testing.T) { assert.Error(t, f()) })
	}
}

// A patch grows 65 % of its area in a week (radius × 1.285; Backoulou et al. 2018,
// Southwest. Entomol. 43:823–832) and moves 30 m to the north-east, three weeks
// running: it keeps its number, its area is within 5 % and its bearing within 5°.
func TestAGrowingPatchIsFollowed(t *testing.T) {
	const grows, moves = 1.65, 30
	var visits []change.Visit
	for week := range 4 {
		w := float64(week)
		radius := 40 * math.Pow(grows, w/2)
		at := -100 + w*moves*math.Sqrt2/2
		visits = append(visits, visit(t, 7*w, spot{at - 60, at, radius}, spot{230, -120, 30}))
	}
	tracks, err := change.Track(field(), visits)
	require.NoError(t, err)
	for week, patches := range tracks.Patches {
		require.Len(t, patches, 2)
		for _, p := range patches {
			if p.ID == 1 {
				radius := 40 * math.Pow(grows, float64(week)/2)
				assert.InEpsilon(t, math.Pi*radius*radius, p.Area, 0.05, "week %d", week)
			}
		}
	}
	require.Len(t, tracks.Steps, 6)
	for _, s := range tracks.Steps {
		if s.ID == 2 {
			assert.Equal(t, change.Stayed, s.Event)
			continue
		}
		assert.Equal(t, change.Grew, s.Event)
		assert.InDelta(t, 45, s.Bearing, 5)
		assert.InDelta(t, moves, s.Metres, 2)
		assert.InDelta(t, math.Log(grows)/7, s.AreaRate, 0.005)
	}
}

func TestEvents(t *testing.T) {
	one, two := spot{-150, 0, 40}, spot{-70, 0, 30}
	for _, c := range []struct {
		name          string
		before, after []spot
		want          map[int]change.Event
	}{
		{"born", []spot{one}, []spot{one, {150, 0, 30}}, map[int]change.Event{1: change.Stayed, 2: change.Born}},
		{"gone", []spot{one, {150, 0, 30}}, []spot{one}, map[int]change.Event{1: change.Stayed, 2: change.Ended}},
		{"shrunk", []spot{one}, []spot{{-150, 0, 30}}, map[int]change.Event{1: change.Shrank}},
		{"merged", []spot{one, two}, []spot{one, two, {-110, 0, 40}}, map[int]change.Event{1: change.Merged, 2: change.Joined}},
		{"split", []spot{one, two, {-110, 0, 40}}, []spot{one, two}, map[int]change.Event{1: change.Split, 2: change.Broke}},
		{"elsewhere", []spot{one}, []spot{{150, 0, 40}}, map[int]change.Event{1: change.Ended, 2: change.Born}},
	} {
		t.Run(c.name, func(t *testing.T) {
			tracks, err := change.Track(field(), []change.Visit{visit(t, 0, c.before...), visit(t, 7, c.after...)})
			require.NoError(t, err)
			got := map[int]change.Event{}
			for _, s := range tracks.Steps {
				got[s.ID] = s.Event
			}
			assert.Equal(t, c.want, got)
		})
	}
}

// A patch counts as held up to a tenth more or less of its area, by a map's own
// measure: its radius changes by the root of that.
func TestATenthOfAnAreaCountsAsHeld(t *testing.T) {
	const radius = 100.0
	for ratio, want := range map[float64]change.Event{
		1.07: change.Stayed, 1.13: change.Grew, 1.19: change.Grew, 0.93: change.Stayed, 0.87: change.Shrank, 0.81: change.Shrank,
	} {
		tracks, err := change.Track(field(), []change.Visit{visit(t, 0, spot{-150, 0, radius}), visit(t, 7, spot{-150, 0, radius * math.Sqrt(ratio)})})
		require.NoError(t, err)
		require.Len(t, tracks.Steps, 1)
		s := tracks.Steps[0]
		require.InDelta(t, ratio, s.After/s.Before, 0.015)
		assert.Equal(t, want, s.Event, "%g times the area", ratio)
	}
}

// What each event makes of the ground: two discs apart, one or both of them before
// and after.
func TestKindsOfGround(t *testing.T) {
	small, large, other := spot{-150, 0, 30}, spot{-150, 0, 45}, spot{150, 0, 40}
	for _, c := range []struct {
		name          string
		before, after []spot
		want          map[change.Kind]float64
	}{
		{"grown", []spot{small}, []spot{large}, map[change.Kind]float64{change.Held: 900, change.Grown: 45*45 - 900}},
		{"shrunk", []spot{large}, []spot{small}, map[change.Kind]float64{change.Held: 900, change.Shrunk: 45*45 - 900}},
		{"new", []spot{small}, []spot{small, other}, map[change.Kind]float64{change.Held: 900, change.New: 1600}},
		{"gone", []spot{small, other}, []spot{small}, map[change.Kind]float64{change.Held: 900, change.Gone: 1600}},
	} {
		t.Run(c.name, func(t *testing.T) {
			o, err := change.Lay(field(), visit(t, 0, c.before...).Map, visit(t, 7, c.after...).Map, nil, nil)
			require.NoError(t, err)
			for _, k := range change.Kinds() {
				assert.InDelta(t, math.Pi*c.want[k], o.Area(k), 30, "%s", k)
			}
			// The middle of the first disc parts it, and none of the second is treated.
			o, err = change.Lay(field(), visit(t, 0, c.before...).Map, visit(t, 7, c.after...).Map, westOf(small.x), nil)
			require.NoError(t, err)
			ground := o.Ground(degrees(t))
			for _, k := range change.Kinds() {
				in := change.Lot{Kind: k, Treated: true}
				want := math.Pi * c.want[k] / 2
				if k == change.New || k == change.Gone {
					want = 0
				}
				assert.InDelta(t, want, o.AreaOf(in), 30, "%s", k)
				assert.InDelta(t, o.AreaOf(in), geo.Area(degrees(t).ForwardPolygons(ground[in])), 30, "%s", k)
			}
		})
	}
}

func degrees(t *testing.T) geo.Frame {
	f, err := geo.NewFrame(orb.Point{-101.6, 35.9})
	require.NoError(t, err)
	return f
}

func TestBearing(t *testing.T) {
	for _, c := range []struct{ x, y, want float64 }{{0, 1, 0}, {1, 0, 90}, {0, -2, 180}, {-1, 0, 270}, {-1, 1, 315}} {
		assert.InDelta(t, c.want, change.Bearing(orb.Point{5, 5}, orb.Point{5 + c.x, 5 + c.y}), 1e-9)
	}
	assert.True(t, math.IsNaN(change.Bearing(orb.Point{1, 1}, orb.Point{1, 1})))
}

func TestANumberIsNeverUsedAgain(t *testing.T) {
	a, b := spot{-150, 0, 40}, spot{150, 0, 40}
	tracks, err := change.Track(field(), []change.Visit{visit(t, 0, a), visit(t, 7), visit(t, 14, a, b)})
	require.NoError(t, err)
	var ids []int
	for _, p := range tracks.Patches[2] {
		ids = append(ids, p.ID)
	}
	assert.ElementsMatch(t, []int{2, 3}, ids)
}

// The table adds up to the zones of both visits and to the field, and the kinds
// to the treat ground, for whatever the two visits hold, at the field's edge too.
func TestTheTableAddsUpBothWays(t *testing.T) {
	frame := degrees(t)
	testkit.Property(t, func(t *rapid.T) {
		some := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) spot {
			return spot{rapid.Float64Range(-320, 320).Draw(t, "x"), rapid.Float64Range(-220, 220).Draw(t, "y"), rapid.Float64Range(8, 120).Draw(t, "radius")}
		}), 0, 4)
		field := rapid.SampledFrom([]orb.MultiPolygon{field(), round()}).Draw(t, "field")
		a, b := visitTo(t, field, 0, some.Draw(t, "a")...), visitTo(t, field, 7, some.Draw(t, "b")...)
		treated := rapid.SampledFrom([]orb.MultiPolygon{nil, westOf(0), westOf(-37.3), westOf(900)}).Draw(t, "treated")
		unseen := rapid.SampledFrom([]orb.MultiPolygon{nil, westOf(0), westOf(111.1)}).Draw(t, "unseen")
		o, err := change.Lay(field, a.Map, b.Map, treated, unseen)
		require.NoError(t, err)
		table, area := o.Table(), geo.Area(field)
		assert.InEpsilon(t, area, table.Total(), 1e-9)
		for _, c := range zones.Classes() {
			assert.InDelta(t, a.Map.Zone(c).Area, table.From(c), 1e-9*area)
			assert.InDelta(t, b.Map.Zone(c).Area, table.To(c), 1e-9*area)
		}
		assert.InDelta(t, a.Map.Zone(zones.Treat).Area, o.Area(change.Held)+o.Area(change.NotSeen)+o.Area(change.Shrunk)+o.Area(change.Gone), 1e-9*area)
		assert.InDelta(t, b.Map.Zone(zones.Treat).Area, o.Area(change.Held)+o.Area(change.Grown)+o.Area(change.New), 1e-9*area)
		// The same by laying treated ground on each visit's treat zone.
		before, err := change.Cover(field, a.Map, treated)
		require.NoError(t, err)
		after, err := change.Cover(field, b.Map, treated)
		require.NoError(t, err)
		in := func(k change.Kind) float64 { return o.AreaOf(change.Lot{Kind: k, Treated: true}) }
		assert.InDelta(t, before.Hit, in(change.Held)+in(change.NotSeen)+in(change.Shrunk)+in(change.Gone), 1e-8*area)
		assert.InDelta(t, after.Hit, in(change.Held)+in(change.Grown)+in(change.New), 1e-8*area)
		// What was not seen is what is red no more in that ground, had it been seen.
		seen, err := change.Lay(field, a.Map, b.Map, unseen, nil)
		require.NoError(t, err)
		assert.InDelta(t, seen.AreaOf(change.Lot{Kind: change.Shrunk, Treated: true})+seen.AreaOf(change.Lot{Kind: change.Gone, Treated: true}), o.Area(change.NotSeen), 1e-8*area)
		ground := o.Ground(frame)
		for lot, mp := range ground {
			want := o.AreaOf(lot)
			assert.InDelta(t, want, geo.Area(frame.ForwardPolygons(mp)), 0.02*math.Sqrt(want)+30, "%v", lot)
			assert.NoError(t, planar.Valid(mp), "%v", lot)
		}
	})
}

// westOf is the ground west of a line, beyond the field on every side.
func westOf(x float64) orb.MultiPolygon {
	return orb.MultiPolygon{{{{-400, -300}, {x, -300}, {x, 300}, {-400, 300}, {-400, -300}}}}
}

func TestTheSameVisitTwiceChangesNothing(t *testing.T) {
	a := visit(t, 0, spot{-150, 0, 40}, spot{290, 100, 60})
	o, err := change.Lay(field(), a.Map, a.Map, nil, nil)
	require.NoError(t, err)
	for _, k := range []change.Kind{change.New, change.Grown, change.Shrunk, change.Gone} {
		assert.Zero(t, o.Area(k))
	}
	assert.InEpsilon(t, a.Map.Zone(zones.Treat).Area, o.Area(change.Held), 1e-9)
}

func TestDaysTo(t *testing.T) {
	r := math.Log(10) / 14 // the published growth
	for _, c := range []struct {
		name              string
		value, rate, want float64
	}{
		{"tenfold away", 4, r, 14}, {"there", 40, r, 0}, {"beyond", 90, -1, 0}, {"falling", 4, -r, math.Inf(1)},
		{"steady", 4, 0, math.Inf(1)}, {"nothing found", 0, r, 14 * math.Log10(40/0.05)},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := change.DaysTo(40, c.value, c.rate, numbers); !math.IsInf(c.want, 1) {
				assert.InDelta(t, c.want, got, 1e-9)
			} else {
				assert.Equal(t, c.want, got)
			}
		})
	}
	assert.True(t, math.IsNaN(change.DaysTo(40, math.NaN(), r, numbers)))
	assert.True(t, math.IsNaN(change.DaysTo(40, 4, math.NaN(), numbers)))
}

// By hand, of odds that grow fourfold a week: 20, 50, 80 % are a week apart each.
// Ten leaves: half of one is 5 %, so 0 counts as 5 and 100 as 95 %, odds of 1/19
// and 19.
func TestDaysToOfShares(t *testing.T) {
	tenLeaves := paired.Scale{Least: 5, Whole: 100}
	r := math.Log(4) / 7
	toAll := math.Log(19) / r
	for _, c := range []struct{ level, value, rate, want float64 }{
		{50, 20, r, 7}, {80, 20, r, 14}, {50, 50, r, 0}, {50, 100, r, 0}, {50, 20, -r, math.Inf(1)}, {50, 20, 0, math.Inf(1)},
		{50, 0, r, toAll}, {100, 50, r, toAll}, {100, 96, r, 0}, {120, 50, r, math.Inf(1)},
		{50, math.NaN(), r, math.NaN()}, {50, 20, math.NaN(), math.NaN()},
	} {
		switch got := change.DaysTo(c.level, c.value, c.rate, tenLeaves); {
		case math.IsNaN(c.want):
			assert.True(t, math.IsNaN(got))
		case math.IsInf(c.want, 1):
			assert.Equal(t, c.want, got)
		default:
			assert.InDelta(t, c.want, got, 1e-9, "%g to %g", c.value, c.level)
		}
	}
}

func TestForecastOfSharesNeverPassesTheWhole(t *testing.T) {
	now := visit(t, 0, spot{-150, 0, 40}) // 80 in its middle, 40 at its rim
	copy(now.Surface.Value.Values, []float64{0, 100, 50})
	now.Samples = []interp.Sample{{X: -150, Y: 0, Value: 80}}
	share := paired.Scale{Least: 5, Whole: 100}
	set := zones.Settings{Levels: zones.Levels{TreatAt: 50, WatchAt: 10}, Reach: 50}
	then, err := change.Forecast(field(), now, math.Log(2)/4.85, 28, share, set)
	require.NoError(t, err)
	for _, v := range then.Surface.Value.Values {
		require.True(t, v >= 0 && v <= 100, "%g %%", v)
	}
	assert.Equal(t, []float64{0, 100}, then.Surface.Value.Values[:2], "nothing and the whole stay")
	odds := math.Exp2(28 / 4.85)
	assert.InDelta(t, 100*odds/(1+odds), then.Surface.Value.Values[2], 1e-9)
	assert.InDelta(t, 100*4*odds/(1+4*odds), then.Samples[0].Value, 1e-9)
	assert.Equal(t, 80.0, now.Samples[0].Value, "the visit itself stays as it is")
	g, err := change.Compare(now, then, share)
	require.NoError(t, err)
	assert.InDelta(t, 100*odds/(1+odds)/50, g.Ratio.Values[2], 1e-12, "of the shares themselves")
	assert.InDelta(t, math.Log(19)/28, g.Rate.Values[2], 1e-9, "of the odds, at most those of 95 %")
	assert.InDelta(t, math.Ln2/(math.Log(19)/28), g.Doubling.Values[2], 1e-9)
	assert.True(t, math.IsNaN(g.Rate.Values[1]), "all twice is no growth of 0")
	assert.Equal(t, 1.0, g.Ratio.Values[1])
}

func TestForecastGrowsEverythingAlike(t *testing.T) {
	now := visit(t, 0, spot{-150, 0, 40})
	set := zones.Settings{Levels: zones.Levels{TreatAt: 40, WatchAt: 10}, Reach: 50}
	then, err := change.Forecast(field(), now, math.Log(2)/7, 7, numbers, set)
	require.NoError(t, err)
	assert.Equal(t, 7.0, then.Day)
	// Doubled, the level of 40 lies where 20 was: at 1.5 radii.
	assert.InEpsilon(t, math.Pi*60*60, then.Map.Zone(zones.Treat).Area, 0.01)
	assert.InDelta(t, 80, now.Surface.Value.At(32, 42), 1e-9, "the visit itself stays as it is")
}

func TestCoverFindsMissedGround(t *testing.T) {
	v := visit(t, 0, spot{-150, 0, 40})
	west := westOf(-150)
	c, err := change.Cover(field(), v.Map, west)
	require.NoError(t, err)
	half := v.Map.Zone(zones.Treat).Area / 2
	assert.InEpsilon(t, half, c.Hit, 0.001)
	assert.InEpsilon(t, half, c.Missed, 0.001)
	assert.InEpsilon(t, 150*400, c.Treated, 1e-6)
	assert.InEpsilon(t, 150*400-half, c.Needless, 0.001)
	whole, err := change.Cover(field(), v.Map, field())
	require.NoError(t, err)
	assert.InDelta(t, 0, whole.Missed, 1e-6)
	assert.InEpsilon(t, geo.Area(field()), whole.Treated, 1e-9)
	none, err := change.Cover(field(), v.Map, nil)
	require.NoError(t, err)
	assert.InEpsilon(t, 2*half, none.Missed, 1e-9)
	assert.Zero(t, none.Treated)
}
