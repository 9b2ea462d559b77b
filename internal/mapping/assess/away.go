package assess

// AwayFrom counts the stops that lie in no field and come from the files in which the
// field's own stand; loose is set where they may as well be another field's. It is 0
// where all of them are surely below a level.
func (r *Result) AwayFrom(f *Field, level float64) (stops int, loose bool) {
	if len(r.Away) == 0 {
		return 0, false
	}
	own := f.files()
	warm := false
	for _, s := range r.Away {
		if file := s.Records[0].File; own[file] {
			value, known := r.Statistic.At(s)
			stops, warm = stops+1, warm || !known || value >= level
			loose = loose || r.from[file] > 1 || r.leftOut[file]
		}
	}
	if !warm {
		return 0, false
	}
	return stops, loose
}

// countFiles counts, where stops lie in no field, from how many fields' stops each file is.
func (r *Result) countFiles() {
	if len(r.Away) == 0 {
		return
	}
	r.from = map[string]int{}
	for _, f := range r.Fields {
		of := map[string]bool{}
		for _, s := range f.Stops {
			if file := s.Records[0].File; !of[file] {
				of[file] = true
				r.from[file]++
			}
		}
	}
}
