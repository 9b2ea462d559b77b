package assess

import (
	"context"
	"errors"
	"fmt"
	"math"
	"strings"
	"sync"

	"github.com/geocoris/geocoris/internal/geometry/catch"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/mapping/decision"
	"github.com/geocoris/geocoris/internal/recall"
	"github.com/geocoris/geocoris/internal/scouting/layout"
	"github.com/geocoris/geocoris/internal/scouting/survey"
	"github.com/geocoris/geocoris/interp"
)

// Chances at which ground is treated and watched when zones go by chance: of being over
// the treat level now, three in ten, since what is left there costs more than what is
// treated in vain (of simulated fields 0.3 to 0.4 cost least, 0.006 ± 0.003 treatments of
// the field less than 0.5); of being over the watch level, from which it reaches the treat
// level before the next visit, three in ten (our choice, no source).
const (
	treatChance = 0.3
	watchChance = 0.3
)

// leastExpected is the share of a field that must be expected over the treat
// level for a catch to be cut for: below it most of the ground taken would be in
// vain. Our choice, no source.
const leastExpected = 0.01

// chanceNodes bounds the nodes by which the expected ground of a field is summed up where
// nobody asked for chances.
const chanceNodes = 900

// treatLoss is what leaving a place is expected to cost, in treatments, from which on it is
// treated when zones go by loss: what treating it costs.
const treatLoss = 1

// ChanceSettings say what the chance of being over the treat level is used for.
// The zero value uses it for nothing, but the map still says how much ground is
// expected over.
type ChanceSettings struct {
	Surface bool    // zones by the model of chance, not by the surface through the counts
	Loss    bool    // with Surface, treat by expected loss: where leaving costs a treatment or more
	TreatAt float64 // chance of the treat level, with Surface; 0 is 0.3
	WatchAt float64 // chance of the watch level, with Surface; 0 is 0.3
	// Catch above 0 cuts treat ground, on either surface, where it is expected to
	// hold this share of the over-threshold ground. On the surface through the
	// counts the cut never rises above the treat level. Where less than 1 % of
	// a field is expected over there is nothing to catch, and the cut stays.
	Catch float64
}

// Validate reports chances and shares that cannot be meant.
func (c ChanceSettings) Validate() error {
	for _, v := range []struct {
		name  string
		value float64
	}{{"treat-chance", c.TreatAt}, {"watch-chance", c.WatchAt}, {"catch", c.Catch}} {
		if !(v.value >= 0 && v.value < 1) {
			return fmt.Errorf("%s %g: want a number above 0 and below 1, such as 0.9", v.name, v.value)
		}
	}
	switch {
	case !c.Surface && (c.TreatAt > 0 || c.WatchAt > 0):
		return fmt.Errorf("treat-chance and watch-chance go with the chance surface")
	case c.Loss && !c.Surface:
		return fmt.Errorf("loss goes with the surface of chances")
	case c.Loss && (c.TreatAt > 0 || c.Catch > 0):
		return fmt.Errorf("the loss surface says where to cut: leave out treat-chance and catch")
	case c.TreatAt > 0 && c.Catch > 0:
		return fmt.Errorf("treat-chance and catch both say where to cut: give one")
	}
	return nil
}

// WithDefaults fills in the chances.
func (c ChanceSettings) WithDefaults() ChanceSettings {
	if c.TreatAt == 0 {
		c.TreatAt = treatChance
	}
	if c.WatchAt == 0 {
		c.WatchAt = watchChance
	}
	return c
}

func (c ChanceSettings) asked() bool { return c.Surface || c.Catch > 0 }

// Chance is what the model of chance says of a field.
type Chance struct {
	// Grid is the chance, 0 to 1, of being at or above the treat level, patches that no
	// stop met counted in; a coarse one where nobody asked for zones by it.
	Grid      interp.Grid
	Expected  float64   // m² expected at or above the treat level
	Unseen    float64   // m² of it in patches that no stop met, which may lie anywhere
	Caught    float64   // share of the rest, 0 to 1, in the treat zone; NaN where none is expected
	BySurface bool      // the zones go by chance, or by loss
	ByLoss    bool      // treat ground goes by expected loss
	AtLevel   catch.Cut // the plain cut of the counts' surface at the treat level
	Added     float64   // m² of treat zone beyond AtLevel, margin and least areas in it
	TreatAt   float64   // chance of the treat level from which Hindsight says treat
	WatchAt   float64   // chance of the watch level from which it says watch
	Hindsight Hindsight // as Field.Hindsight, by chance
	// Calibration sets chances against what was counted, stops left out.
	Calibration []Calibration
}

// Calibration is of the stops whose chance of being at or above the treat level,
// as the others gave it, lay in From ≤ chance < To.
type Calibration struct {
	From, To  float64
	Stops     int
	Predicted float64 // stops at or above the level to be expected, the sum of chances
	Found     int     // stops that were
}

// chancesOf finds, when it is called, the model of a field's stops as they are now and,
// node by node, how likely it is over the treat level. The map of chances has no model where
// nobody asked and there is too little to go by.
func (s site) chancesOf(ctx context.Context, stops []Stop, j job) func() (chanceMap, error) {
	asked := j.set.Chance.asked()
	if !asked && len(stops) < LeastStops {
		return func() (m chanceMap, err error) { return m, nil }
	}
	scale := 1.0
	if j.set.Statistic.Share() {
		scale = 100
	}
	counts := countsOf(stops, j.set.Statistic, scale)
	return func() (m chanceMap, err error) {
		m, err = recall.Of(j.set.Memory, s.countsIn(recall.For("chances"), counts, j), func() (chanceMap, error) { return s.chancesBy(ctx, counts, scale, j) })
		var without *noChancesError
		switch {
		case errors.As(err, &without) && (!asked || j.several):
			return chanceMap{without: without}, nil
		case err != nil && m.model == nil && !asked:
			return m, nil
		}
		return m, err
	}
}

// countsIn adds to a key all that chances go by.
func (s site) countsIn(k *recall.Key, counts []interp.Count, j job) *recall.Key {
	set, l := j.set.Chance, j.lattice
	polygonsIn(k, s.xy).Truths(set.Surface, set.Loss, j.set.Statistic.Share()).Numbers(set.TreatAt, set.WatchAt, set.Catch)
	k.Numbers(j.levels.TreatAt, l.X0, l.Y0, l.Cell).Count(l.Cols).Count(l.Rows).Count(len(counts))
	for _, c := range counts {
		k.Numbers(c.X, c.Y, c.Mean, c.Units, c.Variance)
	}
	return k
}

// chancesBy is chancesOf by counts in the unit of the model; it has no model where they do
// not bear one.
func (s site) chancesBy(ctx context.Context, counts []interp.Count, scale float64, j job) (m chanceMap, err error) {
	asked, l := j.set.Chance.asked(), j.lattice
	m.scale, m.set = scale, j.set.Chance.WithDefaults()
	if n := places(counts); n < leastPlaces {
		return m, &noChancesError{fmt.Sprintf("stops at %s: want %d or more", figures.Counted(n, "place"), leastPlaces)}
	}
	m.model, err = interp.ChanceModel{Level: j.levels.TreatAt / m.scale, Binomial: j.set.Statistic.Share()}.Fit(counts)
	if err != nil {
		return m, &noChancesError{strings.TrimPrefix(err.Error(), "interp: ")}
	}
	if asked {
		m.grid, err = interp.Fill(ctx, m.model.Over(j.levels.TreatAt/m.scale), l, interp.FillSettings{Mask: maskOf(s.xy, l).Has})
	} else {
		l = thinned(l)
		m.fillKept(l, insideOf(s.xy, l), j.levels.TreatAt/m.scale)
		err = ctx.Err()
	}
	if err != nil {
		return m, err
	}
	m.ground = catch.NewNodes(m.grid, insideOf(s.xy, l).Has)
	return m, m.ground.Validate()
}

// leastPlaces is from how many places on the model of chance can be fitted.
const leastPlaces = 3

// noChancesError is why the counts of a field do not bear a model of chance.
type noChancesError struct{ why string }

func (e *noChancesError) Error() string { return e.why }

func places(counts []interp.Count) int {
	at := map[[2]float64]bool{}
	for _, c := range counts {
		at[[2]float64{c.X, c.Y}] = true
	}
	return len(at)
}

// Scouted is in how many fields somebody counted.
func (r *Result) Scouted() (n int) {
	for _, f := range r.Fields {
		if f.Scouted() {
			n++
		}
	}
	return n
}

// noteNoChances tells of fields of which chances were asked for and that do not bear them.
func (r *Result) noteNoChances(set ChanceSettings) {
	for _, f := range r.Fields {
		if f.withoutChances != nil && set.asked() {
			r.Notes = append(r.Notes, fmt.Sprintf("field %q: mapped without chances, which its counts do not bear: %v", f.Name, f.withoutChances))
		}
	}
}

// chanceMap is the chance at the nodes of a field.
type chanceMap struct {
	without *noChancesError // why there is none; nil where there is
	set     ChanceSettings  // the chances as they are used
	model   *interp.Chances
	scale   float64 // values of the statistic per mean of the model
	grid    interp.Grid
	kept    [][]interp.ShiftedLogNormal // what the model said at each node of the grid, nil where nobody asked it; nil of zones by chance
	losses  *keptLosses                 // of the nodes that have it kept; nil of zones by chance
	lost    []lost                      // those at the level of the field; nil as yet
	ground  catch.Nodes
}

// losing predicts what leaving a place is expected to cost, in treatments: the expected
// min(m/level, [decision.Most]) of its mean m.
type losing struct {
	model *interp.Chances
	level float64 // in its unit
}

// Predict is NaN where the model says nothing.
func (l losing) Predict(x, y float64) (loss float64) {
	said := l.model.At(x, y)
	if said == nil {
		return math.NaN()
	}
	for _, d := range said {
		loss += d.Capped(decision.Most*l.level) / l.level
	}
	return loss
}

// treats predicts what is compared with the cut of treat ground.
func (m *chanceMap) treats(level float64) interp.Predictor {
	if m.set.Loss {
		return losing{m.model, level}
	}
	return m.model.Over(level)
}

// fillKept fills in the chances of being over a level, in the unit of the model, at the
// nodes of a lattice, to the bit those of [interp.Chances.Over], and keeps what the model said
// of each, since losses are asked for at the same places.
func (m *chanceMap) fillKept(l interp.Lattice, nodes mask, level float64) {
	var places [][2]float64
	for i, marked := range nodes.nodes {
		if marked {
			x, y := l.Node(i%l.Cols, i/l.Cols)
			places = append(places, [2]float64{x, y})
		}
	}
	told := m.model.AtEach(places)
	m.grid, m.kept, m.losses = interp.NewGrid(l), make([][]interp.ShiftedLogNormal, l.Len()), &keptLosses{}
	over := interp.NewThreshold(level)
	for i, marked := range nodes.nodes {
		if marked {
			m.kept[i], told = told[0], told[1:]
			m.grid.Values[i] = over.Of(m.kept[i])
		}
	}
}

// loseAt works out what leaving the nodes of the grid is expected to cost at a level in the
// unit of the model, where it was kept what the model says of them: it does not wait for the
// zones.
func (m *chanceMap) loseAt(level float64) { m.lost = m.losses.at(level, m.kept) }

// keptLosses are those of the level that they were asked for last: maps that have chances of
// one memory are mostly asked for them at one level. Any number of goroutines may share them.
type keptLosses struct {
	mu    sync.Mutex
	level float64
	lost  []lost
}

// at are the losses by what a model says of places, always of the same ones; nil keeps none.
func (k *keptLosses) at(level float64, said [][]interp.ShiftedLogNormal) []lost {
	if k == nil {
		return lostOf(said, level)
	}
	k.mu.Lock()
	defer k.mu.Unlock()
	if k.lost == nil || k.level != level {
		k.level, k.lost = level, lostOf(said, level)
	}
	return k.lost
}

// lostAt is what leaving a node of a lattice is expected to cost; nil where that is not known.
func (m *chanceMap) lostAt(l interp.Lattice, node int) *lost {
	if m.lost == nil || l != m.grid.Lattice || m.kept[node] == nil {
		return nil
	}
	return &m.lost[node]
}

// countsOf are the stops as counts; a share in % is one of 0 to 1 at the scale of
// 100, and one of plants is of so many plants, not of their leaves. Those of one place
// are one count to the model: how they differ is the error of counting, and no sign that
// the pest changes within a few metres all over the field.
func countsOf(stops []Stop, stat Statistic, scale float64) []interp.Count {
	counts, at := make([]interp.Count, len(stops)), make([][2]float64, len(stops))
	for i, s := range stops {
		at[i] = s.XY
	}
	of, _ := layout.Places(at)
	for i, s := range stops {
		counts[i] = interp.Count{X: at[of[i]][0], Y: at[of[i]][1], Mean: s.Value / scale, Units: s.Units}
		if stat.ByPlants(s.Stop) && s.Plants > 0 {
			counts[i].Units = float64(s.Plants)
		}
		if scale == 1 {
			counts[i].Variance = unitVariance(s.Stop)
		}
	}
	return counts
}

// unitVariance is that between the units of a stop; 0 where rows put units
// together, so that it does not show.
func unitVariance(s survey.Stop) float64 {
	var squares float64
	for _, r := range s.Records {
		if r.Units != 1 {
			return 0
		}
		squares += float64((r.Total - s.Mean()) * (r.Total - s.Mean()))
	}
	if len(s.Records) < 2 {
		return 0
	}
	return squares / float64(len(s.Records)-1)
}

// thinned is a lattice of at most about chanceNodes nodes over the same ground.
func thinned(l interp.Lattice) interp.Lattice {
	k := max(1, int(math.Ceil(math.Sqrt(float64(l.Len())/chanceNodes))))
	l.Cell *= float64(k)
	l.Cols, l.Rows = (l.Cols-1)/k+1, (l.Rows-1)/k+1
	return l
}
