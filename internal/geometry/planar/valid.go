package planar

import (
	"fmt"

	"github.com/paulmach/orb"
	"github.com/peterstace/simplefeatures/geom"
)

// Valid reports what keeps polygons from being valid in the sense of OGC
// 06-103r4 §6.1.11: rings closed and simple, holes inside their outer ring and
// interiors connected, parts apart. Winding is not looked at. No polygons are
// valid.
func Valid(mp orb.MultiPolygon) (err error) {
	defer func() {
		if r := recover(); r != nil {
			err = fmt.Errorf("planar: validity check failed: %v", r)
		}
	}()
	polygons := make([]geom.Polygon, len(mp))
	for i, polygon := range mp {
		rings := make([]geom.LineString, len(polygon))
		for j, ring := range polygon {
			flat, ok := flatten(orb.LineString(ring))
			if !ok {
				return fmt.Errorf("planar: a coordinate is not a finite number")
			}
			rings[j] = geom.NewLineString(geom.NewSequence(flat, geom.DimXY))
		}
		polygons[i] = geom.NewPolygon(rings)
	}
	if err := geom.NewMultiPolygon(polygons).Validate(); err != nil {
		return fmt.Errorf("planar: %w", err)
	}
	return nil
}

// flatten drops repeated vertices; ok is false where a coordinate is not finite.
func flatten(line orb.LineString) (flat []float64, ok bool) {
	flat = make([]float64, 0, 2*len(line))
	for i, p := range line {
		if !finite(p) {
			return nil, false
		}
		if i > 0 && p == line[i-1] {
			continue
		}
		flat = append(flat, p[0], p[1])
	}
	return flat, true
}
