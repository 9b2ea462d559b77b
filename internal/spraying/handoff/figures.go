package handoff

// Figures are areas of a job in m², of what its files switch on: the cells of its
// grid where it has one, else the sections of the boom.
type Figures struct {
	Ground     float64 // spray ground
	Treatable  float64 // of it, what can be sprayed
	Sprayed    float64 // what leaves the nozzles, overlaps counted twice
	Overlap    float64 // sprayed twice
	Missed     float64 // treatable and not sprayed: 0
	Beyond     float64 // sprayed beside the spray ground
	OutOfField float64 // of that, past the field's outer edge
	Left       float64 // spray ground that is not sprayed
}

// Ratio is the sprayed area over the treatable.
func (f Figures) Ratio() float64 { return f.Sprayed / f.Treatable }

// Figures are the job's.
func (j *Job) Figures() Figures {
	if j.Grid != nil {
		return j.Grid.Figures
	}
	c := j.Plan.Cover
	return Figures{
		Ground: c.Treatable + c.Left, Treatable: c.Treatable, Sprayed: c.Sprayed, Overlap: c.Overlap, Missed: c.Missed,
		Beyond: c.Beyond, OutOfField: c.OutOfField, Left: c.Left,
	}
}
