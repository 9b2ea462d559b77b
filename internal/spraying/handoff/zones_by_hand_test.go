package handoff_test

import (
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/spraying/handoff"
)

// Zones that were edited by hand: pieces that lie on one another are ground once, and
// a pond over the edge is none.
func TestZonesEditedByHand(t *testing.T) {
	plain, err := handoff.Run(zones(), settings())
	require.NoError(t, err)
	treat := plain.Jobs[0].Ground.Treat

	twice := zones()
	twice[0].Geometry = orb.MultiPolygon{box(-101.6, 35.9, -101.5985, 35.904), box(-101.5995, 35.9, -101.598, 35.904)}
	r, err := handoff.Run(twice, settings())
	require.NoError(t, err)
	assert.InEpsilon(t, treat, r.Jobs[0].Ground.Treat, 1e-6)

	pond := zones()
	pond[0].Geometry = orb.Polygon{pond[0].Geometry.(orb.Polygon)[0], box(-101.6005, 35.901, -101.5995, 35.902)[0]}
	r, err = handoff.Run(pond, settings())
	require.NoError(t, err)
	assert.InEpsilon(t, treat*15/16, r.Jobs[0].Ground.Treat, 1e-6)
	assert.GreaterOrEqual(t, geo.Bound(r.Ground()[0].Geometry.(orb.MultiPolygon)).Min[0], -101.6000001)
}

// A program may have given the days of zones a time in UTC: the day is that of the
// field, which goes by its longitude.
func TestDaysWithATimeAreThoseOfTheField(t *testing.T) {
	edited := zones()
	for i, p := range edited {
		for k, property := range p.Properties {
			if property.Name == "date" {
				edited[i].Properties[k].Value = "2026-07-16T03:00:00Z" // a quarter past eight in the evening before
			}
		}
		edited[i].Properties = append(edited[i].Properties, geo.Property{Name: "good_until", Value: "2026-07-22T03:00:00Z"})
	}
	set := settings()
	set.GoodFor = 0
	r, err := handoff.Run(edited, set)
	require.NoError(t, err)
	assert.Equal(t, "2026-07-15", r.Jobs[0].Date)
	assert.Equal(t, "2026-07-15", r.Jobs[0].Days.Counted)
	assert.Equal(t, "2026-07-21", r.Jobs[0].Days.GoodUntil)
}
