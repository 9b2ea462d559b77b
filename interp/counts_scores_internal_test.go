package interp

import (
	"fmt"
	"math"
	"math/rand/v2"
	"runtime"
	"slices"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat"

	"github.com/geocoris/geocoris/internal/testkit"
)

// columnsOf are columns of numbers of a table of reference data, row by row.
func columnsOf(t *testing.T, path string, columns ...string) (rows [][]float64) {
	table := testkit.ReadTable(t, path)
	for i := range table.Len() {
		row := make([]float64, len(columns))
		for k, c := range columns {
			v, ok := table.Number(t, i, c)
			require.True(t, ok, "%s, row %d, %s", path, i+1, c)
			row[k] = v
		}
		rows = append(rows, row)
	}
	return rows
}

// Log-likelihood, mode, predictions and their errors are those that glmmTMB finds
// (testdata/reference/count-geostatistics). Its errors hold the doubt of all parameters,
// by the delta method.
func TestCountProcessAgainstOutsideNumbers(t *testing.T) {
	folder := testkit.Testdata(t, "reference", "count-geostatistics")
	found := [3]float64{-0.386536529608, 0.82276183051, 0.277866162292} // mean, log sd, log range
	var seen []Count
	fit := columnsOf(t, folder+"/cyst64_poisson_exp_fit.csv", "x", "y", "count", "eta")
	for _, r := range fit {
		seen = append(seen, Count{X: r[0], Y: r[1], Mean: r[2], Units: 1})
	}
	with := func(p [3]float64) *countProcess {
		return newCountProcess(t, seen, ChanceParameters{Mean: p[0], Variance: math.Exp(2 * p[1]), Range: math.Exp(p[2])}, 0, Exponential)
	}
	const h = 1e-3
	moved := func(i, j int, by, and float64) *countProcess {
		p := found
		p[i] += by * h
		p[j] += and * h
		return with(p)
	}
	at := with(found)
	assert.InDelta(t, -147.30608333, at.evidence, 1e-8)
	for i, r := range fit {
		assert.InDelta(t, r[3], at.Mean+at.mode.AtVec(i), 1e-8)
	}
	bend, doubt := mat.NewDense(3, 3, nil), mat.Dense{}
	var up, down [3]*countProcess
	for i := range 3 {
		up[i], down[i] = moved(i, i, 1, 0), moved(i, i, -1, 0)
		for j := range 3 {
			bend.Set(i, j, -(moved(i, j, 1, 1).evidence-moved(i, j, 1, -1).evidence-moved(i, j, -1, 1).evidence+moved(i, j, -1, -1).evidence)/(4*h*h))
		}
	}
	require.NoError(t, doubt.Inverse(bend))
	for _, r := range columnsOf(t, folder+"/cyst64_poisson_exp_pred.csv", "x", "y", "link", "se") {
		z, slope := at.of(r[0], r[1]), mat.NewVecDense(3, nil)
		for i := range 3 {
			slope.SetVec(i, (up[i].of(r[0], r[1]).mean-down[i].of(r[0], r[1]).mean)/(2*h))
		}
		assert.InDelta(t, r[2], z.mean, 1e-7)
		assert.InDelta(t, r[3], math.Sqrt(z.variance+mat.Inner(slope, &doubt, slope)), 1e-6)
	}
}

// Ways to tell chances, in the order of the tables.
const (
	byLogs        = iota // as the product does
	bySmallOffset        // of its processes those with the smallest offset alone
	byCounts             // by whole counts
	byBoth               // by logs and by counts, weighted by left-out chances
	countWays
)

// countScore is how chances came true, and what it cost to treat where leaving was
// expected to cost a treatment or more.
type countScore struct {
	chanceScore
	cost float64
}

type countScores [countWays]countScore

func (s *countScores) plus(o countScores) {
	for way := range s {
		s[way].plus(o[way].chanceScore)
		s[way].cost += o[way].cost
	}
}

// told is the chance that a place is at or above a level, and the expected mean there, at
// most so much.
type told struct{ chance, capped float64 }

// tell is what each way says of a place.
func tell(logs *Chances, counts *countAverage, weight, level, x, y float64) (all [countWays]told) {
	const most = 5 // levels
	var small float64
	for _, d := range logs.At(x, y) {
		chance, capped := d.Over(level), d.Capped(most*level)
		all[byLogs].chance += chance
		all[byLogs].capped += capped
		if d.Offset == halfCountable(logs.pooled) {
			all[bySmallOffset].chance += chance
			all[bySmallOffset].capped += capped
			small += d.Weight
		}
	}
	if small == 0 {
		all[bySmallOffset], small = all[byLogs], 1
	}
	all[bySmallOffset].chance /= small
	all[bySmallOffset].capped /= small
	counts.each(x, y, func(w float64, _ *countProcess, z gauss) {
		all[byCounts].chance += w * ChanceParameters{}.above(level, z)
		all[byCounts].capped += ShiftedLogNormal{w, 0, z.mean, z.variance}.Capped(most * level)
	})
	all[byBoth] = told{
		(1-weight)*all[byLogs].chance + weight*all[byCounts].chance,
		(1-weight)*all[byLogs].capped + weight*all[byCounts].capped,
	}
	return all
}

// countScoresOf walks one field and looks how chances at 256 places came true; apart is
// the mean difference between those by logs and by counts.
func countScoresOf(t *testing.T, kind, number int) (scores countScores, apart float64) {
	rng := rand.New(rand.NewPCG(uint64(number), uint64(kind)))
	g := inventions[kind].make(rng)
	logs, err := ChanceModel{Level: inventedLevel}.Fit(walked(g, rng))
	require.NoError(t, err)
	counts := newCountAverage(t, logs.pooled, inventedLevel)
	weight := counts.weightBeside(logs, inventedLevel)
	for i := range 256 {
		x, y := inventedSide*(float64(i%16)+rng.Float64())/16, inventedSide*(float64(i/16)+rng.Float64())/16
		density := g(x, y)
		all := tell(logs, counts, weight, inventedLevel, x, y)
		for way, said := range all {
			scores[way].add(logs.WithUnseen(said.chance), density >= inventedLevel)
			cost := min(density/inventedLevel, 5)
			if said.capped >= inventedLevel {
				cost = 1
			}
			scores[way].cost += cost
		}
		apart += math.Abs(all[byLogs].chance-all[byCounts].chance) / 256
	}
	return scores, apart
}

// inTurn shares numbers among the processors.
func inTurn(n int, do func(int)) {
	var wg sync.WaitGroup
	for first := range runtime.GOMAXPROCS(0) {
		wg.Go(func() {
			for i := first; i < n; i += runtime.GOMAXPROCS(0) {
				do(i)
			}
		})
	}
	wg.Wait()
}

// countMeasures are what the table compares, each a mean over places.
var countMeasures = []struct {
	name string
	of   func(countScore) float64
}{
	{"log score", func(s countScore) float64 { return s.log / s.places }},
	{"squared error", func(s countScore) float64 { return s.brier / s.places }},
	{"cost", func(s countScore) float64 { return s.cost / s.places }},
}

// countRow is a row of the table: the measures by logs, and how much more they are in the
// other ways, in pairs.
func countRow(name string, all []countScores) string {
	var sum countScores
	for _, s := range all {
		sum.plus(s)
	}
	text := fmt.Sprintf("| %s | %.1f %% over", name, 100*sum[byLogs].over/sum[byLogs].places)
	for _, m := range countMeasures {
		if m.of(sum[byLogs]) == 0 { // nobody knows what real counts cost
			continue
		}
		text += fmt.Sprintf(" | %s %.4f", m.name, m.of(sum[byLogs]))
		for way := bySmallOffset; way < countWays; way++ {
			text += fmt.Sprintf(", %v", moreBy(all, way, m.of))
		}
	}
	text += " | expected / truly over"
	for _, s := range sum {
		text += fmt.Sprintf(" %.2f", s.said/s.over)
	}
	return text + " |"
}

// moreBy is how much more a measure is in a way than by logs, with its standard error.
func moreBy(all []countScores, way int, of func(countScore) float64) difference {
	var more []float64
	for _, s := range all {
		more = append(more, of(s[way])-of(s[byLogs]))
	}
	mean, sd := stat.MeanStdDev(more, nil)
	return difference{mean, sd / math.Sqrt(float64(len(more)))}
}

type difference struct{ mean, se float64 }

func (d difference) String() string { return fmt.Sprintf("%+.4f ± %.4f", d.mean, d.se) }

// TestCountScores sets chances of the product beside those of whole counts, a model that
// shares with it the net of parameters and nothing else: they are near each other. The
// full form is a table of SIMULATIONS.md:
//
//	go test ./interp -run TestCountScores -v -timeout 60m -fields 60
func TestCountScores(t *testing.T) {
	number := max(testkit.Fields(), 1)
	t.Log("each measure by logs, then how much more by the smallest offset, by counts, by both")
	var all []countScores
	var apart []float64
	for kind, k := range inventions {
		each, far := make([]countScores, number), make([]float64, number)
		inTurn(number, func(i int) { each[i], far[i] = countScoresOf(t, kind, i) })
		t.Log(countRow(k.name, each))
		all, apart = append(all, each...), append(apart, far...)
	}
	t.Log(countRow("all", all), "apart by", stat.Mean(apart, nil))
	assert.Less(t, stat.Mean(apart, nil), 0.035, "chances of two models")
}

// A countSet is real counts with their places.
type countSet struct {
	name string
	rows [][]float64 // x, y, count
}

// realCounts lists those of the reference data; of the mites the species found in 20
// cores or more.
func realCounts(t *testing.T) (sets, mites []countSet) {
	counts, insects := testkit.Shared(t, "data", "count-geostatistics"), testkit.Shared(t, "data", "insect-counts")
	for _, name := range []string{"cyst64", "weeds50_hm"} {
		sets = append(sets, countSet{name, columnsOf(t, counts+"/"+name+"_poisson_exp_fit.csv", "x", "y", "count")})
	}
	sets = append(sets, countSet{"aphids", columnsOf(t, insects+"/aphids_1996-06-28.csv", "x_m", "y_m", "count")})
	weeks := columnsOf(t, insects+"/arthropods_6weeks_1996.csv", "x_m", "y_m", "count", "week")
	for week := 1.0; week <= 6; week++ {
		sets = append(sets, countSet{fmt.Sprint("arthropods ", week), slices.DeleteFunc(slices.Clone(weeks), func(r []float64) bool { return r[3] != week })})
	}
	for _, name := range []string{"n.brevicollis", "linyphiidae", "collembola", "carabidae", "lycosidae"} {
		sets = append(sets, countSet{name, columnsOf(t, insects+"/holland_species_1996.csv", "row", "col", name)})
	}
	sets = append(sets, countSet{"codling moths", columnsOf(t, insects+"/codling_moths_2008.csv", "x_m", "y_m", "count")})
	for _, name := range []string{"Brachy", "PHTH", "HPAV", "RARD", "MEGR", "TVIE", "HMIN", "HMIN2", "NPRA", "TVEL", "ONOV", "SUCT", "LCIL", "Oribatl1", "Ceratoz1", "PWIL", "Galumna1", "Trhypch1", "NCOR", "FSET", "Eupelops", "LRUG", "PLAG2", "Ceratoz3", "Oppiminu"} {
		mites = append(mites, countSet{name, columnsOf(t, insects+"/oribatid_mites_70cores.csv", "x_m", "y_m", name)})
	}
	return sets, mites
}

// heldOut draws 15, 20 or 30 of the counts, and looks how chances of the others came true.
func (s countSet) heldOut(t *testing.T, level float64, draw int) (scores countScores) {
	rng := rand.New(rand.NewPCG(uint64(draw), 77))
	order := rng.Perm(len(s.rows))
	n := min([]int{15, 20, 30}[draw%3], len(order)/2)
	var seen []Count
	for _, i := range order[:n] {
		seen = append(seen, Count{X: s.rows[i][0], Y: s.rows[i][1], Mean: s.rows[i][2], Units: 1})
	}
	logs, err := ChanceModel{Level: level}.Fit(seen)
	require.NoError(t, err)
	counts := newCountAverage(t, logs.pooled, level)
	weight := counts.weightBeside(logs, level)
	for _, i := range order[n:] {
		r := s.rows[i]
		var said [countWays]float64
		var small float64
		logs.tell([][2]float64{{r[0], r[1]}}, func(_ int, p *process, y gauss) {
			chance := p.Weight * p.above(level, gauss{y.mean, y.variance + p.noise(level, 1)})
			said[byLogs] += chance
			if p.Offset == halfCountable(logs.pooled) {
				said[bySmallOffset] += chance
				small += p.Weight
			}
		})
		if small == 0 {
			said[bySmallOffset], small = said[byLogs], 1
		}
		said[bySmallOffset] /= small
		counts.each(r[0], r[1], func(w float64, p *countProcess, z gauss) { said[byCounts] += w * p.reading(level, 1, z) })
		said[byBoth] = (1-weight)*said[byLogs] + weight*said[byCounts]
		for way, chance := range said {
			scores[way].add(min(chance, 1), r[2] >= level)
		}
	}
	return scores
}

// heldOutAt draws so many times at a level that so many of the counts are below.
func (s countSet) heldOutAt(t *testing.T, below float64, draws int) (row string, sum countScores) {
	var values []float64
	for _, r := range s.rows {
		values = append(values, r[2])
	}
	slices.Sort(values)
	level := max(1, values[int(below*float64(len(values)))])
	each := make([]countScores, draws)
	inTurn(draws, func(draw int) { each[draw] = s.heldOut(t, level, draw) })
	for _, e := range each {
		sum.plus(e)
	}
	return countRow(fmt.Sprintf("%s, at %g", s.name, level), each), sum
}

// TestRealCountScores does the same on real counts of which most are held out:
//
//	go test ./interp -run TestRealCountScores -v -timeout 60m -fields 30
func TestRealCountScores(t *testing.T) {
	draws := max(testkit.Fields(), 1)
	sets, mites := realCounts(t)
	t.Log("each measure by logs, then how much more by the smallest offset, by counts, by both")
	for _, some := range [][]countSet{sets, mites} {
		var all []countScores
		for _, set := range some {
			for _, below := range []float64{0.5, 0.8} {
				row, sum := set.heldOutAt(t, below, draws)
				t.Log(row)
				all = append(all, sum)
			}
		}
		t.Log(countRow("all of these", all))
		assert.InDelta(t, 0, moreBy(all, byCounts, countMeasures[0].of).mean, 0.03, "log score of two models")
	}
}
