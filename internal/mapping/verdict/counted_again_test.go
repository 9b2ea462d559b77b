package verdict_test

import (
	"cmp"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/internal/mapping/fieldstats"
	"github.com/geocoris/geocoris/internal/scouting/survey"
	"github.com/geocoris/geocoris/internal/testkit"
	"github.com/geocoris/geocoris/internal/testkit/given"
)

// again is a field that was walked when its means were those of before, of which the hottest
// stops were counted again today; without their first counts where only the later ones are used.
func (f invented) again(t *testing.T, before truth, hottest int, later bool, number int) invented {
	type place struct {
		name   string
		at     orb.Point
		lonlat [2]float64
		total  int
	}
	r := rand.New(rand.NewPCG(11, uint64(number)))
	count := func(mean float64) (total int) {
		for range f.leaves {
			total += negativeBinomial(mean, 1, r)
		}
		return total
	}
	var all []place
	for _, s := range f.survey.Stops {
		p := place{name: s.Name, at: f.frame.Forward(orb.Point{s.Longitude, s.Latitude}), lonlat: [2]float64{s.Longitude, s.Latitude}}
		p.total = count(before(p.at[0], p.at[1]))
		all = append(all, p)
	}
	slices.SortStableFunc(all, func(a, b place) int { return cmp.Compare(b.total, a.total) })
	var b strings.Builder
	fmt.Fprintln(&b, "stop,longitude,latitude,count,leaves,date,pest")
	row := func(p place, total int, day string) {
		fmt.Fprintf(&b, "%s,%.7f,%.7f,%d,%d,%s,sorghum aphid\n", p.name, p.lonlat[0], p.lonlat[1], total, f.leaves, day)
	}
	for i, p := range all {
		now := count(f.truth(p.at[0], p.at[1]))
		if i >= hottest || !later {
			row(p, p.total, "2026-07-08")
		}
		if i < hottest {
			row(p, now, "2026-07-15")
		}
	}
	s, err := survey.Read(given.Table(b.String()), survey.Options{Pest: "sorghum aphid"})
	require.NoError(t, err)
	f.survey = s
	return f
}

// What it costs to go by both counts of a few hot stops that were counted again a week later,
// or by the later ones alone: where nothing changed, the pest grew, or hot ground was sprayed.
func TestStopsCountedAgain(t *testing.T) {
	fields := testkit.Fields()
	if fields == 0 {
		t.Skip("settled on 48 fields: -v -fields 48 -cell 20")
	}
	const aWeek = 3.17 // doubling every 4.2 days
	for _, c := range []struct {
		name   string
		before func(truth) truth
		now    func(truth) truth
	}{
		{"as before", func(f truth) truth { return f }, func(f truth) truth { return f }},
		{"grown", func(f truth) truth { return func(x, y float64) float64 { return f(x, y) / aWeek } }, func(f truth) truth { return f }},
		{"sprayed", func(f truth) truth { return f }, func(f truth) truth {
			return func(x, y float64) float64 {
				if v := f(x, y); v < inventedLevel {
					return v
				}
				return 0.1 * f(x, y)
			}
		}},
	} {
		judged := func(later bool, hottest int) []judged {
			return judgeEach(t, fields, func(t *testing.T, i int) judged {
				f := invent(t, i)
				before := c.before(f.truth)
				f.truth = c.now(f.truth)
				return judgeField(t, f.again(t, before, hottest, later, i))
			})
		}
		for _, hottest := range []int{2, 4} {
			both, later := judged(false, hottest), judged(true, hottest)
			var a, b, dearer []float64
			for i := range both {
				x, y := both[i].costOf(both[i].today()), later[i].costOf(later[i].today())
				a, b, dearer = append(a, x), append(b, y), append(dearer, x-y)
			}
			t.Logf("%s, %d again: both %.3f, the later %.3f; both dearer by %.3f ± %.3f", c.name, hottest, fieldstats.Mean(a), fieldstats.Mean(b), fieldstats.Mean(dearer), math.Sqrt(fieldstats.Variance(dearer)/float64(len(dearer))))
		}
	}
}
