package verdict_test

import (
	"cmp"
	"flag"
	"fmt"
	"maps"
	"math"
	"runtime"
	"slices"
	"sync"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/geometry/zones"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/mapping/decision"
	"github.com/geocoris/geocoris/internal/mapping/fieldstats"
	"github.com/geocoris/geocoris/internal/mapping/verdict"
	"github.com/geocoris/geocoris/internal/testkit"
	"github.com/geocoris/geocoris/interp"
)

// simulated is how many invented fields are walked, mapped and decided on, the kinds in
// turn:
//
//	go test ./internal/... -run TestDecision -v -timeout 60m -fields 600
func simulated() int { return cmp.Or(testkit.Fields(), testkit.Few(24, 12)) }

// drawnFrom is the seed: a rule settled on the fields of one is judged on those of
// another.
var drawnFrom = flag.Uint64("seed", 14, "of the invented fields")

// byChance are the zones' own settings.
var byChance assess.ChanceSettings

var cellOf = flag.Float64("cell", 5, "metres, of the maps; chances of every node of a fine one take minutes a field")

func init() {
	flag.BoolVar(&byChance.Surface, "surface-chance", false, "judge zones cut by chance")
	flag.BoolVar(&byChance.Loss, "surface-loss", false, "by expected loss, with -surface-chance")
	flag.Float64Var(&byChance.TreatAt, "treat-chance", 0, "at this chance, with -surface-chance")
}

// mostLoss is what leaving a place costs at the most, in treatments.
const mostLoss = 5

// A judged field is what each way of deciding cost there, per hectare: treating 1,
// leaving a place min(m/T, 5).
type judged struct {
	invented
	figures                          verdict.Figures
	new                              verdict.Verdict
	formerLine                       string
	formerKind                       verdict.Kind
	nothing, zone, knowing, trueMean float64       // the whole field costs 1
	sums, grownSums                  decision.Sums // of today's densities, and of those that a pest grows to
	treat                            orb.MultiPolygon
	byChance                         []float64 // of treating from each of chanceCuts on
	places                           float64
	shareOver, expectedOver          float64 // of the field over the level, truly and by the chances; NaN without any
}

func judge(t *testing.T, number int) judged { return judgeField(t, invent(t, number)) }

func judgeField(t *testing.T, field invented) judged {
	f := judged{invented: field}
	r, err := assess.Run(t.Context(), []geo.Field{f.field}, f.survey, assess.Settings{Levels: assess.LevelSettings{TreatAt: inventedLevel}, Cell: *cellOf, Chance: byChance})
	require.NoError(t, err)
	set := verdict.Settings{Statistics: fieldstats.Settings{Resamples: 500}}
	all, err := verdict.Of(r, set)
	require.NoError(t, err)
	f.new, f.figures = all[0], all[0].Figures
	f.asFormer(r.Fields[0], set.WithDefaults())
	f.expectedOver = math.NaN()
	if c := r.Fields[0].Chance; c != nil {
		f.expectedOver = c.Expected / r.Fields[0].Area
		f.cutByChance(c.Grid)
	}
	places := r.Fields[0].Losses(inventedLevel)
	f.sums = decision.Weigh(places, decision.Prices{})
	for _, p := range places {
		loss := min(f.truth(p.X, p.Y)/inventedLevel, mostLoss)
		if p.Loss >= 1 {
			loss = 1
		}
		f.places += loss * p.Area / f.sums.Area
	}
	f.treat = r.Fields[0].Map.Zone(zones.Treat).Polygons
	f.grownSums = decision.Weigh(r.Fields[0].Losses(inventedLevel/grown), decision.Prices{})
	f.price(f.treat, inventedLevel)
	return f
}

// chanceCuts are chances of being over the level from which ground may be treated.
var chanceCuts = []float64{0.2, 0.25, 0.3, 0.35, 0.4, 0.5}

// cutByChance is what treating the nodes of a grid of chances costs, patches that no stop
// met left aside as the zones leave them.
func (f *judged) cutByChance(grid interp.Grid) {
	f.byChance = make([]float64, len(chanceCuts))
	unseen, nodes := 0.5/float64(f.stops+1), 0.0
	for i, chance := range grid.Values {
		x, y := grid.Node(i%grid.Cols, i/grid.Cols)
		if math.IsNaN(chance) || !geo.Contains(f.xy, orb.Point{x, y}) {
			continue
		}
		nodes++
		loss := min(f.truth(x, y)/inventedLevel, mostLoss)
		for k, cut := range chanceCuts {
			if chance >= 1-(1-cut)*(1-unseen) {
				f.byChance[k]++
			} else {
				f.byChance[k] += loss
			}
		}
	}
	for k := range f.byChance {
		f.byChance[k] /= nodes
	}
}

// asFormer decides as before, by a map that was believed for its skill.
func (f *judged) asFormer(field *assess.Field, s verdict.Settings) {
	g, trust := f.figures, field.Trust
	g.Believed = trust.Score.Skill > 0 && trust.Stops >= 10 && float64(trust.Empty) <= 0.75*float64(trust.Stops)
	f.formerLine, f.formerKind = former(g, s)
}

// price works out what each choice really costs where a treatment pays from a density on.
func (f *judged) price(treat orb.MultiPolygon, paysAt float64) {
	const step = 10.0 // metres
	rows := int(f.size/step) + 3
	y0 := -f.size/2 - step/2
	treated := geo.InsideSpansOfRows(treat, y0, step, rows)
	n := 0.0
	for row, spans := range geo.InsideSpansOfRows(f.xy, y0, step, rows) {
		y := y0 + step*float64(row)
		for _, span := range spans {
			for x := step * math.Ceil(span.From/step); x <= span.To; x += step {
				m := f.truth(x, y)
				loss := min(m/paysAt, mostLoss)
				n++
				f.trueMean += m
				if m >= inventedLevel {
					f.shareOver++
				}
				f.nothing += loss
				f.knowing += min(loss, 1)
				if in(treated[row], x) {
					loss = 1
				}
				f.zone += loss
			}
		}
	}
	for _, v := range []*float64{&f.trueMean, &f.shareOver, &f.nothing, &f.knowing, &f.zone} {
		*v /= n
	}
}

func in(spans []geo.Span, x float64) bool {
	for _, s := range spans {
		if s.From <= x && x <= s.To {
			return true
		}
	}
	return false
}

// costOf is what following a kind costs.
func (f judged) costOf(k verdict.Kind) float64 {
	switch k {
	case verdict.SpotSpray:
		return f.zone
	case verdict.TreatWhole:
		return 1
	}
	return f.nothing
}

func (f judged) choice(c decision.Choice) float64 {
	switch c {
	case decision.Zone:
		return f.zone
	case decision.Whole:
		return 1
	}
	return f.nothing
}

// byMean is the trade's rule: the whole field where the mean of the stops is at or over
// the threshold, else nothing.
func (f judged) byMean() verdict.Kind {
	if f.figures.Stats.Mean >= inventedLevel {
		return verdict.TreatWhole
	}
	return verdict.LookAgain
}

// settled is what is done today where an undecided verdict names nothing to do: the
// mean decides.
func (f judged) settled(k verdict.Kind) verdict.Kind {
	if k == verdict.Undecided {
		return f.byMean()
	}
	return k
}

// today is what the new verdict says to do today where no stop can be added.
func (f judged) today() verdict.Kind { return today(f.new) }

func today(v verdict.Verdict) verdict.Kind {
	if v.Kind == verdict.Undecided {
		return v.Instead
	}
	return v.Kind
}

func judgeAll(t *testing.T, fields int) []judged { return judgeEach(t, fields, judge) }

func judgeEach(t *testing.T, fields int, judge func(*testing.T, int) judged) []judged {
	all := make([]judged, fields)
	var wg sync.WaitGroup
	for first := range runtime.GOMAXPROCS(0) {
		wg.Go(func() {
			for i := first; i < fields; i += runtime.GOMAXPROCS(0) {
				all[i] = judge(t, i)
			}
		})
	}
	wg.Wait()
	return all
}

// averaged is a mean with its standard error.
type averaged struct{ mean, se float64 }

func over(all []judged, value func(judged) float64) averaged {
	v := make([]float64, len(all))
	for i, f := range all {
		v[i] = value(f)
	}
	return averaged{fieldstats.Mean(v), math.Sqrt(fieldstats.Variance(v) / float64(len(v)))}
}

func (a averaged) String() string { return fmt.Sprintf("%.3f ± %.3f", a.mean, a.se) }

func share(all []judged, of func(judged) bool) float64 {
	return over(all, func(f judged) float64 {
		if of(f) {
			return 1
		}
		return 0
	}).mean
}

func of(all []judged, want func(judged) bool) (some []judged) {
	for _, f := range all {
		if want(f) {
			some = append(some, f)
		}
	}
	return some
}

// ways of deciding, what each costs.
var ways = []struct {
	name string
	cost func(judged) float64
}{
	{"former", func(f judged) float64 { return f.costOf(f.settled(f.formerKind)) }},
	{"new", func(f judged) float64 { return f.costOf(f.today()) }},
	{"zone", func(f judged) float64 { return f.zone }},
	{"mean rule", func(f judged) float64 { return f.costOf(f.byMean()) }},
	{"least sum", func(f judged) float64 { return f.choice(f.sums.Best()) }},
	{"places", func(f judged) float64 { return f.places }},
	{"best of three", func(f judged) float64 { return min(f.nothing, f.zone, 1) }},
	{"truth", func(f judged) float64 { return f.knowing }},
}

func waits(k verdict.Kind) bool { return k == verdict.NoSpray || k == verdict.LookAgain }

func TestDecision(t *testing.T) {
	all := judgeAll(t, simulated())
	row := func(name string, some []judged) {
		text := fmt.Sprintf("%-32s %4d", name, len(some))
		for _, w := range ways {
			text += fmt.Sprintf(" | %s %s", w.name, over(some, w.cost))
		}
		t.Log(text)
	}
	row("all", all)
	for k, kind := range inventedKinds {
		row(kind.name, of(all, func(f judged) bool { return f.kind == k }))
	}
	for _, n := range inventedStops {
		row(fmt.Sprint(n, " stops"), of(all, func(f judged) bool { return f.stops == n }))
	}
	for _, way := range []string{"random", "grid", "W"} {
		row(way, of(all, func(f judged) bool { return f.way == way }))
	}
	t.Log("new - former: ", over(all, func(f judged) float64 { return ways[1].cost(f) - ways[0].cost(f) }))
	t.Log("new - zone: ", over(all, func(f judged) float64 { return ways[1].cost(f) - f.zone }))
	clean := of(all, func(f judged) bool { return f.kind == cleanKind })
	many := of(all, func(f judged) bool { return f.stops >= 20 })
	kindOf := map[string]func(judged) verdict.Kind{"former": func(f judged) verdict.Kind { return f.formerKind }, "new": func(f judged) verdict.Kind { return f.new.Kind }}
	for _, name := range []string{"former", "new"} {
		k := kindOf[name]
		t.Logf("%s: no spray with the mean over %.3f, told to wait with the mean over %.3f, clean told no spray %.2f, undecided %.3f, at 20 stops or more %.3f", name,
			share(all, func(f judged) bool { return k(f) == verdict.NoSpray && f.trueMean >= inventedLevel }),
			share(all, func(f judged) bool { return waits(k(f)) && f.trueMean >= inventedLevel }),
			share(clean, func(f judged) bool { return k(f) == verdict.NoSpray }),
			share(all, func(f judged) bool { return k(f) == verdict.Undecided }),
			share(many, func(f judged) bool { return k(f) == verdict.Undecided }))
	}
	lines := map[string][]judged{}
	for _, f := range all {
		lines["former "+f.formerLine] = append(lines["former "+f.formerLine], f)
		lines["new "+f.new.Line] = append(lines["new "+f.new.Line], f)
	}
	for _, name := range sortedKeys(lines) {
		row(name, lines[name])
	}
	for _, line := range verdict.Lines() {
		met := len(lines["new "+line])
		if met == 0 {
			continue
		}
		t.Logf("without the line %-16s met by %3d, %3d of 20 stops or more: %+.4f a hectare", line, met, len(of(lines["new "+line], func(f judged) bool { return f.stops >= 20 })), over(all, func(f judged) float64 {
			v := verdict.DecideWithout(line, f.figures, verdict.Settings{})
			return f.costOf(today(v)) - f.costOf(f.today())
		}).mean)
	}
	bins(t, "best of sums", all, func(f judged) (float64, float64) {
		b := f.sums.Best()
		return f.sums.Of(b) / f.sums.Area, f.choice(b)
	})
	bins(t, "nothing", all, func(f judged) (float64, float64) { return f.sums.Nothing / f.sums.Area, f.nothing })
	bins(t, "zone", all, func(f judged) (float64, float64) { return f.sums.Zone / f.sums.Area, f.zone })
	bins(t, "L + surprise", all, func(f judged) (float64, float64) { return f.sums.PerArea(f.stops), f.places })
	bins(t, "share over", of(all, func(f judged) bool { return !math.IsNaN(f.expectedOver) }), func(f judged) (float64, float64) { return f.expectedOver, f.shareOver })
	for i, cut := range chanceCuts {
		some := of(all, func(f judged) bool { return f.byChance != nil })
		t.Logf("treated from a chance of %.2f: %s, less than from 0.50 by %s (%d)", cut, over(some, func(f judged) float64 { return f.byChance[i] }),
			over(some, func(f judged) float64 { return f.byChance[len(chanceCuts)-1] - f.byChance[i] }), len(some))
	}
	intervals(t, all)
	holds(t, all)
}

// holds holds the verdict to what is promised; few fields, as in a plain run, tell it
// within their error.
func holds(t *testing.T, all []judged) {
	t.Helper()
	isNew := func(k verdict.Kind) func(judged) bool { return func(f judged) bool { return f.new.Kind == k } }
	saved := over(all, func(f judged) float64 { return f.costOf(f.settled(f.formerKind)) - f.costOf(f.today()) })
	assert.Greater(t, saved.mean, 0.09-2*saved.se, "less than the table before")
	zone := over(all, func(f judged) float64 { return f.costOf(f.today()) - f.zone })
	assert.Less(t, zone.mean, 0.01+2*zone.se, "no more than spraying the treat zone, whatever the map")
	assert.LessOrEqual(t, share(all, func(f judged) bool { return f.new.Kind == verdict.NoSpray && f.trueMean >= inventedLevel }), 0.03)
	assert.LessOrEqual(t, share(all, func(f judged) bool { return waits(f.today()) && f.trueMean >= inventedLevel }), 0.03+1/float64(len(all)))
	assert.GreaterOrEqual(t, share(of(all, func(f judged) bool { return f.kind == cleanKind }), isNew(verdict.NoSpray)), 0.9)
	if len(all) >= 200 {
		assert.LessOrEqual(t, share(of(all, func(f judged) bool { return f.stops >= 20 }), isNew(verdict.Undecided)), 0.1)
	}
	said := over(all, func(f judged) float64 { return f.sums.PerArea(f.stops) - f.places })
	assert.InDelta(t, 0, said.mean, 0.03+2*said.se, "expected cost against the real one")
}

func sortedKeys(m map[string][]judged) []string { return slices.Sorted(maps.Keys(m)) }

// bins sets expected costs against real ones.
func bins(t *testing.T, name string, all []judged, of func(judged) (said, found float64)) {
	t.Helper()
	edges := []float64{0, 0.1, 0.3, 0.5, 0.7, 0.9, 1.1, 2, 9}
	text := name + ", said and found:"
	for i := 1; i < len(edges); i++ {
		var s, g, n float64
		for _, f := range all {
			if a, b := of(f); a >= edges[i-1] && a < edges[i] {
				s, g, n = s+a, g+b, n+1
			}
		}
		text += fmt.Sprintf(" | %.0f: %.3f %.3f", n, s/n, g/n)
	}
	t.Log(text)
}
