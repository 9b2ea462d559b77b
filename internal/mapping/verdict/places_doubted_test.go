package verdict_test

import (
	"cmp"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/mapping/fieldstats"
	"github.com/geocoris/geocoris/internal/mapping/verdict"
	"github.com/geocoris/geocoris/internal/scouting/survey"
	"github.com/geocoris/geocoris/internal/testkit"
	"github.com/geocoris/geocoris/internal/testkit/given"
)

// retold is a field of which rows read otherwise; each row of one of the stops of other observers is
// of one of its own, so that nobody doubts where it was.
func (f invented) retold(t *testing.T, others map[string]bool, row func(cells []string) [][]string) invented {
	lines := strings.Split(strings.TrimSpace(f.text), "\n")
	out := []string{lines[0] + ",observer"}
	for _, l := range lines[1:] {
		for _, cells := range row(strings.Split(l, ",")) {
			observer := "A"
			if others[cells[0]] {
				observer = "of " + cells[0]
			}
			out = append(out, strings.Join(append(cells, observer), ","))
		}
	}
	s, err := survey.Read(given.Table(strings.Join(out, "\n")), survey.Options{Pest: "sorghum aphid"})
	require.NoError(t, err)
	f.survey = s
	return f
}

// drawnStops are the numbers of stops from the second on, the hottest first or in any order.
func (f invented) drawnStops(hot bool, number int) []int {
	stops := f.survey.Stops
	order := rand.New(rand.NewPCG(6, uint64(number))).Perm(len(stops) - 1)
	for i := range order {
		order[i]++
	}
	if hot {
		slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(stops[b].Mean(), stops[a].Mean()) })
	}
	return order
}

// displaced is a field of which some stops stand at the place of the one before: one by one, the
// hottest of them or any, or in a row from the first of these on, as where a phone keeps its fix.
func (f invented) displaced(t *testing.T, share float64, hot, row, asked bool, number int) invented {
	stops, order, of := f.survey.Stops, f.drawnStops(hot, number), map[string]string{}
	for k := range max(1, int(share*float64(len(stops))+0.5)) {
		i := order[k]
		if row {
			i = min(order[0]+k, len(stops)-1)
		}
		of[stops[i].Name] = stops[i-1].Name
		if before, is := of[stops[i-1].Name]; is {
			of[stops[i].Name] = before
		}
	}
	at, others := map[string][]string{}, map[string]bool{}
	for name := range of {
		others[name] = !asked
	}
	for _, l := range strings.Split(f.text, "\n")[1:] {
		if cells := strings.Split(l, ","); len(cells) > 2 {
			at[cells[0]] = cells[1:3]
		}
	}
	return f.retold(t, others, func(cells []string) [][]string {
		if before, is := of[cells[0]]; is {
			cells = slices.Concat(cells[:1], at[before], cells[3:])
		}
		return [][]string{cells}
	})
}

// twice is a field with three of its hottest stops counted again that day, with a twentieth found,
// or with the places of its coldest stops, so that these have two counts.
func (f invented) twice(t *testing.T, moved, asked bool, number int) invented {
	stops := f.survey.Stops
	order, at, again, others := f.drawnStops(true, number), map[string][]string{}, map[string]bool{}, map[string]bool{}
	for k, i := range order[:3] {
		name := stops[i].Name
		if moved {
			cold := stops[order[len(order)-1-k]]
			at[name], others[name] = []string{fmt.Sprintf("%.7f", cold.Longitude), fmt.Sprintf("%.7f", cold.Latitude)}, !asked
			continue
		}
		again[name], others[name+" again"] = true, !asked
	}
	return f.retold(t, others, func(cells []string) [][]string {
		if to, is := at[cells[0]]; is {
			cells = slices.Concat(cells[:1], to, cells[3:])
		}
		if !again[cells[0]] {
			return [][]string{cells}
		}
		n, _ := strconv.Atoi(cells[3])
		more := slices.Clone(cells)
		more[0], more[3] = cells[0]+" again", strconv.Itoa(n/20)
		return [][]string{cells, more}
	})
}

// What it costs to go by stops at the place of another, and how often it talks out of spraying: as
// they stand, and doubted. Nobody who doubts them is ever talked out.
func TestPlacesDoubted(t *testing.T) {
	fields := testkit.Fields()
	if fields == 0 {
		t.Skip("the way was settled on 96 fields: -v -fields 96 -cell 15")
	}
	whole := judgeAll(t, fields)
	compare := func(name string, of func(i int, asked bool) invented) {
		for _, asked := range []bool{false, true} {
			all := judgeEach(t, fields, func(t *testing.T, i int) judged { return judgeField(t, of(i, asked)) })
			var dearer []float64
			talked, first, sprayed := 0, 0, 0
			for i, f := range all {
				dearer = append(dearer, f.costOf(f.today())-whole[i].costOf(whole[i].today()))
				if f.new.Line == verdict.Unread {
					first++
				}
				if whole[i].new.Kind < verdict.SpotSpray {
					continue
				}
				if sprayed++; f.new.Kind == verdict.NoSpray || f.new.Kind == verdict.LookAgain {
					talked++
				}
			}
			t.Logf("%s, asked %v: dearer by %.4f ± %.4f, talked out of spraying %d of %d, to be found out first %d of %d", name, asked,
				fieldstats.Mean(dearer), math.Sqrt(fieldstats.Variance(dearer)/float64(len(dearer))), talked, sprayed, first, fields)
			assert.False(t, asked && talked > 0, name)
		}
	}
	for name, way := range map[string]struct{ hot, row bool }{"any": {}, "hottest": {hot: true}, "one fix": {row: true}, "one fix from the hottest on": {true, true}} {
		for _, share := range []float64{0.01, 0.05, 0.1} {
			compare(fmt.Sprint(name, " ", share), func(i int, asked bool) invented { return invent(t, i).displaced(t, share, way.hot, way.row, asked, i) })
		}
	}
	compare("three counted again", func(i int, asked bool) invented { return invent(t, i).twice(t, false, asked, i) })
	compare("three at cold places", func(i int, asked bool) invented { return invent(t, i).twice(t, true, asked, i) })
}
