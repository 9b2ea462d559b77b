//go:build !small

package engine

import "github.com/geocoris/geocoris/internal/output/fieldwork"

// Plan finds the stops of a walk, and makes the files that are carried.
func Plan(q PlanRequest) (*PlanOutcome, error) {
	out, err := PlanStops(q)
	if err != nil {
		return nil, err
	}
	out.Files, err = planFiles(out.Plan)
	return out, err
}

func planFiles(p fieldwork.Plan) ([]File, error) {
	return render(append(planData(p), rendering{"sheet.html", p.WriteSheet}))
}
