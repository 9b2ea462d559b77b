package handoff

import (
	"fmt"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/spraying/spray"
)

// Air is what was typed in of a job from the air; what is nil was not.
type Air struct {
	Height *spray.Quantity // above the ground
	Speed  *spray.Quantity
	Drift  *spray.Quantity // how far spray may drift, off the label or by rule
}

// Flight is the way through the air of all jobs: lines in the order in which they are
// flown, passes and the turns between them, which lead round keep-offs. Height and speed
// are those that were typed in. The notes tell of turns that no way round was found for.
func (r *Result) Flight(a Air) (out []geo.Feature, notes []string, err error) {
	for _, j := range r.Jobs {
		legs, blocked, err := j.Plan.Flight(j.Ground)
		if err != nil {
			return nil, nil, err
		}
		if blocked > 0 {
			notes = append(notes, fmt.Sprintf("%s: from the air no way round the keep-offs was found for %d turns: they are not in the flight", j.Field, blocked))
		}
		for i, leg := range legs {
			kind := "pass"
			if leg.Turn {
				kind = "turn"
			}
			out = append(out, geo.Feature{Geometry: j.lonlatLine(leg.Line), Properties: append(j.properties(kind), a.properties(int64(i+1), int64(leg.Pass))...)})
		}
	}
	return out, notes, nil
}

func (a Air) properties(order, pass int64) geo.Properties {
	p := geo.Properties{{Name: "order", Value: order}, {Name: "pass", Value: pass}}
	if a.Height != nil {
		p = append(p, geo.Property{Name: "height_m", Value: rounded(a.Height.Base, 2)})
	}
	if a.Speed != nil {
		p = append(p, geo.Property{Name: "speed_m_s", Value: rounded(a.Speed.Base, 3)})
	}
	return p
}

// Obstacles are the keep-offs of all jobs, each with its set-back, to fly round.
func (r *Result) Obstacles() (out []geo.Feature, err error) {
	for _, j := range r.Jobs {
		for _, k := range j.KeepOffs {
			ground, err := k.Ground()
			if err != nil {
				return nil, fmt.Errorf("keep-off %s: %w", k.Name, err)
			}
			if len(ground) > 0 {
				out = append(out, geo.Feature{Geometry: j.lonlat(ground), Properties: append(j.properties("obstacle"),
					geo.Property{Name: "name", Value: k.Name}, geo.Property{Name: "set_back_m", Value: rounded(k.SetBack, 2)})})
			}
		}
	}
	return out, nil
}

func (j *Job) lonlatLine(line orb.LineString) (out orb.LineString) {
	for _, p := range line {
		out = append(out, j.place(p))
	}
	return out
}
