package survey

// Without is the survey without some of its stops and their rows; all but those where none
// is left out, which is the survey itself.
func (s *Survey) Without(out func(Stop) bool) *Survey {
	left, rows := make([]Stop, 0, len(s.Stops)), 0
	for _, stop := range s.Stops {
		if out(stop) {
			rows += len(stop.Records)
			continue
		}
		left = append(left, stop)
	}
	if len(left) == len(s.Stops) {
		return s
	}
	fewer := *s
	fewer.Stops, fewer.Dates = left, countedOn(left)
	fewer.Tally.Read -= rows
	fewer.Tally.Used -= rows
	return &fewer
}
