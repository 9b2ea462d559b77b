package spray_test

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/spraying/spray"
)

// box is an upright rectangle, metres.
func box(x0, y0, x1, y1 float64) orb.MultiPolygon {
	return orb.MultiPolygon{{{{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}, {x0, y0}}}}
}

// turn rotates ground clockwise about the origin.
func turn(mp orb.MultiPolygon, degrees float64) orb.MultiPolygon {
	sin, cos := math.Sincos(degrees * math.Pi / 180)
	out := make(orb.MultiPolygon, len(mp))
	for i, polygon := range mp {
		for _, ring := range polygon {
			var r orb.Ring
			for _, p := range ring {
				r = append(r, orb.Point{p[0]*cos + p[1]*sin, -p[0]*sin + p[1]*cos})
			}
			out[i] = append(out[i], r)
		}
	}
	return out
}

func plan(t testing.TB, z spray.Zone, s spray.Settings) (*spray.Target, *spray.Plan) {
	t.Helper()
	g, err := spray.NewTarget(z)
	require.NoError(t, err)
	p, err := spray.NewPlan(g, s)
	require.NoError(t, err)
	return g, p
}

func at(degrees float64) *float64 { return &degrees }

// A rectangle a wide and b long takes ⌈a/w⌉ passes of length b along b, ⌈a/w⌉ − 1
// turns of w each: plain geometry.
func TestRectanglesHaveTheAnalyticPasses(t *testing.T) {
	cases := []struct {
		name           string
		across, along  float64
		swath          float64
		heading        *float64
		tilt           float64
		passes         int
		on, off, total float64
	}{
		{"whole swaths north", 240, 500, 24, at(0), 0, 10, 5000, 9 * 24, 240 * 500},
		{"whole swaths, tilted", 240, 500, 24, at(33), 33, 10, 5000, 9 * 24, 240 * 500},
		{"a part of a swath left", 250, 500, 24, at(0), 0, 11, 5500, 10 * 24, 264 * 500},
		{"the heading runs along the long side", 240, 500, 24, nil, 0, 10, 5000, 9 * 24, 240 * 500},
		{"the heading, tilted by a part of a degree", 240, 500, 24, nil, 17.3, 10, 5000, 9 * 24, 240 * 500},
		{"one pass", 20, 300, 24, at(0), 0, 1, 300, 0, 24 * 300},
		{"against the grain", 240, 500, 24, at(90), 0, 21, 21 * 240, 20 * 24, 21 * 24 * 240},
	}
	for _, tc := range cases {
		t.Run(tc.name, func(t *testing.T) {
			field := turn(box(-tc.across/2, -tc.along/2, tc.across/2, tc.along/2), tc.tilt)
			_, p := plan(t, spray.Zone{Treat: field, Field: field}, spray.Settings{Swath: tc.swath, Heading: tc.heading})
			assert.Len(t, p.Passes, tc.passes)
			assert.Equal(t, tc.passes-1, p.Turns)
			// A pass may end up to a millimetre beyond, on the lattice of switches.
			assert.InDelta(t, tc.on, p.On, 0.003*float64(tc.passes))
			assert.InDelta(t, tc.off, p.Off, 0.003*float64(tc.passes))
			assert.InDelta(t, tc.total, p.Cover.Sprayed, 0.003*float64(tc.passes)*tc.swath)
			assert.Zero(t, p.Cover.Missed)
			assert.Zero(t, p.Cover.Overlap)
			assert.Empty(t, p.Cover.Untreatable)
			assert.InDelta(t, 0, p.Cover.Beyond-(tc.total-tc.across*tc.along), 0.003*float64(tc.passes)*tc.swath)
		})
	}
}

// A disc of radius 200 m in swaths of 24 m: ⌈400/24⌉ = 17 passes; each is on over
// the widest chord in it.
func TestADiscHasTheAnalyticLength(t *testing.T) {
	const r, w, n = 200.0, 24.0, 7200
	var ring orb.Ring
	for k := range n {
		a := 2 * math.Pi * float64(k) / n
		ring = append(ring, orb.Point{r * math.Cos(a), r * math.Sin(a)})
	}
	disc := orb.MultiPolygon{{append(ring, ring[0])}}
	_, p := plan(t, spray.Zone{Treat: disc, Field: disc}, spray.Settings{Swath: w, Heading: at(40)})
	require.Len(t, p.Passes, 17)
	nearest := math.Inf(1)
	for k := range 9 { // the nine places in the slack that are tried
		start := -r - (17*w-2*r)*float64(k)/8
		var sum float64
		for lane := range 17 {
			low, high := start+float64(lane)*w, start+float64(lane+1)*w
			y := max(0, low, -high) // closest to the middle
			sum += 2 * math.Sqrt(max(0, r*r-y*y))
		}
		nearest = min(nearest, math.Abs(sum-p.On))
	}
	assert.Less(t, nearest, 0.1)
}

func TestSwitchesAreThrownEarlierByLagTimesSpeed(t *testing.T) {
	field := box(0, 0, 48, 300)
	treat := append(box(0, 50, 48, 100), box(0, 200, 48, 260)...)
	_, p := plan(t, spray.Zone{Treat: treat, Field: field}, spray.Settings{Swath: 24, Heading: at(0), Speed: 5, Lag: 1.5})
	require.Len(t, p.Passes, 2)
	// To: from east to west, as left of north is west: the first lane is the eastern one.
	out, back := p.Passes[0], p.Passes[1]
	require.Len(t, out.Switches, 4)
	for i, y := range []float64{50, 100, 200, 260} {
		assert.Equal(t, i%2 == 0, out.Switches[i].On)
		assert.InDelta(t, y, out.Switches[i].At[1], 0.002)
		assert.InDelta(t, y-7.5, out.Switches[i].Thrown[1], 0.002)
		assert.InDelta(t, y, back.Switches[3-i].At[1], 0.002)
		assert.InDelta(t, y+7.5, back.Switches[3-i].Thrown[1], 0.002)
	}
	assert.InDelta(t, 2*110, p.On, 0.01)
	assert.InDelta(t, 2*100+24, p.Off, 0.01)
	assert.InDelta(t, (220+224)/5.0, p.Seconds, 0.01)
}

func TestShortGapsAreBridgedButNotOverKeepOffs(t *testing.T) {
	field := box(0, 0, 24, 300)
	treat := append(box(0, 50, 24, 100), box(0, 108, 24, 200)...)
	set := spray.Settings{Swath: 24, Heading: at(0), Bridge: 10}
	_, p := plan(t, spray.Zone{Treat: treat, Field: field}, set)
	assert.Len(t, p.Passes[0].Switches, 2)
	assert.InDelta(t, 150, p.On, 0.01)
	assert.InDelta(t, 8*24, p.Cover.Beyond, 0.1)

	hive := spray.KeepOff{Name: "hive", Geometry: orb.Point{12, 104}, SetBack: 2}
	_, p = plan(t, spray.Zone{Treat: treat, Field: field, KeepOffs: []spray.KeepOff{hive}}, set)
	assert.Len(t, p.Passes[0].Switches, 4)
	assert.InDelta(t, 142, p.On, 0.02, "a gap with a keep-off in it stays off")
}

func TestShortRunsAreLengthenedOrListed(t *testing.T) {
	field := box(0, 0, 24, 300)
	set := spray.Settings{Swath: 24, Heading: at(0), MinLength: 20}
	_, p := plan(t, spray.Zone{Treat: box(0, 100, 24, 104), Field: field}, set)
	assert.InDelta(t, 20, p.On, 0.01)
	assert.InDelta(t, 92, p.Passes[0].From[1], 0.01)
	assert.Zero(t, p.Cover.Left)

	pools := []spray.KeepOff{{Name: "south pool", Geometry: box(0, 80, 24, 95)[0]}, {Name: "north pool", Geometry: box(0, 109, 24, 150)[0]}}
	g, err := spray.NewTarget(spray.Zone{Treat: append(box(0, 100, 24, 104), box(0, 200, 24, 250)...), Field: field, KeepOffs: pools})
	require.NoError(t, err)
	p, err = spray.NewPlan(g, set)
	require.NoError(t, err)
	assert.InDelta(t, 50, p.On, 0.01)
	require.Len(t, p.Cover.Untreatable, 1)
	assert.Equal(t, spray.TooShort, p.Cover.Untreatable[0].Why)
	assert.InDelta(t, 4*24, p.Cover.Untreatable[0].Area, 0.01)
	assert.InDelta(t, 102, p.Cover.Untreatable[0].Point[1], 2)
	assert.Zero(t, p.Cover.Missed)
}

func TestOverrun(t *testing.T) {
	field := box(0, 0, 30, 300) // a swath and a quarter
	zone := spray.Zone{Treat: field, Field: field}
	_, p := plan(t, zone, spray.Settings{Swath: 24, Heading: at(0)})
	assert.InDelta(t, 18*300, p.Cover.OutOfField, 0.1)
	assert.Zero(t, p.Cover.Left)

	none := 0.0
	_, p = plan(t, zone, spray.Settings{Swath: 24, Heading: at(0), Overrun: &none})
	assert.InDelta(t, 0, p.Cover.OutOfField, 0.1)
	assert.InDelta(t, 6*300, p.Cover.Left, 0.1, "what no whole boom can do is listed")
	require.NotEmpty(t, p.Cover.Untreatable)
	assert.Equal(t, spray.TooNarrow, p.Cover.Untreatable[0].Why)

	_, p = plan(t, zone, spray.Settings{Swath: 24, Sections: 4, Heading: at(0), Overrun: &none})
	assert.InDelta(t, 0, p.Cover.OutOfField, 0.1)
	assert.InDelta(t, 0, p.Cover.Left, 0.1, "sections of 6 m can")
}

func TestNothingLeftIsAnError(t *testing.T) {
	g, err := spray.NewTarget(spray.Zone{Treat: box(0, 0, 10, 10), Field: box(0, 0, 50, 50),
		KeepOffs: []spray.KeepOff{{Name: "house", Geometry: orb.Point{5, 5}, SetBack: 30}}})
	require.NoError(t, err)
	assert.InDelta(t, 100, g.KeptOff[0].Area, 1e-6)
	assert.True(t, math.IsInf(g.KeptOff[0].Nearest, 1))
	_, err = spray.NewPlan(g, spray.Settings{Swath: 24})
	assert.ErrorIs(t, err, spray.ErrNothing)
}

func TestSettingsThatCannotBeDriven(t *testing.T) {
	nan := math.NaN()
	for name, s := range map[string]spray.Settings{
		"no swath": {}, "negative": {Swath: -3}, "not a number": {Swath: nan}, "heading": {Swath: 24, Heading: &nan},
		"sections": {Swath: 24, Sections: 500}, "speed": {Swath: 24, Speed: nan}, "lag": {Swath: 24, Lag: -1},
		"bridge": {Swath: 24, Bridge: nan}, "overrun": {Swath: 24, Overrun: &nan}, "turn": {Swath: 24, TurnTime: -1},
	} {
		assert.Error(t, s.Validate(), name)
	}
}

func TestMarginShowsItsParts(t *testing.T) {
	m := spray.Margin{StopError: 4.9, SprayerError: 1, Growth: 0.5, Days: 3, Extra: 2}
	assert.InDelta(t, math.Sqrt(4.9*4.9+1), m.Position(), 1e-12)
	assert.InDelta(t, 1.5, m.Spread(), 1e-12)
	g, err := spray.NewTarget(spray.Zone{Treat: box(-50, -50, 50, 50), Field: box(-500, -500, 500, 500), Margin: m})
	require.NoError(t, err)
	d := m.Total()
	assert.InDelta(t, 100*100+400*d+math.Pi*d*d, g.Grown, 0.002*math.Pi*d*d, "Steiner's formula, chords short by 0.1 % of d")
	assert.InDelta(t, geo.Area(g.Spray), g.Grown, 1e-6)
}
