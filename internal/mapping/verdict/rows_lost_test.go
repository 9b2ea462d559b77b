package verdict_test

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/mapping/fieldstats"
	"github.com/geocoris/geocoris/internal/mapping/verdict"
	"github.com/geocoris/geocoris/internal/scouting/survey"
	"github.com/geocoris/geocoris/internal/testkit"
	"github.com/geocoris/geocoris/internal/testkit/given"
)

// spoilt is a field of which the counts of some stops cannot be read.
func (f invented) spoilt(t *testing.T, share float64, hot int, number int) invented {
	stops := slices.Clone(f.survey.Stops)
	r := rand.New(rand.NewPCG(5, uint64(number)))
	r.Shuffle(len(stops), func(i, j int) { stops[i], stops[j] = stops[j], stops[i] })
	if hot != 0 {
		slices.SortStableFunc(stops, func(a, b survey.Stop) int { return hot * cmp.Compare(b.Total/b.Units, a.Total/a.Units) })
	}
	gone := map[string]bool{}
	for _, s := range stops[:int(share*float64(len(stops))+0.5)] {
		gone[s.Name] = true
	}
	lines := strings.Split(f.text, "\n")
	for i, l := range lines {
		cells := strings.Split(l, ",")
		if len(cells) > 4 && gone[cells[0]] {
			cells[3] = "x"
			lines[i] = strings.Join(cells, ",")
		}
	}
	s, err := survey.Read(given.Table(strings.Join(lines, "\n")), survey.Options{Pest: "sorghum aphid"})
	require.NoError(t, err)
	f.survey = s
	return f
}

// What it costs to go by what was read where counts of some stops were not: of any, of the
// hottest, of the coldest. From which share on it is not decided are bounds of unread.go.
func TestRowsLost(t *testing.T) {
	fields := testkit.Fields()
	if fields == 0 {
		t.Skip("the bounds were settled on 96 fields: -v -fields 96 -cell 15 with lostOfSpot and lostOfWhole at 2")
	}
	whole := judgeAll(t, fields)
	for name, hot := range map[string]int{"any": 0, "hottest": 1, "coldest": -1} {
		for _, share := range []float64{0.05, 0.1, 0.15, 0.2, 0.25, 0.33, 0.5, 0.7} {
			all := judgeEach(t, fields, func(t *testing.T, i int) judged { return judgeField(t, invent(t, i).spoilt(t, share, hot, i)) })
			for _, kind := range []verdict.Kind{verdict.SpotSpray, verdict.TreatWhole, verdict.Undecided, verdict.LookAgain} {
				var dearer []float64
				for i, f := range all {
					if f.new.Kind == kind {
						dearer = append(dearer, f.costOf(f.today())-whole[i].costOf(whole[i].today()))
					}
				}
				t.Logf("%s %.2f lost, %s: %d, dearer by %.3f ± %.3f", name, share, kind, len(dearer), fieldstats.Mean(dearer), math.Sqrt(fieldstats.Variance(dearer)/float64(len(dearer))))
			}
		}
	}
}
