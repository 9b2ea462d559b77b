package verdict

import (
	"fmt"
	"math"
)

// Money is what treating costs and what the crop is worth, in one currency.
type Money struct {
	Cost    float64 // C: of treating, per m² treated
	SpotJob float64 // more for a spot job than for the whole field: call-out, loading the map; 0 for none
	Price   float64 // V: of the crop, per unit of yield; 0 where losses are not known
	Loss    float64 // b: yield lost per m² for each pest per unit counted on; 0 where not known
	Control float64 // K: part of the loss that is averted; 0 is all
	// SpotControl is K of a spot spray; 0 is that of the whole field. Published trials:
	// spots against pests that colonise fast often failed.
	SpotControl float64
	Stop        float64 // of walking to one more stop and counting there; 0 where not known
}

// FullControl is all of the loss averted, where nothing else is said.
const FullControl = 1

// Validate reports money that cannot be meant.
func (m Money) Validate() error {
	for _, v := range []struct {
		name  string
		value float64
	}{{"cost", m.Cost}, {"cost of a spot job", m.SpotJob}, {"price", m.Price}, {"loss", m.Loss}, {"control", m.Control}, {"control of a spot job", m.SpotControl}, {"cost of a stop", m.Stop}} {
		if !(v.value >= 0) || math.IsInf(v.value, 0) {
			return fmt.Errorf("%s %g: want a number that is not negative", v.name, v.value)
		}
	}
	switch {
	case m.Cost == 0:
		return fmt.Errorf("cost 0: want what treating costs")
	case (m.Price > 0) != (m.Loss > 0):
		return fmt.Errorf("the break-even test wants both the price of the crop and the loss for each pest")
	case m.Control > 1:
		return fmt.Errorf("control %g: want the part of the loss that is averted, 1 at most", m.Control)
	case m.SpotControl > m.control():
		return fmt.Errorf("control of a spot job %g: want no more than that of the whole field, %g", m.SpotControl, m.control())
	}
	return nil
}

// Costs are the sums of a field.
type Costs struct {
	Spot, Whole float64
	// Added is the part of Spot for treat ground beyond a cut at the treat level, as a
	// catch or a margin takes it; below 0 where that is less, NaN where no chances tell.
	Added float64
	// Averted losses are NaN where price and loss are not given.
	SpotAverts, WholeAverts float64
}

// costs are those of a field, at the density that will be there when a spraying
// works: nothing is added for growth, so the test asks for proof by what is there.
func (m Money) costs(f Figures) Costs {
	c := Costs{Spot: m.Cost*f.TreatArea + m.SpotJob, Whole: m.Cost * f.Area, Added: m.Cost * f.Added, SpotAverts: math.NaN(), WholeAverts: math.NaN()}
	if m.Price > 0 && m.Loss > 0 {
		k := m.control()
		c.WholeAverts = m.Price * m.Loss * k * f.Stats.Mean * f.Area
		c.SpotAverts = 0
		if f.TreatArea > 0 {
			if m.SpotControl > 0 {
				k = m.SpotControl
			}
			c.SpotAverts = m.Price * m.Loss * k * f.TreatMean * f.TreatArea
		}
	}
	return c
}

// Pays reports whether either way of treating averts what it costs: the break-even
// test, avoidable loss ≥ cost of control. Where losses are not known it passes.
func (c Costs) Pays() bool {
	return math.IsNaN(c.WholeAverts) || c.WholeAverts >= c.Whole || c.SpotAverts > 0 && c.SpotAverts >= c.Spot
}
