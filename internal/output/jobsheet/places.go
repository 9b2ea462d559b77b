package jobsheet

import (
	"fmt"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/internal/spraying/handoff"
)

// latLon writes a place in degrees as phones and receivers take it, latitude first, to
// a tenth of a metre.
func latLon(at orb.Point) string { return degreesOf(at[1]) + ", " + degreesOf(at[0]) }

func degreesOf(v float64) string { return fmt.Sprintf("%.6f", v) }

// placeRows are the places to find the job by.
func (s Sheet) placeRows(j *handoff.Job) []row {
	at := latLon(whereabouts(j))
	first := s.row("Middle of the field", at)
	if j.Gate != nil {
		first = s.row("Gate", at)
	}
	return []row{
		first,
		s.row("A of the passes", latLon(j.Frame.Inverse(j.Plan.A))),
		s.row("B of the passes", latLon(j.Frame.Inverse(j.Plan.B))),
	}
}

// whereabouts is the place in degrees to find a field by.
func whereabouts(j *handoff.Job) orb.Point {
	if j.Gate != nil {
		return *j.Gate
	}
	return j.Middle()
}

// A run is one stretch of a pass with the boom on, by the places, in degrees, where the
// switch is to be thrown.
type run struct {
	pass    string // 3, or 3b where the pass has several
	on, off orb.Point
}

// runs are those of a job in driving order.
func runs(j *handoff.Job) (out []run) {
	for _, pass := range j.Plan.Passes {
		for i := 0; i+1 < len(pass.Switches); i += 2 {
			r := run{pass: fmt.Sprint(pass.Number), on: j.Frame.Inverse(pass.Switches[i].Thrown), off: j.Frame.Inverse(pass.Switches[i+1].Thrown)}
			if len(pass.Switches) > 2 {
				r.pass += stretch(i / 2)
			}
			out = append(out, r)
		}
	}
	return out
}

// stretch letters the runs of one pass: a to z, then a2 and on.
func stretch(i int) string {
	letter := string(rune('a' + i%26))
	if i < 26 {
		return letter
	}
	return fmt.Sprintf("%s%d", letter, i/26+1)
}
