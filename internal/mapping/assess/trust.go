package assess

import (
	"math"

	"github.com/geocoris/geocoris/internal/geometry/zones"
	"github.com/geocoris/geocoris/internal/scouting/layout"
	"github.com/geocoris/geocoris/interp"
)

// What a map rests on at the least.
const (
	LeastStops     = 10   // fewer say nothing about where
	MostEmptyShare = 0.75 // Dille et al. 2003, Weed Sci. 51:44–55: beyond it every interpolator was very poor
	// skillByStops is the skill above which a map is believed, times its stops: the fewer
	// they are, the more skill comes by chance. What going by the zone saves counts
	// savesCount times its number in treatments of the field. Of 1,200 simulated fields
	// without a pattern 0.10 are believed so, 0.12 of those with 12 or 16 stops; by one
	// bound for all, a skill of 0.05, it was 0.13 and 0.19 (of 600).
	skillByStops = 2.2
	savesCount   = 2
	// worstSkill is that below which the zone's saving is not asked: what left-out stops
	// do not bear out at all is the model's alone.
	worstSkill = -0.1
	// leastSkill is the bound where no chances tell what the zone saves.
	leastSkill = 0.05
)

// Trust says whether a map may be believed, and why not.
type Trust struct {
	Score interp.Score
	Stops int // planned ones, as those of Score
	// Places are those that differ of them: two scouts at one stop are no two witnesses.
	Places int
	// Saves is what treating the treat zone is expected to save against the cheaper of
	// treating the whole field and nothing, in treatments of the field; 0 where it saves
	// nothing, NaN where no model of chance tells.
	Saves  float64
	Quiet  bool          // no stop has more than [CleanShare] of the watch level
	Empty  int           // stops with nothing
	Layout layout.Layout // how the stops lie over the field
	Doubts []Doubt       // in the order of their constants; none where the map may be believed
}

// Believed reports whether the map shows more than the field's mean does.
func (t Trust) Believed() bool { return len(t.Doubts) == 0 }

// saving takes in what going by the zone is expected to save.
func (t Trust) saving(saves float64) Trust {
	t.Saves = saves
	t.Doubts = t.doubts()
	return t
}

// bySkill reports that left-out stops are predicted better than by the mean, or by a zone
// worth treating and not worse: as surely as so few stops can tell it.
func (t Trust) bySkill() bool {
	if math.IsNaN(t.Saves) {
		return t.Score.Skill > leastSkill
	}
	return t.Score.Skill > worstSkill && t.Score.Skill+float64(savesCount*t.Saves) > skillByStops/float64(t.Places)
}

// BySaving reports that skill alone would not do for a map to be believed.
func (t Trust) BySaving() bool {
	t.Saves = min(t.Saves, 0) // NaN stays
	return !t.bySkill()
}

// trustIn is what the samples of the planned stops say of a map of their own. Extra ones are no
// evidence: they crowd where it is hot, and beside its own ring a stop left out predicts
// itself.
func trustIn(planned []interp.Sample, idw interp.IDW) (Trust, error) {
	samples, places := atPlaces(planned)
	left, err := idw.LeaveOneOut(samples)
	if err != nil {
		return Trust{}, err
	}
	return trustOf(interp.NewScore(samples, left), samples, places), nil
}

func trustOf(score interp.Score, samples []interp.Sample, places int) Trust {
	t := Trust{Score: score, Stops: len(samples), Places: places, Saves: math.NaN()}
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
	if t.Places < LeastStops {
		out = append(out, FewStops)
	}
	if !t.bySkill() && t.Stops > 1 {
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

// hindsight counts by the class that each left-out stop's place would have; extra stops,
// which stand where much was expected, are left out as they are of the mean.
func (f *Field) hindsight(treatAt float64, classOf func(i int) zones.Class) Hindsight {
	var h Hindsight
	all := f.ExtraStops() == 0
	for i, s := range f.Stops {
		if s.Value < treatAt || s.Extra && !all {
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
