package interp

import (
	"cmp"
	"fmt"
	"math"
	"math/rand/v2"
	"runtime"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/testkit"
)

const quickFields = 4

// Ways to tell the chances of a field, in the order of the table.
const (
	byLikeliest = iota // the likeliest range and variance of each offset
	byAverage
	withUnseen // byAverage, and patches that no stop met
	chanceWays
)

// chanceScore is how chances of many places came true.
type chanceScore struct {
	places, log, brier, said, over float64
	bins                           [len(chanceBins)][3]float64 // places, said and over by what was said
}

// chanceBins are where the bins begin.
var chanceBins = [...]float64{0, 0.005, 0.02, 0.05, 0.1, 0.3, 0.6, 0.9}

func (s *chanceScore) add(chance float64, over bool) {
	truth, bin := 0.0, 0
	if over {
		truth = 1
	}
	sure := min(max(chance, 1e-3), 1-1e-3) // or one place would decide
	s.log -= math.Log(math.Abs(1 - truth - sure))
	s.brier += (chance - truth) * (chance - truth)
	for bin+1 < len(chanceBins) && chance >= chanceBins[bin+1] {
		bin++
	}
	for i, v := range []float64{1, chance, truth} {
		s.bins[bin][i] += v
	}
	s.places, s.said, s.over = s.places+1, s.said+chance, s.over+truth
}

func (s *chanceScore) plus(o chanceScore) {
	s.places, s.log, s.brier, s.said, s.over = s.places+o.places, s.log+o.log, s.brier+o.brier, s.said+o.said, s.over+o.over
	for b := range s.bins {
		for i := range s.bins[b] {
			s.bins[b][i] += o.bins[b][i]
		}
	}
}

// scoresOf walks one field and looks how chances at 256 places came true.
func scoresOf(t *testing.T, kind, number int) (scores [chanceWays]chanceScore) {
	rng := rand.New(rand.NewPCG(uint64(number), uint64(kind)))
	g := inventions[kind].make(rng)
	counts := walked(g, rng)
	average, err := ChanceModel{Level: inventedLevel}.Fit(counts)
	require.NoError(t, err)
	likeliest, err := ChanceModel{Level: inventedLevel, likeliest: true}.Fit(counts)
	require.NoError(t, err)
	for i := range 256 {
		x, y := inventedSide*(float64(i%16)+rng.Float64())/16, inventedSide*(float64(i/16)+rng.Float64())/16
		over, chance := g(x, y) >= inventedLevel, average.Over(inventedLevel).Predict(x, y)
		scores[byLikeliest].add(likeliest.Over(inventedLevel).Predict(x, y), over)
		scores[byAverage].add(chance, over)
		scores[withUnseen].add(average.WithUnseen(chance), over)
	}
	return scores
}

// scoresOfKind shares fields among the processors, and adds in their order.
func scoresOfKind(t *testing.T, kind, fields int) (sum [chanceWays]chanceScore) {
	each := make([][chanceWays]chanceScore, fields)
	var wg sync.WaitGroup
	for first := range runtime.GOMAXPROCS(0) {
		wg.Go(func() {
			for number := first; number < fields; number += runtime.GOMAXPROCS(0) {
				each[number] = scoresOf(t, kind, number)
			}
		})
	}
	wg.Wait()
	for _, one := range each {
		for way := range sum {
			sum[way].plus(one[way])
		}
	}
	return sum
}

// Chances averaged over parameters are nearer to the truth than those by the
// likeliest ones, and with what no stop met the low ones are what is found. The full form
// is a table of SIMULATIONS.md:
//
//	go test ./interp -run TestChanceScores -v -timeout 30m -fields 30
func TestChanceScores(t *testing.T) {
	number := cmp.Or(testkit.Fields(), quickFields)
	t.Log("| field | over | log score, likeliest | average | with unseen | squared error, likeliest | average | with unseen | expected / truly over, likeliest | average | with unseen |")
	var all [chanceWays]chanceScore
	for kind, k := range inventions {
		sum := scoresOfKind(t, kind, number)
		t.Log(scoreRow(k.name, sum))
		for way := range all {
			all[way].plus(sum[way])
		}
	}
	t.Log(scoreRow("all", all))
	for bin, from := range chanceBins {
		text := fmt.Sprintf("| said %g and more |", from)
		for _, s := range all {
			b := s.bins[bin]
			text += fmt.Sprintf(" %.4f said, %.4f found of %.0f |", b[1]/b[0], b[2]/b[0], b[0])
		}
		t.Log(text)
	}
	assert.Less(t, all[byAverage].log, 0.98*all[byLikeliest].log, "log score")
	assert.Less(t, all[byAverage].brier, all[byLikeliest].brier, "squared error")
	low := all[withUnseen].bins[1]
	assert.InDelta(t, low[1]/low[0], low[2]/low[0], 0.02, "low chances come true as said")
	assert.InDelta(t, 1, all[withUnseen].said/all[withUnseen].over, 0.15, "expected over")
}

func scoreRow(name string, sum [chanceWays]chanceScore) string {
	text := fmt.Sprintf("| %s | %.1f %% |", name, 100*sum[0].over/sum[0].places)
	for _, s := range sum {
		text += fmt.Sprintf(" %.4f |", s.log/s.places)
	}
	for _, s := range sum {
		text += fmt.Sprintf(" %.4f |", s.brier/s.places)
	}
	for _, s := range sum {
		if s.over == 0 {
			text += fmt.Sprintf(" %.2f %% of none |", 100*s.said/s.places)
			continue
		}
		text += fmt.Sprintf(" %.2f |", s.said/s.over)
	}
	return text
}
