package spray_test

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/geocoris/geocoris/internal/spraying/spray"
	"github.com/geocoris/geocoris/internal/testkit"
)

// A pass over a keep-off becomes two, and the way between them leads round it.
func TestAFlightLeadsRoundAKeepOff(t *testing.T) {
	field := box(-12, 0, 12, 400)
	g, p := plan(t, spray.Zone{Treat: field, Field: field, KeepOffs: []spray.KeepOff{{Name: "mast", Geometry: orb.Point{2, 200}, SetBack: 30}}}, spray.Settings{Swath: 24, Heading: at(0)})
	legs, blocked, err := p.Flight(g)
	require.NoError(t, err)
	assert.Zero(t, blocked)
	require.Len(t, legs, 3)
	assert.Equal(t, []bool{false, true, false}, []bool{legs[0].Turn, legs[1].Turn, legs[2].Turn})
	around := legs[1].Line
	assert.Equal(t, legs[0].Line[1], around[0])
	assert.Equal(t, legs[2].Line[0], around[len(around)-1])
	assert.Greater(t, len(around), 3)
	side := 0.0
	for _, q := range around {
		side = min(side, q[0])
	}
	assert.Less(t, side, -29.0, "on the west, the shorter way")
	assert.Greater(t, side, -33.0)

	// All round is closed: no way leads out.
	moat := orb.Polygon{orb.Ring(box(-60, 100, 60, 300)[0][0]), {{-50, 110}, {-50, 290}, {50, 290}, {50, 110}, {-50, 110}}}
	g, p = plan(t, spray.Zone{Treat: field, Field: field, KeepOffs: []spray.KeepOff{{Name: "moat", Geometry: moat, SetBack: 1}}}, spray.Settings{Swath: 24, Heading: at(0)})
	legs, blocked, err = p.Flight(g)
	require.NoError(t, err)
	assert.Equal(t, 2, blocked)
	require.Len(t, legs, 3)
	for _, leg := range legs {
		assert.False(t, leg.Turn)
	}
}

// No leg enters a keep-off, legs follow one another, and every pass is in them, whatever
// the field. Looked at by points along each leg.
func TestFlightsStayOutOfKeepOffs(t *testing.T) {
	legsSeen, bent := 0, 0
	testkit.Property(t, func(t *rapid.T) {
		z := zoneSet(t)
		g, err := spray.NewTarget(z)
		require.NoError(t, err)
		p, err := spray.NewPlan(g, spray.Settings{Swath: rapid.Float64Range(8, 40).Draw(t, "swath"), Sections: rapid.SampledFrom([]int{1, 1, 6}).Draw(t, "sections"), Heading: at(rapid.Float64Range(0, 360).Draw(t, "heading"))})
		if err != nil {
			return
		}
		legs, blocked, err := p.Flight(g)
		require.NoError(t, err)
		var last orb.Point
		flown := map[int]bool{}
		for i, leg := range legs {
			if blocked == 0 && i > 0 {
				require.InDelta(t, 0, math.Hypot(leg.Line[0][0]-last[0], leg.Line[0][1]-last[1]), 0.01)
			}
			last = leg.Line[len(leg.Line)-1]
			if leg.Turn {
				bent += len(leg.Line) - 2
			} else {
				flown[leg.Pass] = true
			}
			legsSeen++
			for k := 1; k < len(leg.Line); k++ {
				for n := range 41 {
					f := float64(n) / 40
					q := orb.Point{leg.Line[k-1][0] + f*(leg.Line[k][0]-leg.Line[k-1][0]), leg.Line[k-1][1] + f*(leg.Line[k][1]-leg.Line[k-1][1])}
					for _, off := range z.KeepOffs {
						require.Greater(t, spray.Distance(off.Geometry, orb.MultiPolygon{{{q, q, q, q}}}), off.SetBack-0.1, "%v flies over %v", leg, off.Geometry)
					}
				}
			}
		}
		if len(z.KeepOffs) == 0 {
			require.Zero(t, blocked)
			require.Len(t, flown, len(p.Passes))
		}
	})
	t.Logf("%d legs, %d bends", legsSeen, bent)
	assert.Greater(t, bent, testkit.Few(10, 3))
}
