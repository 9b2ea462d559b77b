package rules

import (
	"fmt"
	"math"
	"strings"
)

// Economics are what an economic threshold is computed from. Money and area are
// in any one currency and area unit, used throughout.
type Economics struct {
	Cost    float64 // C: of control, per area
	Price   float64 // V: of the crop, per unit of yield
	Loss    float64 // b: yield lost per area for each pest per unit counted on
	Control float64 // K: the part of the loss that control averts, above 0 up to 1
	Growth  float64 // r: of the pest, per day; 0 or above
	Lead    float64 // L: days until control works; 0 or above
}

// A Threshold is a level with the sums that led to it.
type Threshold struct {
	EIL   float64  // economic injury level: the density whose averted loss pays the control
	ET    float64  // economic threshold: the density that grows to the EIL within the lead time
	Steps []string // the arithmetic, a line each
}

// Compute gives EIL = C/(V·b·K) (Stern et al. 1959, Hilgardia 29:81–101; with K
// after Pedigo et al. 1986, Annu. Rev. Entomol. 31:341–368; both from memory) and
// ET = EIL·e^(−rL).
func (e Economics) Compute() (Threshold, error) {
	for _, v := range []struct {
		name  string
		value float64
	}{{"cost", e.Cost}, {"price", e.Price}, {"loss per pest", e.Loss}, {"control", e.Control}} {
		if !(v.value > 0) || math.IsInf(v.value, 0) {
			return Threshold{}, fmt.Errorf("%s %g: want a number above 0", v.name, v.value)
		}
	}
	if e.Control > 1 {
		return Threshold{}, fmt.Errorf("control %g: want the part of the loss that is averted, 1 at most", e.Control)
	}
	eil := e.Cost / (e.Price * e.Loss * e.Control)
	t, err := Lead{EIL: eil, Growth: e.Growth, Days: e.Lead}.Compute()
	if err != nil {
		return Threshold{}, err
	}
	t.Steps = append([]string{fmt.Sprintf("EIL = C/(V·b·K) = %s/(%s·%s·%s) = %s",
		plain(e.Cost), plain(e.Price), plain(e.Loss), plain(e.Control), figures(eil))}, t.Steps...)
	return t, nil
}

// Lead takes an injury level back to the density at which to act.
type Lead struct {
	EIL    float64
	Growth float64 // r, per day
	Days   float64 // until control works
}

// Compute gives ET = EIL·e^(−rL).
func (l Lead) Compute() (Threshold, error) {
	switch {
	case !(l.EIL > 0) || math.IsInf(l.EIL, 0):
		return Threshold{}, fmt.Errorf("injury level %g: want a number above 0", l.EIL)
	case !sane(l.Growth):
		return Threshold{}, fmt.Errorf("growth %g a day: want 0 or above", l.Growth)
	case !sane(l.Days):
		return Threshold{}, fmt.Errorf("lead time %g days: want 0 or above", l.Days)
	}
	et := l.EIL * math.Exp(-l.Growth*l.Days)
	return Threshold{EIL: l.EIL, ET: et, Steps: []string{fmt.Sprintf("ET = EIL·e^(−r·L) = %s·e^(−%s·%s) = %s",
		figures(l.EIL), plain(l.Growth), plain(l.Days), figures(et))}}, nil
}

// Midge is what the threshold of sorghum midge is computed from.
type Midge struct {
	Cost  float64 // C: $ per acre
	Price float64 // V: $ per 100 lb of grain
	Heads float64 // F: flowering heads per acre
}

// midgeFactor stands for the grain that one midge costs and the part that control
// saves (Knutson & Cronholm 2007, Southwest. Entomol. 32:75–85).
const midgeFactor = 33256

// Compute gives midges per flowering head: 33,256·C/(V·F).
func (m Midge) Compute() (Threshold, error) {
	for _, v := range []struct {
		name  string
		value float64
	}{{"cost", m.Cost}, {"price", m.Price}, {"heads", m.Heads}} {
		if !(v.value > 0) || math.IsInf(v.value, 0) {
			return Threshold{}, fmt.Errorf("%s %g: want a number above 0", v.name, v.value)
		}
	}
	level := midgeFactor * m.Cost / (m.Price * m.Heads)
	return Threshold{EIL: level, ET: level, Steps: []string{fmt.Sprintf(
		"midges per flowering head = 33256·C/(V·F) = 33256·%s/(%s·%s) = %s",
		plain(m.Cost), plain(m.Price), plain(m.Heads), figures(level))}}, nil
}

// DailyGrowth is r of a doubling time in days: ln 2 / days.
func DailyGrowth(doubling float64) float64 { return math.Ln2 / doubling }

// plain writes a number as it was given, to six figures.
func plain(v float64) string { return fmt.Sprintf("%.6g", v) }

// figures writes a result with four figures, no needless noughts.
func figures(v float64) string {
	if math.Abs(v) >= 1000 {
		return fmt.Sprintf("%.0f", v)
	}
	s := fmt.Sprintf("%.4g", v)
	if strings.Contains(s, ".") && !strings.Contains(s, "e") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return s
}
