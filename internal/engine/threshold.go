//go:build !small

package engine

import (
	"errors"
	"fmt"

	"github.com/geocoris/geocoris/internal/mapping/rules"
)

// A ThresholdRequest asks for an economic threshold. Money and area are in any one unit.
type ThresholdRequest struct {
	Cost     float64 // of control on an area
	Price    float64 // of the crop for each unit of yield
	Loss     float64 // yield lost on the area for each pest per unit counted on
	Control  float64 // the part of the loss that control averts
	EIL      float64 // an injury level that is known, in place of cost, price and loss; 0 for none
	Growth   float64 // of the pest, a day
	Doubling float64 // days, in place of growth; 0 for none
	Lead     float64 // days until control works
}

// Threshold works it out. What cannot be meant is an error of usage.
func Threshold(q ThresholdRequest) (rules.Threshold, error) {
	t, err := q.compute()
	if err != nil {
		return t, usage(err)
	}
	return t, nil
}

func (q ThresholdRequest) compute() (rules.Threshold, error) {
	if q.Doubling != 0 {
		if q.Growth != 0 || !(q.Doubling > 0) {
			return rules.Threshold{}, fmt.Errorf("doubling in %g days: want a number above 0, and no --growth beside it", q.Doubling)
		}
		q.Growth = rules.DailyGrowth(q.Doubling)
	}
	if q.EIL == 0 {
		return rules.Economics{Cost: q.Cost, Price: q.Price, Loss: q.Loss, Control: q.Control, Growth: q.Growth, Lead: q.Lead}.Compute()
	}
	if q.Cost != 0 || q.Price != 0 || q.Loss != 0 {
		return rules.Threshold{}, errors.New("--eil stands in place of --cost, --price and --loss")
	}
	return rules.Lead{EIL: q.EIL, Growth: q.Growth, Days: q.Lead}.Compute()
}

// A MidgeRequest asks at how many sorghum midges per flowering head control pays.
type MidgeRequest struct {
	Cost  float64 // of control, $ an acre
	Price float64 // of the grain, $ for 100 lb
	Heads float64 // flowering heads an acre
}

// MidgeThreshold works it out. What cannot be meant is an error of usage.
func MidgeThreshold(q MidgeRequest) (rules.Threshold, error) {
	t, err := rules.Midge(q).Compute()
	if err != nil {
		return t, usage(err)
	}
	return t, nil
}
