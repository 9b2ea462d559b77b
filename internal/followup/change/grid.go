package change

import (
	"errors"
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/internal/followup/paired"
	"github.com/geocoris/geocoris/internal/geometry/zones"
	"github.com/geocoris/geocoris/interp"
)

// A Visit is what one visit says of the field.
type Visit struct {
	Day     float64 // days since any day that all visits count from
	Surface zones.Surface
	Samples []interp.Sample
	Map     *zones.Map
	Reach   float64 // metres: ground farther from every stop was not scouted
}

// known is the surface's value at a node, NaN beyond reach.
func (v Visit) known(i int) float64 {
	if v.Surface.Distance.Values[i] > v.Reach {
		return math.NaN()
	}
	return v.Surface.Value.Values[i]
}

// Unseen is the ground, one polygon under the even-odd rule, that a visit did not see as closely
// as the one before had: it lies beyond the reach of either from every stop. A few stops far from
// one another reach far, and tell nothing of a patch between them. It is nil where that visit has
// no treat ground, as nothing else is asked of it.
func (v Visit) Unseen(before Visit) orb.MultiPolygon {
	if before.Map.Zone(zones.Treat).Area == 0 {
		return nil
	}
	return v.Surface.Beyond(min(v.Reach, before.Reach))
}

// Grids hold what two visits say at each node; NaN where one of them did not
// come within reach.
type Grids struct {
	Days       float64
	Difference interp.Grid // later − earlier, in the unit of the counts
	Ratio      interp.Grid // later / earlier
	Rate       interp.Grid // per day: ln ratio, of shares that of their odds
	Doubling   interp.Grid // days, of shares of their odds; negative where it halves, NaN where it stays
}

// Compare subtracts and divides two visits, the earlier first. In ratios, rates and
// times of doubling the least of the scale stands in for values below it, so nothing
// is divided by zero; where both are below it they are NaN: nothing is known of
// growth there. Of shares rates are of the odds, and near the whole as near 0.
func Compare(earlier, later Visit, scale paired.Scale) (Grids, error) {
	days := later.Day - earlier.Day
	if err := sameLattice(earlier, later); err != nil {
		return Grids{}, err
	}
	if !(days > 0) || math.IsInf(days, 0) {
		return Grids{}, fmt.Errorf("change: %g days between the visits: want a number above 0", days)
	}
	if err := scale.Check(); err != nil {
		return Grids{}, fmt.Errorf("change: %w", err)
	}
	l := earlier.Surface.Value.Lattice
	g := Grids{days, interp.NewGrid(l), interp.NewGrid(l), interp.NewGrid(l), interp.NewGrid(l)}
	for i := range g.Difference.Values {
		a, b := earlier.known(i), later.known(i)
		if math.IsNaN(a) || math.IsNaN(b) {
			continue
		}
		g.Difference.Values[i] = b - a
		if a >= scale.Least || b >= scale.Least {
			g.Ratio.Values[i] = max(b, scale.Least) / max(a, scale.Least)
		}
		rate := scale.Rate(a, b) / days
		g.Rate.Values[i] = rate
		if rate != 0 {
			g.Doubling.Values[i] = paired.DoublingDays(rate)
		}
	}
	return g, nil
}

func sameLattice(visits ...Visit) error {
	if len(visits) == 0 {
		return errors.New("change: no visits")
	}
	l := visits[0].Surface.Value.Lattice
	for _, v := range visits {
		for _, g := range []interp.Grid{v.Surface.Value, v.Surface.Distance} {
			if g.Lattice != l || len(g.Values) != l.Len() {
				return errors.New("change: the visits are not on one lattice")
			}
		}
	}
	return nil
}

// Inside are the surface's values at the nodes inside a field, in the order of the lattice;
// NaN beyond reach.
func (v Visit) Inside(field orb.MultiPolygon) (values []float64) {
	for i := range NodesInside(v.Surface.Value.Lattice, field) {
		values = append(values, v.known(i))
	}
	return values
}

// Both returns the values of two visits at the nodes that both had a stop near, of all that
// [Visit.Inside] has of them; an error where these are not as many.
func Both(earlier, later []float64) (a, b []float64, err error) {
	if len(earlier) != len(later) {
		return nil, nil, errors.New("change: the visits are not on one lattice")
	}
	a, b = make([]float64, 0, len(earlier)), make([]float64, 0, len(earlier))
	for i, x := range earlier {
		if y := later[i]; !math.IsNaN(x) && !math.IsNaN(y) {
			a, b = append(a, x), append(b, y)
		}
	}
	return a, b, nil
}
