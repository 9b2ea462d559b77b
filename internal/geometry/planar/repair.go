package planar

import "github.com/paulmach/orb"

// Repair returns the ground that an odd number of rings surrounds, as valid
// polygons: the even-odd rule, under which a bow-tie keeps both its lobes, a
// hole equal to its shell leaves nothing, and overlapping parts leave a gap
// where they overlap. Valid polygons come back as the same ground. The input is
// not changed. More than [MostCrossings] are an error. Outlines that people draw
// are for [Ground].
func Repair(mp orb.MultiPolygon) (orb.MultiPolygon, error) {
	lines := RingLines(mp)
	if err := tangled(lines); err != nil {
		return nil, err
	}
	a, err := Arrange(lines)
	if err != nil {
		return nil, err
	}
	var rings []*windings
	for _, polygon := range mp {
		for _, ring := range polygon {
			rings = append(rings, newWindings(ring))
		}
	}
	labels := make([]int, len(a.Faces))
	for i, face := range a.Faces {
		n := 0
		for _, ring := range rings {
			n += ring.round(face.Point)
		}
		labels[i] = n & 1
	}
	return a.Dissolve(labels).Polygons(1), nil
}
