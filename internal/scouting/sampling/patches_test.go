package sampling_test

import (
	"cmp"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/scouting/layout"
	"github.com/geocoris/geocoris/internal/scouting/sampling"
	"github.com/geocoris/geocoris/internal/testkit"
)

const planned = 40

// patchPlan is a plan with what it counts: leaves at or above a tally, or insects.
type patchPlan struct {
	name string
	rule sampling.Wald
	of   func(density float64) float64 // the plan's value of ground of a density
	atOr float64
}

func patchPlans() []patchPlan {
	return []patchPlan{
		// Leaf counts of k = 1 are geometric: P(51 or more) = (m/(m + 1))^51.
		{"share", sampling.Wald{Low: .10, High: .22}, func(m float64) float64 { return math.Pow(m/(m+1), 51) }, 51},
		{"counts", sampling.Wald{Distribution: sampling.NegativeBinomial, Low: 25, High: 60, K: .5}, func(m float64) float64 { return m }, 0},
	}
}

// walked is how a walk is judged, beside what was done before: four stops were
// enough, wherever they lay.
type walked struct {
	name, walk string
	set        sampling.Settings
}

func walksOfPatches() []walked {
	ground := square()
	return []walked{
		{"random", "random", sampling.Settings{}},
		{"grid, row by row", "grid", sampling.Settings{Ground: ground}},
		{"grid, places not given", "grid", sampling.Settings{Planned: planned}},
		{"W", "W", sampling.Settings{Ground: ground}},
	}
}

// ends is how often walks ended so.
type ends struct{ over, under, none, stops float64 }

// TestTallyOnPatches walks invented fields whose true value is the low or the high
// one of a plan, so that an answer is an error as often as the plan says. The full form
// is a table of SIMULATIONS.md:
//
//	go test ./internal/scouting/sampling -run TestTallyOnPatches -v -timeout 30m -fields 300
func TestTallyOnPatches(t *testing.T) {
	number := cmp.Or(testkit.Fields(), testkit.Few(8, 4))
	t.Log("plan | field | walk | over at low | under at high | no answer | stops at low, at high | and from four stops on: over at low | under at high")
	for _, plan := range patchPlans() {
		var nowUnder, nowOver, beforeUnder, rows float64
		for _, kind := range testkit.InventedFields() {
			made := make([][2]testkit.Density, number)
			for i := range made {
				f := kind.Make(rand.New(rand.NewPCG(uint64(i), 7)))
				made[i] = [2]testkit.Density{f.Scaled(plan.rule.Low, plan.of), f.Scaled(plan.rule.High, plan.of)}
			}
			for _, w := range walksOfPatches() {
				now, before := [2]ends{}, [2]ends{}
				for i, both := range made {
					for v, f := range both {
						rng := rand.New(rand.NewPCG(uint64(i), 8))
						now[v].walk(t, plan, f, w, rng, number)
						w := w
						w.set = sampling.Settings{Independent: true}
						before[v].walk(t, plan, f, w, rand.New(rand.NewPCG(uint64(i), 8)), number)
					}
				}
				t.Logf("| %s | %s | %s | %.2f | %.2f | %.2f, %.2f | %.1f, %.1f | %.2f | %.2f |", plan.name, kind.Name, w.name,
					now[0].over, now[1].under, now[0].none, now[1].none, now[0].stops, now[1].stops, before[0].over, before[1].under)
				if kind.Name == "edge" { // which no stop inside it has seen: plan --edge
					continue
				}
				nowOver, nowUnder, beforeUnder, rows = nowOver+now[0].over, nowUnder+now[1].under, beforeUnder+before[1].under, rows+1
				if number >= 100 { // of fewer a walk or two decide
					assert.LessOrEqual(t, max(now[0].over, now[1].under), .20, "twice what the plan says")
				}
			}
		}
		assert.LessOrEqual(t, max(nowOver, nowUnder)/rows, .08, "over all kinds and walks")
		assert.Greater(t, beforeUnder/rows, .20, "from four stops on")
	}
}

func (e *ends) walk(t *testing.T, plan patchPlan, f testkit.Density, w walked, rng *rand.Rand, of int) {
	tally, err := sampling.NewTally(plan.rule, w.set)
	require.NoError(t, err)
	var a sampling.Answer
	for _, at := range testkit.Walks()[w.walk](rng, planned) {
		c := sampling.Count{Units: 10}
		for _, x := range testkit.LeafCounts(rng, f.At(at), 1, 10) {
			switch {
			case plan.atOr == 0:
				c.Total += x
			case x >= plan.atOr:
				c.Total++
			}
		}
		a, err = tally.AddAt(at, c)
		require.NoError(t, err)
		if a.Verdict != sampling.GoOn {
			break
		}
	}
	part := 1 / float64(of)
	e.stops += part * float64(a.Stops)
	switch a.Verdict {
	case sampling.Over:
		e.over += part
	case sampling.Under:
		e.under += part
	default:
		e.none += part
	}
}

func square() layout.Lattice {
	const n = 30
	const cell = testkit.InventedSide / n
	g := layout.Lattice{Cell: cell * cell}
	for i := range n * n {
		g.Points = append(g.Points, [2]float64{cell * (float64(i%n) + .5), cell * (float64(i/n) + .5)})
	}
	return g
}

// A walk along one side is no field however many stops it has, and is one as soon
// as the other side has been seen.
func TestNoAnswerBeforeTheFieldIsCrossed(t *testing.T) {
	tally, err := sampling.NewTally(share(.1, .3), sampling.Settings{Ground: square(), Most: 80})
	require.NoError(t, err)
	var a sampling.Answer
	for i := range 30 {
		a, err = tally.AddAt([2]float64{10 + 22*float64(i), 20}, sampling.Count{Units: 10})
		require.NoError(t, err)
		require.Equal(t, sampling.GoOn, a.Verdict, "stop %d", i+1)
	}
	assert.False(t, a.Crossed)
	assert.Less(t, a.Spoken, .4)
	for i := range 30 {
		a, err = tally.AddAt([2]float64{60 + 140*float64(i%5), 100 + 110*float64(i/5)}, sampling.Count{Units: 10})
		require.NoError(t, err)
	}
	assert.True(t, a.Crossed)
	assert.Equal(t, sampling.Under, a.Verdict)
	a, err = tally.Add(sampling.Count{Units: 10}) // a place that is not given: judged by the plan
	require.NoError(t, err)
	assert.True(t, math.IsNaN(a.Spoken))
}

func TestPlannedStopsAreAllMade(t *testing.T) {
	tally, err := sampling.NewTally(share(.1, .3), sampling.Settings{Planned: 20})
	require.NoError(t, err)
	for i := range 20 {
		a, err := tally.Add(sampling.Count{Units: 10})
		require.NoError(t, err)
		assert.Equal(t, i == 19, a.Verdict == sampling.Under, "stop %d", i+1)
	}
}
