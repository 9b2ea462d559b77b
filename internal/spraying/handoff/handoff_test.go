package handoff_test

import (
	"bytes"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/geometry/planar"
	"github.com/geocoris/geocoris/internal/spraying/handoff"
	"github.com/geocoris/geocoris/internal/spraying/spray"
	"github.com/geocoris/geocoris/internal/spraying/taskdata"
)

func box(x0, y0, x1, y1 float64) orb.Polygon {
	return orb.Polygon{{{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}, {x0, y0}}}
}

// zones are an invented field of 0.006° by 0.004°, its western third to treat.
func zones() []geo.Feature {
	p := func(zone string) geo.Properties {
		return geo.Properties{{Name: "zone", Value: zone}, {Name: "field", Value: "A"}, {Name: "date", Value: "2026-07-15/2026-07-16"}, {Name: "pest", Value: "aphid"}}
	}
	return []geo.Feature{
		{Geometry: box(-101.6, 35.9, -101.598, 35.904), Properties: p("treat")},
		{Geometry: orb.MultiPolygon{box(-101.598, 35.9, -101.594, 35.904)}, Properties: p("clear")},
	}
}

func settings() handoff.Settings {
	return handoff.Settings{Spray: spray.Settings{Swath: 24, Heading: new(float64)}, GoodFor: 7}
}

func keepOff(g orb.Geometry, setBack float64) handoff.KeepOff {
	return handoff.KeepOff{File: "hives.geojson", Features: []geo.Feature{{Geometry: g}}, SetBack: setBack}
}

// Areas by the radii of curvature of WGS 84, see the test of taskdata: the treat
// zone has 80,136 m², the field three times that.
func TestAreasComeThrough(t *testing.T) {
	r, err := handoff.Run(zones(), settings())
	require.NoError(t, err)
	require.Len(t, r.Jobs, 1)
	phi := 35.902 * math.Pi / 180
	w := 1 - 0.00669437999014*math.Sin(phi)*math.Sin(phi)
	m, n := 6378137*(1-0.00669437999014)/math.Pow(w, 1.5), 6378137/math.Sqrt(w)
	want := 0.002 * 0.004 * math.Pow(math.Pi/180, 2) * m * n * math.Cos(phi)
	assert.InEpsilon(t, want, r.Jobs[0].Ground.Treat, 1e-6)
	assert.InEpsilon(t, 3*want, r.Jobs[0].Area, 1e-6)
	assert.InEpsilon(t, want, geo.Area(r.Jobs[0].Ground.Spray), 1e-6)
	assert.InDelta(t, r.Totals().Sprayed, r.Jobs[0].Plan.Cover.Sprayed, 1e-9)
}

// advised gives the zones of a field a verdict.
func advised(verdict string, zones []geo.Feature) []geo.Feature {
	for i := range zones {
		zones[i].Properties = append(zones[i].Properties, geo.Property{Name: "verdict", Value: verdict},
			geo.Property{Name: "advice", Value: verdict + ", and why"}, geo.Property{Name: "look_again", Value: "2026-07-18"})
	}
	return zones
}

// The words are those of the package of verdicts, so that a new one is thought of
// here: what is not known as advice to spray is advice against it.
func TestJobsFollowTheVerdict(t *testing.T) {
	for verdict, ok := range map[string]bool{"spot spray": true, "treat the whole field": true, "no spray": false, "look again": false, "undecided": false, "none": false, "another": false} {
		r, err := handoff.Run(advised(verdict, zones()), settings())
		if ok {
			require.NoError(t, err, verdict)
			assert.Equal(t, handoff.Advice{Verdict: verdict, Heading: verdict + ", and why", LookAgain: "2026-07-18"}, r.Jobs[0].Advice)
			continue
		}
		require.ErrorContains(t, err, `the map's verdict is "`+verdict+`, and why"`)
		assert.ErrorContains(t, err, "--against-verdict")
		set := settings()
		set.AgainstVerdict = true
		r, err = handoff.Run(advised(verdict, zones()), set)
		require.NoError(t, err)
		assert.True(t, r.Jobs[0].Advice.Against())
		said, _ := r.Swaths()[0].Properties.Get("verdict")
		assert.Equal(t, verdict, said)
		assert.Equal(t, "NOT ADVISED, A", taskOf(t, r))
	}
	r, err := handoff.Run(zones(), settings())
	require.NoError(t, err)
	assert.False(t, r.Jobs[0].Advice.Known())
	assert.Contains(t, r.Notes, "A: the zones carry no verdict: read on the map whether to spray at all")
}

// No file of the hand-off calls the day of the count the day of the spraying.
func TestDaysOfTheFeatures(t *testing.T) {
	set := settings()
	set.SprayOn = "2026-07-17"
	planned, err := handoff.Run(zones(), set)
	require.NoError(t, err)
	open, err := handoff.Run(zones(), settings())
	require.NoError(t, err)
	for _, f := range slices.Concat(planned.Ground(), planned.Swaths(), planned.Passes(), planned.Switches(), planned.Boundaries()) {
		counted, _ := f.Properties.Get("counted")
		assert.Equal(t, "2026-07-15/2026-07-16", counted)
		on, _ := f.Properties.Get("spray_on")
		assert.Equal(t, "2026-07-17", on)
		_, there := f.Properties.Get("date")
		assert.False(t, there)
	}
	assert.Equal(t, "A, spray 2026-07-17", taskOf(t, planned))
	assert.Equal(t, "A, counted 2026-07-15", taskOf(t, open))
	_, there := open.Swaths()[0].Properties.Get("spray_on")
	assert.False(t, there)
}

// taskOf is the name of the first task.
func taskOf(t *testing.T, r *handoff.Result) string {
	t.Helper()
	rate, err := spray.ParseRate("140L/ha")
	require.NoError(t, err)
	p, err := r.Prescription(handoff.Mix{Rate: &rate}, handoff.TaskForm{Version: 4})
	require.NoError(t, err)
	return p.Designators()[0]
}

// One field advised against leaves the jobs of the others.
func TestOneFieldAdvisedAgainst(t *testing.T) {
	other := advised("look again", zones())
	for i := range other {
		other[i].Properties[1].Value = "B"
	}
	r, err := handoff.Run(append(advised("spot spray", zones()), other...), settings())
	require.NoError(t, err)
	require.Len(t, r.Jobs, 1)
	assert.Equal(t, "A", r.Jobs[0].Field)
	require.Len(t, r.Idle, 1)
	assert.Contains(t, r.Idle[0].String(), `B: the map's verdict is "look again, and why"`)
}

// The whole field is sprayed with its keep-offs cut out, treat zone or none.
func TestWholeField(t *testing.T) {
	set := settings()
	set.WholeField = true
	set.KeepOffs = []handoff.KeepOff{keepOff(orb.Point{-101.597, 35.902}, 30)}
	for _, features := range [][]geo.Feature{advised("treat the whole field", zones()), advised("treat the whole field", zones())[1:]} {
		r, err := handoff.Run(features, set)
		require.NoError(t, err)
		j := r.Jobs[0]
		assert.True(t, j.Whole)
		assert.True(t, j.Covers())
		assert.InDelta(t, j.Area-math.Pi*30*30, geo.Area(j.Ground.Spray), 10)
		assert.GreaterOrEqual(t, spray.Distance(j.KeepOffs[0].Geometry, j.Plan.Cover.Swaths), 30.0)
		assert.NotContains(t, strings.Join(r.Notes, "; "), "treating all of it may be simpler")
	}
	_, err := handoff.Run(advised("spot spray", zones())[1:], set)
	assert.ErrorContains(t, err, "no treat zone")
	all := advised("treat the whole field", zones())
	all[1].Properties[0].Value = "treat"
	r, err := handoff.Run(all, settings())
	require.NoError(t, err)
	assert.True(t, r.Jobs[0].Covers(), "all of it is treat zone")
}

// A job follows the map: where that says the whole field it is all of it, keep-offs cut
// out, and the red ground alone only for who asks for that by its name.
func TestJobsFollowTheMapToTheWholeField(t *testing.T) {
	set := settings()
	set.KeepOffs = []handoff.KeepOff{keepOff(orb.Point{-101.597, 35.902}, 30)}
	for _, features := range [][]geo.Feature{advised("treat the whole field", zones()), advised("treat the whole field", zones())[1:]} {
		r, err := handoff.Run(features, set)
		require.NoError(t, err)
		assert.True(t, r.Jobs[0].Covers())
		assert.InDelta(t, r.Jobs[0].Area-math.Pi*30*30, geo.Area(r.Jobs[0].Ground.Spray), 10)
	}
	for _, other := range [][]geo.Feature{advised("spot spray", zones()), zones()} {
		r, err := handoff.Run(other, settings())
		require.NoError(t, err)
		assert.False(t, r.Jobs[0].Covers())
	}
	set.RedOnly = true
	r, err := handoff.Run(advised("treat the whole field", zones()), set)
	require.NoError(t, err)
	assert.False(t, r.Jobs[0].Covers())
	_, err = handoff.Run(advised("treat the whole field", zones())[1:], set)
	assert.ErrorContains(t, err, "no treat zone, and the map's verdict is to treat the whole field: plan it without --red-only")
}

// What an undecided map says to do where its stops cannot be walked is done for who says
// that they cannot, and is not called against the map; no more than that.
func TestJobsOfWhatCannotBeWalkedToday(t *testing.T) {
	instead := func(kind string) []geo.Feature {
		all := advised("undecided", zones())
		for i := range all {
			all[i].Properties = append(all[i].Properties, geo.Property{Name: "if_not_today", Value: kind})
		}
		return all
	}
	set := settings()
	set.Fallback = true
	for kind, whole := range map[string]bool{"spot spray": false, "treat the whole field": true} {
		_, err := handoff.Run(instead(kind), settings())
		require.ErrorContains(t, err, "where the stops asked for cannot be walked today, --fallback makes the job that it names for that")
		r, err := handoff.Run(instead(kind), set)
		require.NoError(t, err, kind)
		assert.Equal(t, whole, r.Jobs[0].Covers(), kind)
		assert.True(t, r.Jobs[0].Fallback)
		assert.Equal(t, "A, counted 2026-07-15", taskOf(t, r))
	}
	r, err := handoff.Run(instead("treat the whole field")[1:], set)
	require.NoError(t, err, "no treat zone")
	assert.True(t, r.Jobs[0].Covers())
	for _, none := range [][]geo.Feature{instead("look again"), advised("undecided", zones()), advised("look again", zones())} {
		_, err := handoff.Run(none, set)
		require.ErrorContains(t, err, "no job is made against it without --against-verdict")
		assert.NotContains(t, err.Error(), "--fallback")
	}
	r, err = handoff.Run(advised("spot spray", zones()), set)
	require.NoError(t, err, "other fields go by their own answers")
	assert.False(t, r.Jobs[0].Fallback)
}

// A field without treat zone that is undecided is no all clear: its verdict is said
// first, and all of it may be sprayed by who asks for that twice. So is any other verdict
// but that there is nothing to do.
func TestNoTreatZoneIsNoAllClear(t *testing.T) {
	const heading = "undecided: the count of stop 3 could not be read"
	lost := advised("undecided", zones())[1:]
	for i := range lost[0].Properties {
		if lost[0].Properties[i].Name == "advice" {
			lost[0].Properties[i].Value = heading
		}
	}
	waits := advised("look again", zones())[1:]
	waits[0].Properties[1].Value = "B"
	waits[0].Geometry = eastward(t, waits[0].Geometry, 0.02)
	_, err := handoff.Run(append(waits, lost...), settings())
	require.EqualError(t, err, "no job: A: "+heading+" (no treat zone yet; --against-verdict --whole-field plans all of it); "+
		`B: no treat zone, and the map's verdict is "look again, and why"`)
	clear := advised("no spray", zones())[1:]
	_, err = handoff.Run(clear, settings())
	require.EqualError(t, err, "nothing to spray: A: no treat zone")

	set := settings()
	set.WholeField = true
	_, err = handoff.Run(lost, set)
	require.ErrorContains(t, err, heading)
	set.AgainstVerdict = true
	r, err := handoff.Run(append(waits, lost...), set)
	require.NoError(t, err)
	require.Len(t, r.Jobs, 1, "nobody asked whether to spray what is below the threshold")
	assert.Equal(t, "A", r.Jobs[0].Field)
	assert.True(t, r.Jobs[0].Covers())
	assert.Equal(t, heading, r.Jobs[0].Advice.Heading)
	set.WholeField = false
	_, err = handoff.Run(lost, set)
	require.ErrorContains(t, err, heading, "there is no part to spray")
}

// The margin reaches into the neighbouring zone and never out of the field.
func TestMarginStaysInTheField(t *testing.T) {
	set := settings()
	set.Margin = spray.Margin{StopError: 3, SprayerError: 4, Growth: 1}
	set.SprayOn = "2026-07-18"
	r, err := handoff.Run(zones(), set)
	require.NoError(t, err)
	j := r.Jobs[0]
	assert.Equal(t, handoff.Days{Counted: "2026-07-15", SprayOn: "2026-07-18", GoodUntil: "2026-07-22", Between: 3}, r.Days)
	long := geo.Bound(j.Ground.Field).Max[1] - geo.Bound(j.Ground.Field).Min[1]
	assert.InEpsilon(t, j.Ground.Treat+8*long, j.Ground.Grown, 1e-4, "√(3² + 4²) + 3 · 1 = 8 m to the east")
}

func TestKeepOffsAreCutOutLast(t *testing.T) {
	set := settings()
	set.Margin.Extra = 20
	set.KeepOffs = []handoff.KeepOff{
		keepOff(orb.Point{-101.599, 35.902}, 50),
		keepOff(orb.LineString{{-101.6, 35.9}, {-101.598, 35.9}}, 10),
		// one of two on another continent
		{File: "far.geojson", Features: []geo.Feature{{Geometry: orb.Point{-101.6, 35.91}}, {Geometry: orb.Point{10, 50}}}, SetBack: 50},
	}
	r, err := handoff.Run(zones(), set)
	require.NoError(t, err)
	j := r.Jobs[0]
	require.Len(t, j.KeepOffs, 3)
	require.Len(t, r.KeepOffNotes, 1)
	assert.Contains(t, r.KeepOffNotes[0], "far.geojson: 1 of 2 features")
	for i, k := range j.KeepOffs[:2] {
		assert.GreaterOrEqual(t, spray.Distance(k.Geometry, j.Ground.Spray), k.SetBack)
		assert.InDelta(t, k.SetBack, j.Ground.KeptOff[i].Nearest, 0.1)
		assert.GreaterOrEqual(t, spray.Distance(k.Geometry, j.Plan.Cover.Swaths), k.SetBack)
	}
	assert.InEpsilon(t, math.Pi*50*50, j.Ground.KeptOff[0].Area, 0.003)
}

// What stands in the files, rounded to seven decimals, still keeps off.
func TestWrittenGroundKeepsOff(t *testing.T) {
	set := settings()
	set.KeepOffs = []handoff.KeepOff{keepOff(orb.Point{-101.59901234, 35.90212345}, 30)}
	r, err := handoff.Run(zones(), set)
	require.NoError(t, err)
	j := r.Jobs[0]
	for _, f := range append(r.Ground(), r.Swaths()...) {
		mp := f.Geometry.(orb.MultiPolygon)
		for _, polygon := range mp {
			for _, ring := range polygon {
				for i, p := range ring {
					ring[i] = orb.Point{math.Round(p[0]*1e7) / 1e7, math.Round(p[1]*1e7) / 1e7}
				}
			}
		}
		assert.GreaterOrEqual(t, spray.Distance(j.KeepOffs[0].Geometry, j.Frame.ForwardPolygons(mp)), 30.0)
		assert.NoError(t, planar.Valid(mp))
	}
}

func TestGridHoldsTheGroundAndNoKeepOff(t *testing.T) {
	set := settings()
	set.KeepOffs, set.Cell, set.Spray.Sections = []handoff.KeepOff{keepOff(orb.Point{-101.599, 35.902}, 30)}, 2, 12
	r, err := handoff.Run(zones(), set)
	require.NoError(t, err)
	rate, err := spray.ParseRate("140L/ha")
	require.NoError(t, err)
	p, err := r.Prescription(handoff.Mix{Rate: &rate}, handoff.TaskForm{Version: 4})
	require.NoError(t, err)
	j, g := r.Jobs[0], p.Fields[0].Grid
	require.NotNil(t, g)
	var sum float64
	for i, code := range g.Codes {
		west, south := g.West+float64(i%g.Columns)*g.CellEast, g.South+float64(i/g.Columns)*g.CellNorth
		cell := j.Frame.ForwardPolygons(orb.MultiPolygon{box(west, south, west+g.CellEast, south+g.CellNorth)})
		middle := geo.Bound(cell).Center()
		if code == taskdata.Treat {
			sum += geo.Area(cell)
			require.GreaterOrEqual(t, spray.Distance(j.KeepOffs[0].Geometry, cell), 30.0)
			require.LessOrEqual(t, west+g.CellEast, -101.594+1e-9, "past the field")
			require.LessOrEqual(t, south+g.CellNorth, 35.904+1e-9, "past the field")
			require.GreaterOrEqual(t, west, -101.6)
			require.GreaterOrEqual(t, south, 35.9)
		} else if geo.Contains(j.Ground.Spray, middle) && south+g.CellNorth < 35.904 {
			// A section of 2 m may reach over the cell into the set-back, along 2 m of a cell.
			require.Less(t, spray.Distance(j.KeepOffs[0].Geometry, cell), 30.1+2*math.Sqrt2)
		}
	}
	// Cells on the border are half in, half out; those beside the keep-off and past the
	// field are out.
	assert.InEpsilon(t, geo.Area(j.Ground.Spray), sum, 0.015)
	assert.InEpsilon(t, sum, j.Figures().Sprayed, 1e-9)
	assert.InDelta(t, geo.Area(j.Ground.Spray), j.Figures().Treatable+j.Figures().Left, 1e-6)
	assert.InDelta(t, j.Figures().Sprayed, j.Figures().Treatable+j.Figures().Beyond, 1e-6)
	cell := j.Frame.ForwardPolygons(orb.MultiPolygon{box(g.West, g.South, g.West+g.CellEast, g.South+g.CellNorth)})
	assert.InDelta(t, 4, geo.Area(cell), 0.001, "square cells of 2 m")

	set.Cell = 0.1
	_, err = handoff.Run(zones(), set)
	assert.ErrorContains(t, err, "choose cells above")
	none, err := r.Prescription(handoff.Mix{}, handoff.TaskForm{Version: 4})
	require.NoError(t, err)
	assert.Nil(t, none, "no rate, no task data")
}

// Passes laid off from the task data's A–B line, a swath apart, are those planned.
func TestPassesLieOnTheLineOfTheTaskData(t *testing.T) {
	set := settings()
	heading := 30.0
	set.Spray.Heading = &heading
	r, err := handoff.Run(zones(), set)
	require.NoError(t, err)
	rate, err := spray.ParseRate("140L/ha")
	require.NoError(t, err)
	p, err := r.Prescription(handoff.Mix{Rate: &rate}, handoff.TaskForm{Version: 4, Guidance: true})
	require.NoError(t, err)
	j, line := r.Jobs[0], p.Fields[0].AB
	require.NotNil(t, line)
	assert.Equal(t, "A-B 30.0 deg", line.Name)
	a, b := j.Frame.Forward(line.A), j.Frame.Forward(line.B)
	length := math.Hypot(b[0]-a[0], b[1]-a[1])
	assert.InDelta(t, heading, math.Atan2(b[0]-a[0], b[1]-a[1])*180/math.Pi, 1e-6)
	require.Greater(t, len(j.Plan.Passes), 5)
	for _, pass := range j.Plan.Passes {
		for _, q := range []orb.Point{pass.From, pass.To} {
			beside := ((b[0]-a[0])*(q[1]-a[1]) - (b[1]-a[1])*(q[0]-a[0])) / length / set.Spray.Swath
			assert.InDelta(t, math.Round(beside), beside, 1e-4, "pass %d", pass.Number)
		}
	}
}

func TestWhatToThinkOver(t *testing.T) {
	set := settings()
	set.Spray.Swath = 100
	split := func(share float64) []geo.Feature {
		all, border := advised("spot spray", zones()), -101.6+0.006*share
		all[0].Geometry, all[1].Geometry = box(-101.6, 35.9, border, 35.904), box(border, 35.9, -101.594, 35.904)
		return all
	}
	const simpler = " of the field would be sprayed: treating all of it may be simpler"
	for share, said := range map[float64]bool{0.5: false, 0.7: true, 0.89: true, 0.91: false} {
		r, err := handoff.Run(split(share), set)
		require.NoError(t, err)
		assert.Equal(t, said, strings.Contains(strings.Join(r.Notes, "; "), simpler), "%g of the field is treat zone: %s", share, r.Notes)
	}
	r, err := handoff.Run(split(1)[:1], set)
	require.NoError(t, err)
	assert.Empty(t, r.Notes, "all of it is treated already")
	set.Margin = spray.Margin{Extra: 61}
	r, err = handoff.Run(split(0.89), set)
	require.NoError(t, err)
	assert.Equal(t, "A: 100 %"+simpler, r.Notes[0], "what is past the edge is not of the field")
	set.Margin = spray.Margin{}

	small := advised("spot spray", zones())
	small[0].Geometry, small[1].Geometry = box(-101.6, 35.9, -101.5999, 35.904), box(-101.5999, 35.9, -101.594, 35.904)
	r, err = handoff.Run(small, set)
	require.NoError(t, err)
	require.Len(t, r.Notes, 1)
	assert.Contains(t, r.Notes[0], "narrower sections")
}

func TestRefusals(t *testing.T) {
	cases := map[string]struct {
		change func([]geo.Feature, *handoff.Settings) []geo.Feature
		want   string
	}{
		"no zones":         {func([]geo.Feature, *handoff.Settings) []geo.Feature { return nil }, "no zones"},
		"no zone property": {func(f []geo.Feature, _ *handoff.Settings) []geo.Feature { f[0].Properties = nil; return f }, "want zones.geojson"},
		"a name without end": {func(f []geo.Feature, _ *handoff.Settings) []geo.Feature {
			f[1].Properties = geo.Properties{{Name: "zone", Value: "clear"}, {Name: "field", Value: strings.Repeat("A", 10_001)}}
			return f
		}, "feature 2: its property field is longer than 10000 bytes"},
		"a point":          {func(f []geo.Feature, _ *handoff.Settings) []geo.Feature { f[0].Geometry = orb.Point{}; return f }, "no polygon"},
		"nothing to treat": {func(f []geo.Feature, _ *handoff.Settings) []geo.Feature { return f[1:] }, "no treat zone"},
		"all kept off": {func(f []geo.Feature, s *handoff.Settings) []geo.Feature {
			s.KeepOffs = []handoff.KeepOff{keepOff(orb.Point{-101.599, 35.902}, 900)}
			return f
		}, "no ground is left to spray"},
		"slivers left": {func(f []geo.Feature, s *handoff.Settings) []geo.Feature {
			s.KeepOffs = []handoff.KeepOff{keepOff(orb.Point{-101.599, 35.902}, 238)}
			return f
		}, "no ground is left to spray"},
		"a day that is none": {func(f []geo.Feature, s *handoff.Settings) []geo.Feature { s.SprayOn = "Friday"; return f }, "want YYYY-MM-DD"},
		"before the count":   {func(f []geo.Feature, s *handoff.Settings) []geo.Feature { s.SprayOn = "2026-07-01"; return f }, "before the count"},
		"no swath":           {func(f []geo.Feature, s *handoff.Settings) []geo.Feature { s.Spray.Swath = 0; return f }, "swath"},
	}
	for name, tc := range cases {
		t.Run(name, func(t *testing.T) {
			s := settings()
			_, err := handoff.Run(tc.change(zones(), &s), s)
			assert.ErrorContains(t, err, tc.want)
		})
	}
}

func TestRecords(t *testing.T) {
	a := handoff.Applied{Date: "2026-07-17", Field: "A, north", Area: 31.9, AreaUnit: "ac", Who: "somebody", Wind: "5 mph SW",
		Products: []handoff.Dose{{Product: "product A", Amount: "95.8 lb", Number: "0-0"}}}
	require.NoError(t, a.Validate())
	table, err := a.AppendCSV(nil)
	require.NoError(t, err)
	assert.Equal(t, "date,start,end,field,area,area_unit,products,carrier,wind,weather,who,licence,notes\n"+
		"2026-07-17,,,\"A, north\",31.9,ac,product A 0-0: 95.8 lb,,5 mph SW,,somebody,,\n", string(table))
	_, err = a.AppendCSV(table)
	assert.ErrorContains(t, err, "already")
	_, err = a.AppendCSV([]byte("a,b\n"))
	assert.ErrorContains(t, err, "other columns")
	b := a
	b.Date = "2026-07-18"
	table, err = b.AppendCSV(bytes.TrimRight(table, "\n"))
	require.NoError(t, err)
	assert.Equal(t, 3, bytes.Count(table, []byte("\n")))
	for name, change := range map[string]func(*handoff.Applied){
		"date": func(a *handoff.Applied) { a.Date = "17 July" }, "area": func(a *handoff.Applied) { a.Area = math.NaN() },
		"unit": func(a *handoff.Applied) { a.AreaUnit = "sqm" }, "product": func(a *handoff.Applied) { a.Products = nil },
		"who": func(a *handoff.Applied) { a.Who = "" }, "amount": func(a *handoff.Applied) { a.Products = []handoff.Dose{{Product: "x"}} },
	} {
		c := a
		change(&c)
		assert.Error(t, c.Validate(), name)
	}
}
