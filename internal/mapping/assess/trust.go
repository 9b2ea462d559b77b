package assess

import (
	"github.com/geocoris/geocoris/internal/geometry/zones"
	"github.com/geocoris/geocoris/internal/scouting/layout"
	"github.com/geocoris/geocoris/interp"
)

// What a map rests on at the least.
const (
	LeastStops     = 10   // fewer say nothing about where
	MostEmptyShare = 0.75 // Dille et al. 2003, Weed Sci. 51:44–55: beyond it every interpolator was very poor
	// LeastSkill is that above which a map is believed, LeastGain the treatments a stop that
	// going by it saves: below both, most maps of fields without a pattern stay. 0.09 of them
	// are believed, where 0.13 were by a skill above 0 (240 simulated fields).
	LeastSkill = 0.05
	LeastGain  = 0.05
)

// Trust says whether a map may be believed, and why not.
type Trust struct {
	Score interp.Score
	Stops int
	// Gain is what going by the map would have saved at the stops, each left out, against
	// the cheaper of treating all and none of them, in treatments a stop; 0 where no model
	// of chance tells.
	Gain   float64
	Quiet  bool          // no stop has more than [CleanShare] of the watch level
	Empty  int           // stops with nothing
	Layout layout.Layout // how the stops lie over the field
	Doubts []Doubt       // in the order of their constants; none where the map may be believed
}

// Believed reports whether the map shows more than the field's mean does.
func (t Trust) Believed() bool { return len(t.Doubts) == 0 }

// withGain takes in what going by the map would have saved.
func (t Trust) withGain(gain float64) Trust {
	t.Gain = gain
	t.Doubts = t.doubts()
	return t
}

func trustOf(score interp.Score, samples []interp.Sample) Trust {
	t := Trust{Score: score, Stops: len(samples)}
	for _, s := range samples {
		if s.Value == 0 {
			t.Empty++
		}
	}
	t.Doubts = t.doubts()
	return t
}

// over is what is left of trust where the stops lie so over the field.
func (t Trust) over(l layout.Layout) Trust {
	t.Layout = l
	t.Doubts = t.doubts()
	return t
}

// A Doubt is why a map may not be believed.
type Doubt uint8

// The doubts.
const (
	PartOnly  Doubt = iota + 1 // the stops span so little that they say nothing of the rest, nor of the mean
	FewStops                   // fewer than [LeastStops]
	NoSkill                    // left-out stops are predicted hardly better than by the mean
	MostEmpty                  // a larger share of stops than [MostEmptyShare] is empty
)

func (t Trust) doubts() (out []Doubt) {
	if t.Layout.Stops > 0 && t.Layout.Partial() {
		out = append(out, PartOnly)
	}
	if t.Stops < LeastStops {
		out = append(out, FewStops)
	}
	if !(t.Score.Skill > LeastSkill || t.Gain > LeastGain) && t.Stops > 1 {
		out = append(out, NoSkill)
	}
	if float64(t.Empty) > MostEmptyShare*float64(t.Stops) {
		out = append(out, MostEmpty)
	}
	return out
}

// Hindsight answers what the map would have made of the stops at or above the
// treat level had nobody been there: in how many the others put treat, watch and
// clear ground.
type Hindsight struct {
	Over                int // stops at or above the treat level
	Treat, Watch, Clear int // what leave-one-out gives their places
}

// hindsight counts by the class that each left-out stop's place would have.
func hindsight(samples []interp.Sample, treatAt float64, classOf func(i int) zones.Class) Hindsight {
	var h Hindsight
	for i, s := range samples {
		if s.Value < treatAt {
			continue
		}
		h.Over++
		switch classOf(i) {
		case zones.Treat:
			h.Treat++
		case zones.Clear:
			h.Clear++
		default: // ground nobody has been near is watched, also where nothing is known of it
			h.Watch++
		}
	}
	return h
}
