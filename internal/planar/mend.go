package planar

import "github.com/paulmach/orb"

// Mend returns the ground that an odd number of rings surrounds, as valid
// polygons: the even-odd rule, under which a bow-tie keeps both its lobes, a
// hole equal to its shell leaves nothing, and overlapping parts leave a gap
// where they overlap. Valid polygons come back as the same ground. The input is
// not changed.
func Mend(mp orb.MultiPolygon) (orb.MultiPolygon, error) {
	a, err := Arrange(RingLines(mp))
	if err != nil {
		return nil, err
	}
	labels := make([]int, len(a.Faces))
	for i, face := range a.Faces {
		if evenOdd(mp, face.Point) {
			labels[i] = 1
		}
	}
	return a.Dissolve(labels).Polygons(1), nil
}

// evenOdd counts crossings to the right over all rings; a closed polygon's face
// point is never on a ring, so the boundary does not matter here.
func evenOdd(mp orb.MultiPolygon, p orb.Point) bool {
	inside := false
	for _, polygon := range mp {
		for _, ring := range polygon {
			for i, a := range ring {
				b := ring[(i+1)%len(ring)]
				if (a[1] > p[1]) != (b[1] > p[1]) &&
					p[0] < a[0]+(b[0]-a[0])*(p[1]-a[1])/(b[1]-a[1]) {
					inside = !inside
				}
			}
		}
	}
	return inside
}
