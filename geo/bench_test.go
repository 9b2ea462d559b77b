package geo_test

import (
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
)

func BenchmarkFrameForward(b *testing.B) {
	frame, err := geo.FrameOf(forty)
	require.NoError(b, err)
	for b.Loop() {
		frame.Forward(orb.Point{-101.201, 38.501})
	}
}

func BenchmarkFrameInverse(b *testing.B) {
	frame, err := geo.FrameOf(forty)
	require.NoError(b, err)
	for b.Loop() {
		frame.Inverse(orb.Point{123.4, -56.7})
	}
}

func BenchmarkInsideSpans(b *testing.B) {
	circle := referencePolygons(b)["many_vertices_circle_3600"]
	xy := project(b, circle)
	for b.Loop() {
		geo.InsideSpans(xy, 100)
	}
}

func BenchmarkContains(b *testing.B) {
	circle := referencePolygons(b)["many_vertices_circle_3600"]
	xy := project(b, circle)
	for b.Loop() {
		geo.Contains(xy, orb.Point{100, 100})
	}
}
