package handoff

import "github.com/geocoris/geocoris/internal/spraying/spray"

// Totals add up all jobs: areas in m², lengths in m, time in s.
type Totals struct {
	Treat      float64 `json:"treat_m2"`
	Ground     float64 `json:"ground_m2"`
	Sprayed    float64 `json:"sprayed_m2"`
	Left       float64 `json:"left_m2"`
	OutOfField float64 `json:"out_of_field_m2"`
	Passes     int     `json:"passes"`
	Turns      int     `json:"turns"`
	On         float64 `json:"on_m"`
	Off        float64 `json:"off_m"`
	Seconds    float64 `json:"seconds"` // 0 where no speed was given
}

// Totals adds up all jobs; the way from field to field is not in it.
func (r *Result) Totals() (t Totals) {
	for _, j := range r.Jobs {
		f := j.Figures()
		t.Treat += j.Ground.Treat
		t.Ground += f.Ground
		t.Sprayed += f.Sprayed
		t.Left += f.Left
		t.OutOfField += f.OutOfField
		t.Passes += len(j.Plan.Passes)
		t.Turns += j.Plan.Turns
		t.On += j.Plan.On
		t.Off += j.Plan.Off
		t.Seconds += j.Plan.Seconds
	}
	return t
}

// Mix is what the person typed in; what is nil or empty was not given, and then
// no sum is made of it.
type Mix struct {
	Rate     *spray.Quantity // carrier
	Tank     *spray.Quantity
	Products []spray.Product
}
