package verdict_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/internal/mapping/verdict"
)

// patternlessKinds are fields of which no map can be better than the mean: the same
// everywhere, or different at every step. Of the same ones are a third.
var patternlessKinds = []func(float64, *rand.Rand) truth{even, noise, noise}

// even is an eighth of the level to twice it.
func even(_ float64, r *rand.Rand) truth {
	m := inventedLevel * math.Pow(2, -3+4*r.Float64())
	return func(_, _ float64) float64 { return m }
}

// noise differs every 3 m: the logarithm has the standard deviation 0.5 to 1.5, and 2 to
// 60 % of the ground is over the level.
func noise(_ float64, r *rand.Rand) truth {
	sigma := 0.5 + r.Float64()
	share := 0.02 * math.Pow(30, r.Float64())
	mean := math.Log(inventedLevel) - sigma*math.Sqrt2*math.Erfinv(1-2*share)
	seed := r.Uint64()
	return func(x, y float64) float64 {
		at := uint64(uint32(int32(math.Floor(x/3))))<<32 | uint64(uint32(int32(math.Floor(y/3))))
		return math.Exp(mean + sigma*rand.New(rand.NewPCG(seed, at)).NormFloat64())
	}
}

// TestPatternless judges fields without a pattern, on which a map must not be believed:
//
//	go test ./internal/mapping/verdict -run TestPatternless -v -timeout 60m -fields 600
func TestPatternless(t *testing.T) {
	all := judgeEach(t, simulated(), func(t *testing.T, number int) judged {
		return judgeField(t, draw(t, number, patternlessKinds[number%len(patternlessKinds)], false, anyWalk))
	})
	text := fmt.Sprint(len(all), " fields")
	for _, w := range ways {
		text += fmt.Sprintf(" | %s %s", w.name, over(all, w.cost))
	}
	t.Log(text)
	t.Log("new - zone: ", over(all, func(f judged) float64 { return ways[1].cost(f) - f.zone }))
	believed := func(f judged) bool { return f.figures.Believed }
	for _, stops := range [][2]int{{0, 99}, {12, 16}, {20, 30}, {45, 60}} {
		some := of(all, func(f judged) bool { return stops[0] <= f.stops && f.stops <= stops[1] })
		t.Logf("%d to %d stops: %d fields, map believed %.3f, undecided %.3f, before %.3f, told to wait with the mean over %.3f", stops[0], stops[1], len(some), share(some, believed),
			share(some, func(f judged) bool { return f.new.Kind == verdict.Undecided }), share(some, func(f judged) bool { return f.formerKind == verdict.Undecided }),
			share(some, func(f judged) bool { return waits(f.new.Kind) && f.trueMean >= inventedLevel }))
	}
	zone := over(all, func(f judged) float64 { return f.costOf(f.today()) - f.zone })
	assert.Less(t, zone.mean, 2*zone.se, "no more than spraying the treat zone")
	assert.LessOrEqual(t, share(all, believed), 0.1+2*math.Sqrt(0.09/float64(len(all))), "maps believed by chance")
}
