package assess

// AwayFrom counts the stops that lie in no field and come from the files in which the
// field's own stand; loose is set where they may as well be another field's. It is 0
// where all of them are surely below a level.
func (r *Result) AwayFrom(f *Field, level float64) (stops int, loose bool) {
	if len(r.Away) == 0 {
		return 0, false
	}
	own, others := map[string]bool{}, map[string]bool{}
	for _, g := range r.Fields {
		files := others
		if g == f {
			files = own
		}
		for _, s := range g.Stops {
			files[s.Records[0].File] = true
		}
	}
	for file := range r.leftOut {
		others[file] = true
	}
	warm := false
	for _, s := range r.Away {
		if file := s.Records[0].File; own[file] {
			value, known := r.Statistic.At(s)
			stops, warm, loose = stops+1, warm || !known || value >= level, loose || others[file]
		}
	}
	if !warm {
		return 0, false
	}
	return stops, loose
}
