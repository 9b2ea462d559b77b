package observer_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/scouting/observer"
)

// Of n leaves with the same estimate the single leaves' part of the variance falls as
// 1/n and that of the line not at all: CV² = (CV₁² − CV_line²)/n + CV_line².
func TestLeavesShareTheirObserversLine(t *testing.T) {
	file := practised(rand.New(rand.NewPCG(1, 1)))
	one := file.Find("Scout A").Correct(60)
	require.NotZero(t, one.LineCV)
	for _, n := range []int{1, 2, 9, 400} {
		rows := ""
		for range n {
			rows += "1,-100,37,60,1,Scout A\n"
		}
		// Alike in every cell, but a file of leaves: no row is a repeat.
		rows += "2,-100.01,37,60,1,Scout A\n2,-100.01,37,60,1,Scout A\n"
		_, stops := observer.Correct(read(t, rows), file)
		want := (one.CV*one.CV-one.LineCV*one.LineCV)/float64(n) + one.LineCV*one.LineCV
		assert.InEpsilon(t, math.Sqrt(want), stops[0].CV, 1e-9, "%d leaves", n)
	}
}
