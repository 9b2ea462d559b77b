package jobsheet

import "github.com/geocoris/geocoris/internal/spraying/handoff"

// sprayedBefore tells which ground of a job was sprayed already, by the records near its map;
// "" for none.
func (s Sheet) sprayedBefore(j *handoff.Job) string {
	u := s.Units
	var says []string
	for _, b := range j.Sprayed {
		switch {
		case b.Again != nil && *b.Again < leastSpilled:
		case b.Again == nil:
			says = append(says, u.Say("The field was sprayed on %s; which ground is not recorded.", u.Day(b.Date)))
		case b.Date == "":
			says = append(says, u.Say("Of this ground %s was sprayed before.", u.Area(*b.Again)))
		default:
			says = append(says, u.Say("Of this ground %s was sprayed on %s.", u.Area(*b.Again), u.Day(b.Date)))
		}
	}
	if says == nil {
		return ""
	}
	return sentences(append(says, u.Text("The label limits repeats."))...)
}
