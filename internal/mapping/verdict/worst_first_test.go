package verdict_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/internal/mapping/fieldstats"
	"github.com/geocoris/geocoris/internal/mapping/verdict"
)

func TestWorstFirst(t *testing.T) {
	of := func(name string, k verdict.Kind, treat, days, mean float64) *verdict.Verdict {
		v := &verdict.Verdict{Field: name, Kind: k, Days: days}
		v.TreatArea, v.Stats = treat, fieldstats.Summary{Mean: mean}
		return v
	}
	want := []*verdict.Verdict{
		of("all", verdict.TreatWhole, 1, 3, 5), of("large spot", verdict.SpotSpray, 200, 3, 10), of("small spot", verdict.SpotSpray, 100, 1, 90),
		of("open", verdict.Undecided, 0, 1, 0), of("unread", verdict.Undecided, 0, 1, math.NaN()),
		of("soon", verdict.LookAgain, 0, 3, 1), of("later", verdict.LookAgain, 0, 6, 30),
		of("quiet, more", verdict.NoSpray, 0, 7, 2), of("quiet", verdict.NoSpray, 0, 7, 1), nil,
	}
	rng := rand.New(rand.NewPCG(1, 2))
	for range 100 {
		got := slices.Clone(want)
		rng.Shuffle(len(got), func(i, j int) { got[i], got[j] = got[j], got[i] })
		slices.SortStableFunc(got, verdict.WorstFirst)
		assert.Equal(t, want, got)
	}
}
