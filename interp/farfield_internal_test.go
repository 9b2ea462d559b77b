//go:build !small

package interp

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// One far sample's weight, where polynomials are worst: 3 half sides away in y, all
// along that side. The bound holds, and is no more than three times what is found.
func TestFarFieldOfOneSample(t *testing.T) {
	var worst float64
	for i := range 121 {
		a := farHalves * float64(i) / 120
		var f field
		s := says{}
		s.add(a, farHalves, 1, 1)
		s.even()
		f.add(&s, 0, 0, 1)
		for j := range 41 {
			y := float64(j)/20 - 1
			in := basis(y)
			line := f.weights.across(&in)
			for k := range 41 {
				x := float64(k)/20 - 1
				at := basis(x)
				got, want := along(&line, &at), 1/((x-a)*(x-a)+(y-farHalves)*(y-farHalves))
				worst = max(worst, math.Abs(got/want-1))
			}
		}
	}
	t.Logf("off by %.2e", worst)
	assert.Less(t, worst, 1.2e-10)
	assert.Greater(t, worst, 1.2e-10/3)
}

// A field of a square is the same field at the points of each of its quarters, and where
// two quarters meet they agree.
func TestQuartersOfAField(t *testing.T) {
	var whole, quarter field
	s := says{}
	s.add(-7, 2, 3, 5)
	s.add(4, 4, 1, 2)
	s.even()
	whole.add(&s, 0, 0, 1)
	for _, x := range []float64{-0.5, 0.5} {
		for _, y := range []float64{-0.5, 0.5} {
			pick := func(at float64) bases {
				if at < 0 {
					return lower
				}
				return upper
			}
			quarter.quarter(&whole, pick(x), pick(y))
			var direct field
			direct.add(&s, x, y, 0.5)
			assert.InDeltaSlice(t, direct.values[:], quarter.values[:], 1e-11, "%g, %g", x, y)
			assert.InDeltaSlice(t, direct.weights[:], quarter.weights[:], 1e-11, "%g, %g", x, y)
		}
	}
}

// Coordinates so large that steps between nodes are lost in their digits are for sums.
func TestFarFieldPays(t *testing.T) {
	samples := make([]Sample, farSamples)
	for i := range samples {
		samples[i] = Sample{X: float64(i), Y: float64(i * i % 89), Value: 1}
	}
	l := Lattice{Cell: 1, Cols: 256, Rows: 256}
	pays := func(s IDW, samples []Sample, l Lattice) bool {
		return newWeighting(s.WithDefaults(), samples).farFieldPays(l)
	}
	all := IDW{Neighbors: AllNeighbors}
	assert.True(t, pays(all, samples, l))
	assert.False(t, pays(all, samples[1:], l), "a sample less")
	assert.False(t, pays(all, samples, Lattice{Cell: 1, Cols: 255, Rows: 256}), "a column less")
	assert.False(t, pays(all, samples, Lattice{X0: 1e6, Cell: 1, Cols: 256, Rows: 256}), "too far off")
	assert.True(t, pays(all, samples, Lattice{X0: 1e6 - 256, Cell: 1, Cols: 256, Rows: 256}))
	assert.False(t, pays(IDW{}, samples, l))
	assert.False(t, pays(IDW{Neighbors: AllNeighbors, Power: 3}, samples, l))
	assert.False(t, pays(IDW{Neighbors: AllNeighbors, Radius: 1e7}, samples, l))
}
