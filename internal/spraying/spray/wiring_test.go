package spray_test

import (
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/spraying/spray"
)

// What is sprayed beside the spray ground is kept apart from what of it is left.
func TestBeyondAndLeftAreApart(t *testing.T) {
	field := box(0, 0, 30, 300)
	treat := append(box(0, 50, 30, 100), box(0, 108, 30, 200)...)
	_, p := plan(t, spray.Zone{Treat: treat, Field: field}, spray.Settings{Swath: 24, Heading: at(0), Bridge: 10, Overrun: at(0)})
	assert.InDelta(t, 6*142, p.Cover.Left, 0.1)
	assert.InDelta(t, 24*8, p.Cover.Beyond, 0.1)
	assert.InDelta(t, 24*142, p.Cover.Treatable, 0.1)
	assert.InDelta(t, 24*150, p.Cover.Sprayed, 0.1)
}

// Beside a pond in the middle of a lane the sections spray on: those of the passes
// before it and behind it are all of theirs, each once.
func TestSectionsBesideAPondBelongToThePassesRoundIt(t *testing.T) {
	field := orb.MultiPolygon{{box(0, 0, 24, 300)[0][0], box(10, 140, 14, 160)[0][0]}}
	_, p := plan(t, spray.Zone{Treat: field, Field: field}, spray.Settings{Swath: 24, Sections: 12, Heading: at(0)})
	require.Len(t, p.Passes, 2)
	var on, sum float64
	for _, pass := range p.Passes {
		on += pass.On
		for _, spans := range pass.Sections {
			for _, s := range spans {
				sum += s.To - s.From
			}
		}
	}
	assert.InDelta(t, 280, on, 0.01)
	assert.InDelta(t, 150, p.Passes[0].Sections[0][0].To, 0.01, "up to the middle of the pond")
	assert.InDelta(t, 12*300-2*20, sum, 0.05)
	assert.InDelta(t, 20, p.Astride, 0.01)
	assert.InDelta(t, sum*2, p.Cover.Sprayed, 0.1)
	assert.Zero(t, p.Cover.Left)
}

// The way beside ponds is that of all lanes.
func TestTheWayBesidePondsIsThatOfAllLanes(t *testing.T) {
	field := orb.MultiPolygon{{box(0, 0, 72, 300)[0][0], box(10, 140, 14, 160)[0][0], box(34, 80, 38, 90)[0][0]}}
	_, p := plan(t, spray.Zone{Treat: field, Field: field}, spray.Settings{Swath: 24, Sections: 12, Heading: at(0)})
	assert.InDelta(t, 20+10, p.Astride, 0.05)
}

// Beside a long water in the middle of a lane no boom reaches but half a swath from
// its ends; the rest is left, for that reason.
func TestNoBoomReachesBesideALongWater(t *testing.T) {
	field := orb.MultiPolygon{{box(0, 0, 24, 300)[0][0], box(10, 100, 14, 200)[0][0]}}
	_, p := plan(t, spray.Zone{Treat: field, Field: field}, spray.Settings{Swath: 24, Sections: 12, Heading: at(0)})
	assert.InDelta(t, 24, p.Astride, 0.01)
	assert.InDelta(t, 20*(100-24), p.Cover.Left, 0.2)
	require.Len(t, p.Cover.Untreatable, 2, "on either side")
	for _, r := range p.Cover.Untreatable {
		assert.Equal(t, spray.NoWay, r.Why)
		assert.InDelta(t, 150, r.Point[1], 38)
	}
	// Up to a swath long it is sprayed all along.
	field = orb.MultiPolygon{{box(0, 0, 24, 300)[0][0], box(10, 100, 14, 124)[0][0]}}
	_, p = plan(t, spray.Zone{Treat: field, Field: field}, spray.Settings{Swath: 24, Sections: 12, Heading: at(0)})
	assert.InDelta(t, 24, p.Astride, 0.01)
	assert.Zero(t, p.Cover.Left)
}

// A lane on which the machine could drive nowhere sprays nothing.
func TestALaneWithoutAWaySpraysNothing(t *testing.T) {
	field := orb.MultiPolygon{{box(0, 0, 24, 300)[0][0], box(10, 100, 14, 120)[0][0]}}
	_, p := plan(t, spray.Zone{Treat: box(0, 102, 8, 118), Field: field}, spray.Settings{Swath: 24, Sections: 12, Heading: at(0)})
	require.NotEmpty(t, p.Passes, "the lane can be laid over the patch")
	wide := orb.MultiPolygon{{box(0, 0, 24, 300)[0][0], box(2, 100, 22, 120)[0][0]}}
	treat := append(box(0, 102, 2, 118), box(22, 102, 24, 118)...)
	_, p = plan(t, spray.Zone{Treat: treat, Field: wide}, spray.Settings{Swath: 24, Sections: 12, Heading: at(0)})
	assert.Empty(t, p.Passes)
	assert.Zero(t, p.Cover.Sprayed)
	assert.InDelta(t, 4*16, p.Cover.Left, 0.01)
	require.NotEmpty(t, p.Cover.Untreatable)
	assert.Equal(t, spray.NoWay, p.Cover.Untreatable[0].Why)
}

// Of headings with as many passes the one with the shortest is taken.
func TestOfEqualPassesTheShortestAreTaken(t *testing.T) {
	field := box(0, 0, 20, 23)
	_, p := plan(t, spray.Zone{Treat: field, Field: field}, spray.Settings{FewestPasses: true, Swath: 24})
	require.Len(t, p.Passes, 1)
	assert.InDelta(t, 90, p.Heading, 1e-9)
	assert.InDelta(t, 20, p.On, 0.01)
}

// A boom cannot go off before it came on: a run is as long as the way in the lag.
func TestRunsAreAsLongAsTheLag(t *testing.T) {
	_, p := plan(t, spray.Zone{Treat: box(0, 100, 24, 103), Field: box(0, 0, 24, 300)}, spray.Settings{Swath: 24, Heading: at(0), Speed: 5, Lag: 1.5})
	assert.InDelta(t, 7.5, p.On, 0.01)
}

// Barred ground is as near as the spray ground comes, not the field.
func TestBarsAreAsNearAsTheSpray(t *testing.T) {
	field := orb.MultiPolygon{{box(0, 0, 300, 300)[0][0], box(150, 0, 160, 20)[0][0]}}
	g, err := spray.NewTarget(spray.Zone{Treat: box(0, 0, 100, 300), Field: field, Neighbours: []spray.Neighbour{{Name: "B", Ground: box(0, 310, 300, 400)}}})
	require.NoError(t, err)
	require.Len(t, g.Bars, 2)
	assert.InDelta(t, 50, g.Bars[0].Nearest, 1e-6)
	assert.InDelta(t, 10, g.Bars[1].Nearest, 1e-6)
}

// A bridge spans ground of the field alone: over a notch in the outer edge the boom
// goes off, and the pass ends there.
func TestBridgesStayInTheField(t *testing.T) {
	notched := orb.MultiPolygon{{{{0, 0}, {24, 0}, {24, 100}, {-24, 100}, {-24, 120}, {24, 120}, {24, 200}, {-48, 200}, {-48, 0}, {0, 0}}}}
	treat := append(box(0, 50, 24, 100), box(0, 120, 24, 180)...)
	_, p := plan(t, spray.Zone{Treat: treat, Field: notched}, spray.Settings{Swath: 24, Heading: at(0), Bridge: 30})
	require.Len(t, p.Passes, 2)
	assert.InDelta(t, 110, p.On, 0.01)
	assert.Zero(t, p.Cover.Beyond)
	whole := box(-48, 0, 24, 200)
	_, p = plan(t, spray.Zone{Treat: treat, Field: whole}, spray.Settings{Swath: 24, Heading: at(0), Bridge: 30})
	require.Len(t, p.Passes, 1)
	assert.InDelta(t, 130, p.On, 0.01)
}
