package verdict_test

import (
	"flag"
	"math"
	"math/rand/v2"
	"runtime"
	"sync"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/scouting/sampling"
)

// walkedFields is how many invented fields are walked stop by stop:
//
//	go test ./internal/mapping/verdict -run TestWhatStopsAreWorth -v -timeout 60m -walks 120
var walkedFields = flag.Int("walks", 3, "invented fields walked stop by stop, the kinds in turn")

// mapsAfter are the stops after which a walk is mapped and could end.
var mapsAfter = []int{12, 16, 20, 25, 30, 37, 45, 55}

// mostWalked is how many stops the longest walk has.
const mostWalked = 55

// A walkedField is what deciding after so many stops of one walk, in spread order,
// costs, and what was said then of more stops.
type walkedField struct {
	at    map[int]judged // by stops
	tally int            // the stop after which the tally ends
	say   sampling.Verdict
	mean  float64 // of the stops then
}

func walkField(t *testing.T, number int) walkedField {
	kind := number % len(inventedKinds)
	whole := draw(t, number, inventedKinds[kind].truth, kind == concaveKind, func(f *invented, r *rand.Rand) {
		f.stops, f.leaves, f.way = mostWalked, 10+10*r.IntN(2), "spread"
	}).of(kind)
	w := walkedField{at: map[int]judged{}}
	w.tallied(t, whole)
	for _, n := range mapsAfter {
		w.at[n] = judgeField(t, whole.first(n))
	}
	if _, mapped := w.at[w.tally]; !mapped {
		w.at[w.tally] = judgeField(t, whole.first(w.tally))
	}
	return w
}

// first is a field as its first stops tell it.
func (f invented) first(stops int) invented {
	part := *f.survey
	part.Stops = part.Stops[:stops]
	f.survey, f.stops = &part, stops
	return f
}

// tallied walks until the tally answers, by counts of 25 against 60 a leaf.
func (w *walkedField) tallied(t *testing.T, f invented) {
	tally, err := sampling.NewTally(sampling.Wald{Distribution: sampling.NegativeBinomial, Low: 25, High: 60, K: 0.5}, sampling.Settings{Ground: assess.LatticeOf(f.xy)})
	require.NoError(t, err)
	for _, s := range f.survey.Stops {
		at := f.frame.Forward(orb.Point{s.Longitude, s.Latitude})
		a, err := tally.AddAt([2]float64(at), sampling.Count{Total: s.Total, Units: s.Units})
		require.NoError(t, err)
		w.tally, w.say, w.mean = a.Stops, a.Verdict, a.Mean
		if a.Verdict != sampling.GoOn {
			return
		}
	}
}

// answered is what following the tally's answer costs: over is the whole field, under
// nothing, without an answer the mean decides.
func (w walkedField) answered() float64 {
	if w.say == sampling.Over || w.say != sampling.Under && w.mean >= inventedLevel {
		return 1
	}
	return w.at[w.tally].nothing
}

// cost is what following the verdict after so many stops costs.
func (w walkedField) cost(stops int) float64 {
	f := w.at[stops]
	return f.costOf(f.today())
}

// enough is the stop after which the next is worth less than a price, in treatments of a
// hectare.
func (w walkedField) enough(price float64) int {
	for _, n := range mapsAfter {
		f := w.at[n]
		worth := sampling.Worth{Area: geo.Area(f.xy) / 1e4, Regret: f.sums.Regret(n), Stops: n, Price: price}
		if worth.Enough() {
			return n
		}
	}
	return mostWalked
}

func walkAll(t *testing.T, fields int) []walkedField {
	all := make([]walkedField, fields)
	var wg sync.WaitGroup
	for first := range runtime.GOMAXPROCS(0) {
		wg.Go(func() {
			for i := first; i < fields; i += runtime.GOMAXPROCS(0) {
				all[i] = walkField(t, 4*i+i/3) // all kinds in turn, few of which are much alike
			}
		})
	}
	wg.Wait()
	return all
}

func averageOf(all []walkedField, value func(walkedField) float64) averaged {
	sum, squares, n := 0.0, 0.0, float64(len(all))
	for _, w := range all {
		sum += value(w)
	}
	for _, w := range all {
		d := value(w) - sum/n
		squares += d * d
	}
	return averaged{sum / n, math.Sqrt(squares / max(1, n-1) / n)}
}

// TestWhatStopsAreWorth walks fields stop by stop, and sets what is said of more stops
// against what they save.
func TestWhatStopsAreWorth(t *testing.T) {
	all := walkAll(t, *walkedFields)
	fixed := map[int]averaged{}
	for _, n := range mapsAfter {
		fixed[n] = averageOf(all, func(w walkedField) float64 { return w.cost(n) })
		t.Logf("%d stops: cost %s", n, fixed[n])
	}
	t.Logf("tally: %s stops, by its answer %s, by the map of its stops %s",
		averageOf(all, func(w walkedField) float64 { return float64(w.tally) }),
		averageOf(all, walkedField.answered), averageOf(all, func(w walkedField) float64 { return w.cost(w.tally) }))
	for _, price := range []float64{0.02, 0.03, 0.05, 0.08, 0.12, 0.2, 0.3} {
		stops := averageOf(all, func(w walkedField) float64 { return float64(w.enough(price)) })
		cost := averageOf(all, func(w walkedField) float64 { return w.cost(w.enough(price)) })
		t.Logf("next stop worth less than %.2f treatments of a hectare: %s stops, cost %s; as many stops on every field cost %.3f",
			price, stops, cost, between(fixed, stops.mean))
		assert.Less(t, cost.mean, between(fixed, stops.mean)+0.02+3*cost.se, "no worse than as many stops everywhere")
	}
	savings(t, all)
}

// between is the cost of a number of stops, walked on every field, by the line between
// those that were tried.
func between(fixed map[int]averaged, stops float64) float64 {
	for i := 1; i < len(mapsAfter); i++ {
		a, b := mapsAfter[i-1], mapsAfter[i]
		if stops <= float64(b) {
			part := (stops - float64(a)) / float64(b-a)
			return fixed[a].mean + part*(fixed[b].mean-fixed[a].mean)
		}
	}
	return fixed[mostWalked].mean
}

// furtherStops are walks gone on with: from so many stops to so many.
var furtherStops = [][2]int{{12, 20}, {16, 25}, {20, 30}, {30, 45}, {37, 55}}

// savings sets what more stops were said to save against what they saved.
func savings(t *testing.T, all []walkedField) {
	t.Helper()
	type pair struct{ said, saved, places float64 }
	var pairs []pair
	for _, step := range furtherStops {
		var said, saved, places []float64
		for _, w := range all {
			now, then := w.at[step[0]], w.at[step[1]]
			p := pair{now.sums.Saving(step[0], step[1]-step[0]) / now.sums.Area, w.cost(step[0]) - w.cost(step[1]), now.places - then.places}
			pairs = append(pairs, p)
			said, saved, places = append(said, p.said), append(saved, p.saved), append(places, p.places)
		}
		t.Logf("from %d to %d stops: said to save %.3f, saved %s, by places %s", step[0], step[1], meanOf(said).mean, meanOf(saved), meanOf(places))
	}
	for _, bin := range [][2]float64{{0, 0.01}, {0.01, 0.02}, {0.02, 0.03}, {0.03, 0.05}, {0.05, 1}} {
		var said, saved, places []float64
		for _, p := range pairs {
			if p.said >= bin[0] && p.said < bin[1] {
				said, saved, places = append(said, p.said), append(saved, p.saved), append(places, p.places)
			}
		}
		if len(said) > 0 {
			t.Logf("said %.2f to %.2f: %d walks, said %.3f, saved %s, by places %s", bin[0], bin[1], len(said), meanOf(said).mean, meanOf(saved), meanOf(places))
		}
	}
	var off, said []float64
	for _, p := range pairs {
		off, said = append(off, p.said-p.saved), append(said, p.said)
	}
	assert.Positive(t, meanOf(said).mean)
	assert.InDelta(t, 0, meanOf(off).mean, 0.02+3*meanOf(off).se, "said to save against saved")
}

func meanOf(v []float64) averaged {
	n, sum, squares := float64(len(v)), 0.0, 0.0
	for _, x := range v {
		sum += x
	}
	for _, x := range v {
		squares += (x - sum/n) * (x - sum/n)
	}
	return averaged{sum / n, math.Sqrt(squares / max(1, n-1) / n)}
}
