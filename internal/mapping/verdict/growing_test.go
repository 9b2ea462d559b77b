package verdict_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/internal/mapping/verdict"
)

// grown is by how much the pest of TestGrowingPest grows until the next look: three days
// at a doubling in 4.2 days.
const grown = 1.64

// TestGrowingPest judges fields by what is lost by the next look, and sets the verdict of
// today's densities against that of sums of the grown ones:
//
//	go test ./internal/mapping/verdict -run TestGrowingPest -v -timeout 60m -fields 240
func TestGrowingPest(t *testing.T) {
	all := judgeAll(t, simulated())
	var now, then []judged
	for _, f := range all {
		f.trueMean, f.shareOver, f.nothing, f.knowing, f.zone = 0, 0, 0, 0, 0
		f.price(f.treat, inventedLevel/grown)
		now = append(now, f)
		f.figures.Sums = f.grownSums
		f.new = verdict.Decide(f.figures, verdict.Settings{})
		then = append(then, f)
	}
	change := make([]float64, len(now))
	for i := range now {
		change[i] = ways[1].cost(then[i]) - ways[1].cost(now[i])
	}
	for _, w := range ways[:4] { // the others go by today's sums
		t.Logf("%s: by today's sums %s, by grown ones %s", w.name, over(now, w.cost), over(then, w.cost))
	}
	t.Log("grown - today's:", meanOf(change))
	undecided := func(f judged) bool { return f.new.Kind == verdict.Undecided }
	t.Logf("undecided: today's sums %.3f, grown ones %.3f", share(now, undecided), share(then, undecided))
	assert.Less(t, meanOf(change).mean, 0.02+3*meanOf(change).se, "sums of what is lost by then cost no more by then")
}
