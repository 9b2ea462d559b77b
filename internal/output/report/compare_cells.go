package report

import (
	"bufio"
	"io"
	"math"
	"strconv"
	"strings"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/internal/followup/change"
	"github.com/geocoris/geocoris/internal/followup/compare"
	"github.com/geocoris/geocoris/internal/language/figures"
)

// WriteCells writes one row for every node of a field's lattice that lies inside
// it: the values of all visits, difference, ratio, growth a day and days of
// doubling of each step, pest-days, days to the treat level. A cell is empty where
// a visit had no stop near; days to the level are empty too where it will not be
// reached. Of shares growth and doubling are of their odds, and the columns say so.
// Where ground was treated between the visits of a step, a column has 1 in it and 0
// elsewhere: growth there is with what the treatment did.
func WriteCells(w io.Writer, f *compare.Field) error {
	b := bufio.NewWriter(w)
	columns := cellColumns(f)
	names := []string{"longitude", "latitude"}
	for _, c := range columns {
		names = append(names, c.name)
	}
	b.WriteString(strings.Join(names, ","))
	b.WriteByte('\n')
	l := f.Visits[0].Grid.Surface.Value.Lattice
	var line []byte
	for i := range change.NodesInside(l, f.XY) {
		x, y := l.Node(i%l.Cols, i/l.Cols)
		p := f.Frame.Inverse(orb.Point{x, y})
		line = strconv.AppendFloat(line[:0], p[0], 'f', 7, 64)
		line = append(line, ',')
		line = strconv.AppendFloat(line, p[1], 'f', 7, 64)
		for _, c := range columns {
			line = append(line, ',')
			if v := c.at(i); !math.IsNaN(v) && !math.IsInf(v, 0) {
				line = strconv.AppendFloat(line, figures.Rounded(v, c.decimals), 'f', -1, 64)
			}
		}
		b.Write(append(line, '\n'))
	}
	return b.Flush()
}

type cellColumn struct {
	name     string
	decimals int
	at       func(i int) float64
}

func cellColumns(f *compare.Field) (out []cellColumn) {
	add := func(name string, decimals int, values []float64) {
		out = append(out, cellColumn{name, decimals, func(i int) float64 { return values[i] }})
	}
	for _, v := range f.Visits {
		grid := v.Grid
		out = append(out, cellColumn{"value_" + v.Date, countDecimals, func(i int) float64 {
			if grid.Surface.Distance.Values[i] > grid.Reach {
				return math.NaN()
			}
			return grid.Surface.Value.Values[i]
		}})
	}
	of := ""
	if f.Scale.Shares() {
		of = "odds_"
	}
	for _, s := range allSteps(f) {
		span := f.Visits[s.From].Date + "_" + f.Visits[s.To].Date
		add("difference_"+span, countDecimals, s.Grids.Difference.Values)
		add("ratio_"+span, rateDecimals, s.Grids.Ratio.Values)
		add(of+"growth_per_day_"+span, rateDecimals, s.Grids.Rate.Values)
		add(of+"doubling_days_"+span, countDecimals, s.Grids.Doubling.Values)
	}
	for _, s := range allSteps(f) {
		if len(s.TreatedOn) == 0 {
			continue
		}
		treated := make([]float64, s.Grids.Rate.Len())
		for i := range change.NodesInside(s.Grids.Rate.Lattice, s.TreatedGround) {
			treated[i] = 1
		}
		add("treated_"+f.Visits[s.From].Date+"_"+f.Visits[s.To].Date, 0, treated)
	}
	add("pest_days", countDecimals, f.PestDays.Grid.Values)
	add("days_to_treat", countDecimals, f.Next.Days.Values)
	return out
}
