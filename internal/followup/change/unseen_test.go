package change_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/followup/change"
)

// eastUnseen is a visit whose stops lie some metres from all ground east of a line.
func eastUnseen(v change.Visit, east, distance float64) change.Visit {
	d := v.Surface.Distance
	d.Values = append([]float64(nil), d.Values...)
	for i := range d.Values {
		if x, _ := d.Node(i%d.Cols, i/d.Cols); x > east {
			d.Values[i] = distance
		}
	}
	v.Surface.Distance = d
	return v
}

// Red ground that had no stop of the next visit near it is not gone, nor is a hotspot there. Of a
// patch that had some, the parts are told apart by their areas. Ground that is red still is held,
// with a stop near it or without.
func TestRedGroundWithoutAStopNearIsNotGone(t *testing.T) {
	patch := spot{150, 0, 40}
	const area = math.Pi * 40 * 40
	for name, c := range map[string]struct {
		after              change.Visit
		unseen, gone, held float64
		event              change.Event
	}{
		"all of it":        {eastUnseen(visit(t, 7), 0, 60), area, 0, 0, change.Lost},
		"half of it":       {eastUnseen(visit(t, 7), 150, 60), area / 2, area / 2, 0, change.Lost},
		"none of it":       {eastUnseen(visit(t, 7), 200, 60), 0, area, 0, change.Ended},
		"within reach":     {eastUnseen(visit(t, 7), 0, 49.9), 0, area, 0, change.Ended},
		"red there still":  {eastUnseen(visit(t, 7, patch), 0, 60), 0, 0, area, change.Stayed},
		"half red unseen":  {eastUnseen(visit(t, 7, spot{150, 0, 40 / math.Sqrt2}), 0, 60), area / 2, 0, area / 2, change.Stayed},
		"the half between": {eastUnseen(visit(t, 7, spot{150, 0, 40 / math.Sqrt2}), 200, 60), 0, 0, area / 2, change.Shrank},
	} {
		t.Run(name, func(t *testing.T) {
			before := visit(t, 0, patch)
			o, err := change.Lay(field(), before.Map, c.after.Map, nil, c.after.Unseen(before))
			require.NoError(t, err)
			const cells = 40 * cell * cell // along the line of the reach
			assert.InDelta(t, c.unseen, o.Area(change.NotSeen), cells)
			assert.InDelta(t, c.gone, o.Area(change.Gone), cells)
			assert.InDelta(t, c.held, o.Area(change.Held), cells)
			tracks, err := change.Track(field(), []change.Visit{before, c.after})
			require.NoError(t, err)
			require.Len(t, tracks.Steps, 1)
			s := tracks.Steps[0]
			assert.Equal(t, c.event, s.Event)
			assert.InDelta(t, o.Area(change.NotSeen), s.Unseen, 1e-6)
			assert.Equal(t, c.held == 0 || c.unseen > 0, math.IsNaN(s.AreaRate), "how fast an area goes that was not seen, nobody knows")
		})
	}
}

// A few stops far from one another reach far, but do not see what the visit before found from near.
func TestGroundIsSeenAsCloselyAsBefore(t *testing.T) {
	before, after := visit(t, 0, spot{150, 0, 40}), eastUnseen(visit(t, 7), 0, 60)
	after.Reach = 600
	assert.NotEmpty(t, after.Unseen(before))
	before.Reach = 600
	assert.Empty(t, after.Unseen(before))
	assert.Empty(t, after.Unseen(visit(t, 0)), "without treat ground nothing is asked")
}
