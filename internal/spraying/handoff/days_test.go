package handoff_test

import (
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/spraying/handoff"
	"github.com/geocoris/geocoris/internal/spraying/spray"
)

// with gives the zones of a field further properties, name by name.
func with(zones []geo.Feature, more ...geo.Property) []geo.Feature {
	for i := range zones {
		zones[i].Properties = append(zones[i].Properties, more...)
	}
	return zones
}

// goodUntil are zones that say until when their map is good.
func goodUntil(day string) []geo.Feature {
	return with(zones(), geo.Property{Name: "good_until", Value: day})
}

// A spraying on the last day is in time; the day is the map's, and nothing is taken for
// one that it does not say.
func TestLateAtEquality(t *testing.T) {
	for name, c := range map[string]struct {
		zones   []geo.Feature
		goodFor int
		on      string
		want    handoff.Days
	}{
		"the day before": {goodUntil("2026-07-17"), 0, "2026-07-16", handoff.Days{GoodUntil: "2026-07-17", MapUntil: "2026-07-17", Between: 1}},
		"on the day":     {goodUntil("2026-07-17"), 0, "2026-07-17", handoff.Days{GoodUntil: "2026-07-17", MapUntil: "2026-07-17", Between: 2}},
		"the day after":  {goodUntil("2026-07-17"), 0, "2026-07-18", handoff.Days{GoodUntil: "2026-07-17", MapUntil: "2026-07-17", Between: 3, Late: true}},
		"asked, on it":   {goodUntil("2026-07-17"), 5, "2026-07-20", handoff.Days{GoodUntil: "2026-07-20", MapUntil: "2026-07-17", Between: 5}},
		"asked, after":   {goodUntil("2026-07-17"), 1, "2026-07-17", handoff.Days{GoodUntil: "2026-07-16", MapUntil: "2026-07-17", Between: 2, Late: true}},
		"not given":      {zones(), 0, "2026-07-30", handoff.Days{Between: 15}},
		"no day at all":  {goodUntil("soon"), 0, "2026-07-30", handoff.Days{Between: 15}},
	} {
		t.Run(name, func(t *testing.T) {
			set := settings()
			set.SprayOn, set.GoodFor = c.on, c.goodFor
			r, err := handoff.Run(c.zones, set)
			require.NoError(t, err)
			c.want.Counted, c.want.SprayOn = "2026-07-15", c.on
			assert.Equal(t, c.want, r.Jobs[0].Days)
			notes := strings.Join(r.Notes, "; ")
			assert.Equal(t, c.want.Late, strings.Contains(notes, "A: the map was good until"), notes)
			assert.Equal(t, c.want.GoodUntil == "", strings.Contains(notes, "A: the zones do not say until when the map is good"), notes)
			assert.Equal(t, c.goodFor > 0, strings.Contains(notes, "by --good-for; it says itself 2026-07-17"), notes)
		})
	}
}

// eastward is ground moved by so many degrees.
func eastward(t *testing.T, ground orb.Geometry, by float64) orb.Geometry {
	t.Helper()
	move := func(p orb.Polygon) {
		for _, ring := range p {
			for i := range ring {
				ring[i][0] += by
			}
		}
	}
	ground = orb.Clone(ground)
	switch g := ground.(type) {
	case orb.Polygon:
		move(g)
	case orb.MultiPolygon:
		for _, p := range g {
			move(p)
		}
	default:
		require.Failf(t, "no ground", "%T", ground)
	}
	return ground
}

// Fields that were counted on days of their own have their own days and growth; the
// days of all are the first and the worst of them. A field without a job has no say.
func TestDaysOfEachField(t *testing.T) {
	fields := 0.0
	of := func(name, date, good string) []geo.Feature {
		all := goodUntil(good)
		for i := range all {
			all[i].Properties[1].Value, all[i].Properties[2].Value = name, date
			all[i].Geometry = eastward(t, all[i].Geometry, 0.02*fields) // side by side
		}
		fields++
		return all
	}
	idle := of("C", "2026-07-25", "2026-08-01")[1:] // no treat zone, and counted after the spraying
	set := settings()
	set.GoodFor, set.SprayOn, set.Margin = 0, "2026-07-18", spray.Margin{Growth: 2}
	r, err := handoff.Run(append(append(of("A", "2026-07-13", "2026-07-17"), of("B", "2026-07-15", "2026-07-22")...), idle...), set)
	require.NoError(t, err)
	require.Len(t, r.Jobs, 2)
	a, b := r.Jobs[0], r.Jobs[1]
	assert.Equal(t, handoff.Days{Counted: "2026-07-13", SprayOn: "2026-07-18", GoodUntil: "2026-07-17", MapUntil: "2026-07-17", Between: 5, Late: true}, a.Days)
	assert.Equal(t, handoff.Days{Counted: "2026-07-15", SprayOn: "2026-07-18", GoodUntil: "2026-07-22", MapUntil: "2026-07-22", Between: 3}, b.Days)
	assert.Equal(t, a.Days, r.Days)
	assert.Equal(t, []float64{10, 6, 10}, []float64{a.Margin.Spread(), b.Margin.Spread(), r.Settings.Margin.Spread()})
	long := geo.Bound(b.Ground.Field).Max[1] - geo.Bound(b.Ground.Field).Min[1]
	assert.InEpsilon(t, b.Ground.Treat+6*long, b.Ground.Grown, 1e-4)
	assert.Equal(t, 1, strings.Count(strings.Join(r.Notes, "; "), "the map was good until"))
}

// Growth of days that the map has grown its zones by is not added again: days until
// the spraying beyond them count, and never fewer than none.
func TestGrowthBeyondTheMap(t *testing.T) {
	grown := func(margin, days any) []geo.Feature {
		return with(goodUntil("2026-07-22"), geo.Property{Name: "margin_m", Value: margin}, geo.Property{Name: "grown_days", Value: days})
	}
	for name, c := range map[string]struct {
		zones  []geo.Feature
		record map[string]handoff.Grown
		days   float64 // of 3 until the spraying
		note   string
	}{
		"none on the map":     {grown(0.0, int64(0)), nil, 3, ""},
		"a margin asked for":  {grown(10.0, 0.0), nil, 3, "the map grew the treat zone by 10 m, already; the margin here comes on top"},
		"fewer days":          {grown(int64(25), 2.0), nil, 1, "with growth for 1 of the 3 days"},
		"as many days":        {grown(25.0, int64(3)), nil, 0, "with growth for 0 of the 3 days"},
		"more days":           {grown(25.0, 5.0), nil, 0, "by 25 m, with what patches grow in 5 days, already"},
		"parts of a day":      {grown(25.0, 2.5), nil, 0.5, "with growth for 0.5 of the 3 days"},
		"by the record":       {goodUntil("2026-07-22"), map[string]handoff.Grown{"A": {Margin: 25, Days: 2}}, 1, "with growth for 1 of the 3 days"},
		"zones before record": {grown(25.0, 2.0), map[string]handoff.Grown{"A": {Margin: 1, Days: 0}}, 1, "25 m"},
		"another's record":    {goodUntil("2026-07-22"), map[string]handoff.Grown{"B": {Margin: 25, Days: 2}}, 3, "the zones do not say by how much the map grew them, so growth is added for all 3 days"},
	} {
		t.Run(name, func(t *testing.T) {
			set := settings()
			set.GoodFor, set.Grown, set.SprayOn, set.Margin = 0, c.record, "2026-07-18", spray.Margin{Growth: 2}
			r, err := handoff.Run(c.zones, set)
			require.NoError(t, err)
			j := r.Jobs[0]
			assert.Equal(t, c.days, j.Margin.Days)
			long := geo.Bound(j.Ground.Field).Max[1] - geo.Bound(j.Ground.Field).Min[1]
			assert.InEpsilon(t, j.Ground.Treat+2*c.days*long, j.Ground.Grown, 1e-4)
			if c.note == "" {
				assert.NotContains(t, strings.Join(r.Notes, "; "), "the map grew")
				return
			}
			assert.Contains(t, strings.Join(r.Notes, "; "), c.note)
		})
	}
	undated := zones()
	for i := range undated {
		undated[i].Properties[2].Value = ""
	}
	set := settings()
	set.Margin.Growth = 1
	_, err := handoff.Run(undated, set)
	assert.ErrorContains(t, err, "A: the zones have no date, so growth")
}

// What is sprayed past the edge is no share of the field.
func TestShareLeavesOutWhatIsPastTheEdge(t *testing.T) {
	set := settings()
	heading := 45.0
	set.Spray.Heading = &heading
	r, err := handoff.Run(advised("spot spray", zones()), set)
	require.NoError(t, err)
	j := r.Jobs[0]
	c := j.Plan.Cover
	require.Greater(t, c.OutOfField, 100.0)
	inside := geo.Area(j.Ground.Field) // what of the swaths lies in the field, by the union of both
	both, err := spray.Together([]orb.MultiPolygon{j.Ground.Field, c.Swaths})
	require.NoError(t, err)
	want := (geo.Area(c.Swaths) - (geo.Area(both) - inside)) / j.Area
	assert.InDelta(t, want, j.Share(), 1e-6)
}

// Ground that no section can do is ground to spray: totals are what is treatable and
// what is left.
func TestTotalsHoldWhatIsLeft(t *testing.T) {
	set := settings()
	heading, none := 45.0, 0.0
	set.Spray.Heading, set.Spray.Overrun = &heading, &none
	r, err := handoff.Run(zones(), set)
	require.NoError(t, err)
	totals := r.Totals()
	require.Greater(t, totals.Left, 100.0)
	assert.InDelta(t, geo.Area(r.Jobs[0].Ground.Spray), totals.Ground, 1)
	assert.InDelta(t, r.Jobs[0].Plan.Cover.Left, totals.Left, 1e-9)
}
