package scene

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

func lengthOf(lines [][]Point) (sum float64) {
	for _, l := range lines {
		for i := 1; i < len(l); i++ {
			sum += math.Hypot(l[i].X-l[i-1].X, l[i].Y-l[i-1].Y)
		}
	}
	return sum
}

// Dashes are as long as they should be, lie in the line, and go round its corners.
func TestDashesGoRoundCorners(t *testing.T) {
	line := []Point{{0, 0}, {5, 0}, {5, 4}}
	got := dashed(line, 2, 1)
	assert.Equal(t, [][]Point{{{0, 0}, {2, 0}}, {{3, 0}, {5, 0}}, {{5, 1}, {5, 3}}}, got)
	assert.Equal(t, [][]Point{{{0, 0}, {3, 0}}, {{4, 0}, {5, 0}, {5, 2}}, {{5, 3}, {5, 4}}}, dashed(line, 3, 1))
	assert.Equal(t, [][]Point{line}, dashed(line, 20, 1))
	ring := []Point{{0, 0}, {9, 0}, {9, 9}, {0, 9}}
	assert.InDelta(t, 36*2.0/3, lengthOf(dashes([][]Point{ring}, 0.2, 0.1)), 0.2)
	assert.Len(t, ring, 4, "what was given stays")
	assert.Empty(t, dashes([][]Point{{{1, 1}}}, 2, 1))
}
