package zones

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/internal/geometry/planar"
)

// A small island of clear ground between treat and watch ground joins the milder of
// the two, whichever comes first; enclosed by one alone, that one.
func TestAClearIslandJoinsTheMilderNeighbour(t *testing.T) {
	const large, small = 900, 9
	for _, c := range []struct {
		name    string
		classes []Class // of two large faces round a small clear one
		want    Class
	}{
		{"treat and watch", []Class{Treat, Watch}, Watch},
		{"watch and treat", []Class{Watch, Treat}, Watch},
		{"treat alone", []Class{Treat, Treat}, Treat},
		{"watch alone", []Class{Watch, Watch}, Watch},
	} {
		t.Run(c.name, func(t *testing.T) {
			j := judge{
				faces: []planar.Face{
					{Area: large, Neighbors: []int{planar.Outside, 1, 2}}, {Area: large, Neighbors: []int{planar.Outside, 0, 2}}, {Area: small, Neighbors: []int{0, 1}},
				},
				classes: append(append([]Class{}, c.classes...), Clear), minArea: 10,
			}
			j.apply(nil)
			assert.Equal(t, append(append([]Class{}, c.classes...), c.want), j.classes)
		})
	}
}
