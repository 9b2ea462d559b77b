package planar_test

import (
	"encoding/binary"
	"math"
	"testing"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/internal/geometry/planar"
)

// FuzzArrange cuts the plane by a line of any numbers: places on a small lattice, where
// parts lie on one another and cross in corners, or any floats.
func FuzzArrange(f *testing.F) {
	f.Add([]byte{0, 0, 9, 9, 0, 9, 9, 0}, false)
	f.Add([]byte{0, 0, 9, 0, 9, 9, 0, 9, 0, 0, 3, 0, 3, 3, 0, 0}, false)
	f.Add(binary.LittleEndian.AppendUint64(nil, math.Float64bits(math.NaN())), true)
	f.Fuzz(func(t *testing.T, text []byte, floats bool) {
		var line orb.LineString
		var numbers []float64
		for len(text) >= 8 && floats && len(numbers) < 40 {
			numbers, text = append(numbers, math.Float64frombits(binary.LittleEndian.Uint64(text))), text[8:]
		}
		for _, b := range text[:min(len(text), 80)] {
			numbers = append(numbers, float64(b%16))
		}
		for ; len(numbers) >= 2; numbers = numbers[2:] {
			line = append(line, orb.Point{numbers[0], numbers[1]})
		}
		a, err := planar.Arrange([]orb.LineString{line})
		if err != nil {
			return
		}
		for i, face := range a.Faces {
			if !(face.Area >= 0) {
				t.Fatalf("face %d has an area of %v", i, face.Area)
			}
		}
	})
}
