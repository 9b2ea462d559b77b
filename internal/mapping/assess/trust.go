package assess

import (
	"fmt"

	"github.com/geocoris/geocoris/internal/geometry/zones"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/interp"
)

const (
	leastStops = 10   // fewer say nothing about where
	mostEmpty  = 0.75 // Dille et al. 2003, Weed Sci. 51:44–55: beyond it every interpolator was very poor
)

// NoBetter is the sentence for a map that its own evidence does not bear out.
const NoBetter = "no better than the field's mean: decide on the whole field"

// Trust says whether a map may be believed, and why not.
type Trust struct {
	Score   interp.Score
	Stops   int
	Empty   int      // stops with nothing
	Reasons []string // none where the map may be believed
}

// Believed reports whether the map shows more than the field's mean does.
func (t Trust) Believed() bool { return len(t.Reasons) == 0 }

// String is the verdict in words.
func (t Trust) String() string {
	if t.Believed() {
		return fmt.Sprintf("better than the field's mean: skill %.2f", t.Score.Skill)
	}
	return NoBetter
}

func trustOf(score interp.Score, samples []interp.Sample) Trust {
	t := Trust{Score: score, Stops: len(samples)}
	for _, s := range samples {
		if s.Value == 0 {
			t.Empty++
		}
	}
	t.Reasons = t.reasons()
	return t
}

// reasons are why the map may not be believed.
func (t Trust) reasons() (reasons []string) {
	if t.Stops < leastStops {
		reasons = append(reasons, fmt.Sprintf("%s, fewer than %d", count(t.Stops, "stop"), leastStops))
	}
	if !(t.Score.Skill > 0) && t.Stops > 1 {
		reasons = append(reasons, fmt.Sprintf("left out, stops are foretold no better by their neighbours than by the mean (skill %.2f)", t.Score.Skill))
	}
	if float64(t.Empty) > mostEmpty*float64(t.Stops) {
		reasons = append(reasons, fmt.Sprintf("%d of %d stops are empty, more than %s", t.Empty, t.Stops, figures.Whole(mostEmpty)))
	}
	return reasons
}

func count(n int, thing string) string {
	if n == 1 {
		return "1 " + thing
	}
	return fmt.Sprintf("%d %ss", n, thing)
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

// Nearly reports whether the map may be believed, or might be with a skill higher by
// so much.
func (t Trust) Nearly(lack float64) bool {
	better := t
	better.Score.Skill += lack
	return len(better.reasons()) == 0
}
