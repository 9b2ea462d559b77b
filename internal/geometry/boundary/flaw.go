package boundary

import (
	"strings"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/geometry/planar"
)

// flawOf says what is wrong with an outline that is not valid, in metres, in the words
// of what was drawn.
func flawOf(xy orb.MultiPolygon) (string, error) {
	var flaws []string
	say := func(is bool, flaw string) {
		if is {
			flaws = append(flaws, flaw)
		}
	}
	shells, err := shellsOf(xy)
	if err != nil {
		return "", err
	}
	over, err := holesOver(xy, shells)
	if err != nil {
		return "", err
	}
	apart, err := areApart(shells)
	if err != nil {
		return "", err
	}
	say(crosses(xy, func(ring int) bool { return ring == 0 }), "the outline crosses or touches itself")
	say(crosses(xy, func(ring int) bool { return ring > 0 }), "a hole crosses or touches itself")
	say(over, "a hole reaches over the edge")
	say(!apart, "its parts overlap")
	if len(flaws) == 0 {
		return "its holes or parts touch or overlap", nil
	}
	return strings.Join(flaws, ", and "), nil
}

// crosses reports whether any of the rings asked for is not simple.
func crosses(xy orb.MultiPolygon, asked func(ring int) bool) bool {
	for _, polygon := range xy {
		for i, ring := range polygon {
			if asked(i) && planar.Valid(orb.MultiPolygon{{ring}}) != nil {
				return true
			}
		}
	}
	return false
}

// shellsOf is the ground inside each part's outline, holes or not.
func shellsOf(xy orb.MultiPolygon) (shells []orb.MultiPolygon, err error) {
	for _, polygon := range xy {
		ground, err := planar.Ground(orb.MultiPolygon{polygon[:1]})
		if err != nil {
			return nil, err
		}
		shells = append(shells, ground)
	}
	return shells, nil
}

// holesOver reports whether a hole reaches out of its part's outline, by more than
// coordinates are rounded.
func holesOver(xy orb.MultiPolygon, shells []orb.MultiPolygon) (bool, error) {
	for k, polygon := range xy {
		for _, hole := range polygon[1:] {
			ground, err := planar.Ground(orb.MultiPolygon{{hole}})
			if err != nil {
				return false, err
			}
			out, err := planar.Overlay([]orb.MultiPolygon{ground, shells[k]}, func(in []bool) bool { return in[0] && !in[1] })
			if err != nil || widest(out) >= leastWidth {
				return err == nil, err
			}
		}
	}
	return false, nil
}

// areApart reports whether no two parts share ground, by more than coordinates are
// rounded. Where there are very many it goes by none.
func areApart(shells []orb.MultiPolygon) (bool, error) {
	if len(shells) > mostParts {
		return true, nil
	}
	for i, a := range shells {
		for _, b := range shells[:i] {
			if narrow(geo.Bound(a), geo.Bound(b)) {
				continue
			}
			shared, err := both(a, b)
			if err != nil || widest(shared) >= leastWidth {
				return false, err
			}
		}
	}
	return true, nil
}
