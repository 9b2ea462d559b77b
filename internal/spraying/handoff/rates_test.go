package handoff_test

import (
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/geometry/boundary"
	"github.com/geocoris/geocoris/internal/spraying/handoff"
	"github.com/geocoris/geocoris/internal/spraying/spray"
	"github.com/geocoris/geocoris/internal/testkit"
)

// Rate × ground adds up to the carrier of the job, for fields with parts, holes, neighbours
// and keep-offs, as swaths and as cells; and sprayed ground and the rest share none.
func TestRatesAddUpToTheCarrier(t *testing.T) {
	frame, err := geo.NewFrame(orb.Point{-101.6, 35.9})
	require.NoError(t, err)
	jobs, grids := 0, 0
	testkit.Property(t, func(rt *rapid.T) {
		features, _ := drawnFarm(rt, frame)
		outlines, err := boundary.Read(features, boundary.Settings{Inner: boundary.InnerHole})
		if err != nil {
			return
		}
		var fields []geo.Feature
		for _, f := range outlines.Fields {
			fields = append(fields, geo.Feature{Geometry: f.Boundary, Properties: geo.Properties{{Name: "zone", Value: "treat"}, {Name: "field", Value: f.Name}, {Name: "date", Value: "2026-07-15"}}})
		}
		set := settings()
		set.Spray = spray.Settings{Swath: 24, Sections: rapid.SampledFrom([]int{1, 6}).Draw(rt, "sections")}
		set.Closed = outlines.Closed
		if rapid.Bool().Draw(rt, "grid") {
			set.Cell = 8
			grids++
		}
		if rapid.Bool().Draw(rt, "hives") {
			set.KeepOffs = []handoff.KeepOff{keepOff(frame.Inverse(orb.Point{20, 30}), rapid.Float64Range(0, 60).Draw(rt, "set-back"))}
		}
		r, err := handoff.Run(fields, set)
		if err != nil {
			return
		}
		mix := handoff.Mix{Rate: &spray.Quantity{Value: 15, Unit: "gal/ac", Base: 15 * 9.353956}}
		rates, err := r.Rates(mix)
		require.NoError(rt, err)
		carrier, area := map[string]float64{}, map[string]float64{}
		for _, f := range rates {
			v, _ := f.Properties.Get("rate")
			field, _ := f.Properties.Get("field")
			ground := frame.ForwardPolygons(f.Geometry.(orb.MultiPolygon))
			carrier[field.(string)] += v.(float64) * geo.Area(ground)
			area[field.(string)] += geo.Area(ground)
		}
		for _, j := range r.Jobs {
			jobs++
			f := j.Figures()
			// Fields of one farm are measured in one frame here, and in their own there.
			require.InEpsilon(rt, 15*f.Sprayed, carrier[j.Field], 2e-4, "%s", j.Field)
			require.InDelta(rt, j.Area+f.OutOfField, area[j.Field], 2e-4*j.Area+1, "the field, nothing of it twice, and what is sprayed past it")
		}
	})
	t.Logf("%d jobs, %d with grids", jobs, grids)
	assert.Greater(t, jobs, testkit.Draws(70))
	assert.Greater(t, grids, testkit.Draws(20))
}

// Without a rate it is on or off, and the name has the unit.
func TestRatesWithoutARate(t *testing.T) {
	r, err := handoff.Run(zones(), settings())
	require.NoError(t, err)
	rates, err := r.Rates(handoff.Mix{})
	require.NoError(t, err)
	require.Len(t, rates, 2)
	for i, want := range []int64{1, 0} {
		on, _ := rates[i].Properties.Get("on")
		assert.Equal(t, want, on)
		_, there := rates[i].Properties.Get("rate")
		assert.False(t, there)
		numbers := 0
		for _, p := range rates[i].Properties {
			switch p.Value.(type) {
			case int64, float64:
				numbers++
			}
			assert.LessOrEqual(t, len(p.Name), 10)
		}
		assert.Equal(t, 1, numbers, "one number, so that nothing is mixed up")
	}
	assert.Equal(t, "on_off", handoff.Mix{}.RateName())
	for unit, want := range map[string]string{"L/ha": "rate_l_ha", "gal/ac": "rate_gal_ac"} {
		assert.Equal(t, want, handoff.Mix{Rate: &spray.Quantity{Value: 1, Unit: unit}}.RateName())
	}
}

// Cells whose outline is not theirs are an error, and no file that says 0 in silence.
func TestRatesOfCellsThatGoWrongAreAnError(t *testing.T) {
	set := settings()
	set.Cell = 20
	r, err := handoff.Run(zones(), set)
	require.NoError(t, err)
	_, err = r.Rates(handoff.Mix{})
	require.NoError(t, err)
	r.Jobs[0].Grid.On++
	_, err = r.Rates(handoff.Mix{})
	assert.ErrorContains(t, err, "A: the outline of the cells that are on has")
}

// Rates and swaths have no more points than were asked for, as the outlines have, and rate ×
// ground stays near what it was, which the figures tell.
func TestRatesKeepToTheirPoints(t *testing.T) {
	count := func(features []geo.Feature) (n int, on float64) {
		for _, f := range features {
			for _, polygon := range f.Geometry.(orb.MultiPolygon) {
				for _, ring := range polygon {
					n += len(ring)
				}
			}
		}
		return n, geo.Area(features[0].Geometry.(orb.MultiPolygon))
	}
	heading := 30.0
	set := settings()
	set.Spray = spray.Settings{Swath: 24, Sections: 12, Heading: &heading}
	whole, err := handoff.Run(zones(), set)
	require.NoError(t, err)
	rates, err := whole.Rates(handoff.Mix{})
	require.NoError(t, err)
	were, on := count(rates)
	require.Greater(t, were, 100)
	set.MaxPoints = 80
	r, err := handoff.Run(zones(), set)
	require.NoError(t, err)
	rates, err = r.Rates(handoff.Mix{})
	require.NoError(t, err)
	n, fewer := count(rates)
	assert.LessOrEqual(t, n, 80)
	assert.Equal(t, handoff.Points{Before: were, After: n}, r.Jobs[0].Fewer.Points)
	assert.InEpsilon(t, on, fewer, 0.05)
	assert.InDelta(t, fewer/on, r.Jobs[0].Figures().Sprayed/whole.Jobs[0].Figures().Sprayed, 1e-6)
	n, _ = count(r.Swaths())
	assert.LessOrEqual(t, n, 80)

	set.Cell = 20 // cells stay as they are, since their grid lies beside them
	_, err = handoff.Run(zones(), set)
	assert.EqualError(t, err, "A: --max-points 80: the cells that are on and the rest of the field have 101 points: 101 points do, or choose larger cells")
	set = settings()
	set.Spray, set.MaxPoints = spray.Settings{Swath: 24, Sections: 12, Heading: &heading}, 12
	_, err = handoff.Run(zones(), set)
	assert.ErrorContains(t, err, "A: --max-points 12: ")
	assert.Regexp(t, `: \d+ points do, or have fewer sections$`, err.Error())
	assert.ErrorContains(t, err, "too much of it would move: ")
}
