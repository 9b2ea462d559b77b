package report_test

import (
	"flag"
	"fmt"
	"math/rand/v2"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/geometry/boundary"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/mapping/fieldstats"
	"github.com/geocoris/geocoris/internal/mapping/verdict"
	"github.com/geocoris/geocoris/internal/output/report"
	"github.com/geocoris/geocoris/internal/scouting/survey"
	"github.com/geocoris/geocoris/internal/testkit"
	"github.com/geocoris/geocoris/internal/testkit/given"
)

// A walk is an invented survey as a table, its rows in cells.
type walk struct {
	fields []geo.Field
	header []string
	rows   [][]string
	of     []string // name of the field that each row lies in
	nought bool     // the other pest was counted and not found
}

const (
	degree = 111_320.0 // metres, about
	side   = 260.0     // metres, of an invented field
)

// squares are n fields in a row, a kilometre from one to the next, and so many others far
// away that nobody walked: in runs of more than 100 no chances are worked out, which
// take longest, and verdicts go by the surface through the counts.
func squares(t require.TestingT, n, others int) []geo.Field {
	const far = 1000 // fields
	var features []string
	for k := range n + others {
		i := k
		if k >= n {
			i = far + k
		}
		w, e, h := float64(i)*1000/degree, (float64(i)*1000+side)/degree, side/degree
		features = append(features, fmt.Sprintf(`{"type":"Feature","properties":{"name":"field %d"},"geometry":{"type":"Polygon","coordinates":[[[%[2]g,0],[%[3]g,0],[%[3]g,%[4]g],[%[2]g,%[4]g],[%[2]g,0]]]}}`, i+1, w, e, h))
	}
	c, err := geofile.Decode("squares.geojson", strings.NewReader(`{"type":"FeatureCollection","features":[`+strings.Join(features, ",")+`]}`), geofile.Limits{})
	require.NoError(t, err)
	fields, _, err := boundary.Fields(c.Features, boundary.Settings{})
	require.NoError(t, err)
	return fields
}

// drawnWalk are 8 to 25 stops in each of one or two fields, by the stop or by the
// leaf, with counts about the levels: quiet fields, one hot stop, hot corners, and
// means near the threshold.
func drawnWalk(r *rand.Rand, squares func(int) []geo.Field) walk {
	fields := 1 + r.IntN(5)/4
	w := walk{fields: squares(fields), header: []string{"stop", "longitude", "latitude", "count", "leaves", "date", "pest", "plant", "leaf", "notes"}}
	byLeaf := r.IntN(3) == 0
	if byLeaf {
		w.header[4] = "empty"
	}
	for f := range fields {
		kind, level := r.IntN(4), 5+55*r.Float64()
		for i := range 8 + r.IntN(18) {
			x, y := 2+(side-4)*r.Float64(), 2+(side-4)*r.Float64()
			w.add(r, f, fmt.Sprint(f*100+i+1), x, y, drawnMean(r, kind, i, x, y, level), byLeaf)
		}
	}
	return w
}

func drawnMean(r *rand.Rand, kind, i int, x, y, level float64) float64 {
	quiet := 12 * r.Float64()
	switch {
	case kind == 1 && i == 0, kind == 2 && x < side/2 && y < side/2: // one hot stop, a hot corner
		return quiet + 20 + 140*r.Float64()
	case kind == 3:
		return 2 * level * r.Float64()
	case r.IntN(3) == 0:
		return 0
	}
	return quiet
}

// add takes a stop in, as one row of ten leaves or a row for each of two to four.
func (w *walk) add(r *rand.Rand, field int, stop string, x, y, mean float64, byLeaf bool) {
	rows := 1
	if byLeaf {
		rows = 2 + r.IntN(3)
	}
	for leaf := range rows {
		count, units, plant, number := fmt.Sprintf("%.0f", 10*mean), "10", "", ""
		if byLeaf {
			count, units = fmt.Sprintf("%.0f", mean*(0.2+1.6*r.Float64())), ""
			plant, number = fmt.Sprint(leaf+1), "1"
		}
		w.rows = append(w.rows, []string{stop, fmt.Sprintf("%.7f", (float64(field)*1000+x)/degree), fmt.Sprintf("%.7f", y/degree),
			count, units, "2026-07-15", "sorghum aphid", plant, number, ""})
		w.of = append(w.of, fmt.Sprintf("field %d", field+1))
	}
}

// named is the walk with a column that names the field of each row.
func (w walk) named() walk {
	w.header = append(slices.Clone(w.header), "field")
	for i, r := range w.rows {
		w.rows[i] = append(r, w.of[i])
	}
	return w
}

// besideNought is a word for none in a table that writes 0 where nothing was found.
const besideNought = "a word for none beside a 0"

// spoilings make a row unreadable, each in a way that files have.
var spoilings = []struct {
	name  string
	spoil func(header, cells []string) []string
}{
	{"count of words", func(_, c []string) []string { c[3] = "1O0"; return c }},
	{"a program's word for a blank", func(_, c []string) []string { c[3], c[9] = "None", "None"; return c }},
	{besideNought, func(_, c []string) []string {
		if c[3] == "0" {
			c[3] = "none found" // is what it is
		} else {
			c[3] = "none"
		}
		return c
	}},
	{"no count", func(_, c []string) []string { c[3] = ""; return c }},
	{"negative count", func(_, c []string) []string { c[3] = "-" + c[3] + "1"; return c }},
	{"count with a half", func(_, c []string) []string { c[3] += ".5"; return c }},
	{"no longitude", func(_, c []string) []string { c[1] = ""; return c }},
	{"latitude of words", func(_, c []string) []string { c[2] = "north end"; return c }},
	{"no fix", func(_, c []string) []string { c[1], c[2] = "0", "0"; return c }},
	{"latitude beyond the pole", func(_, c []string) []string { c[2] = "95.2"; return c }},
	{"neither place nor count", func(_, c []string) []string { c[1], c[3] = "?", "many"; return c }},
	{"date of words", func(_, c []string) []string { c[5] = "yesterday"; return c }},
	{"no stop", func(_, c []string) []string { c[0] = ""; return c }},
	{"no pest", func(_, c []string) []string { c[6] = ""; return c }},
	{"units of words", func(_, c []string) []string { c[4] = "ten"; return c }},
	{"units of none", func(h, c []string) []string {
		c[4] = "0"
		if h[4] == "empty" {
			c[4] = "-1"
		}
		return c
	}},
	{"count cut in two", func(_, c []string) []string { return slices.Insert(c, 4, "150") }},
	{"note cut in two", func(_, c []string) []string { return append(c, "wet leaves") }},
	{"cut off", func(_, c []string) []string { return c[:3] }},
	{"stray quote", func(_, c []string) []string { c[9] = `"6" high`; return c }},
}

// drawnRow is any row, or one of those with the highest counts.
func (w walk) drawnRow(r *rand.Rand) int {
	order := r.Perm(len(w.rows))
	if r.IntN(2) == 0 {
		slices.SortStableFunc(order, func(a, b int) int { return w.count(b) - w.count(a) })
		return order[r.IntN(3)]
	}
	return order[0]
}

func (w walk) count(row int) int {
	n, _ := strconv.Atoi(w.rows[row][3])
	return n
}

func (w walk) text() string {
	lines := []string{strings.Join(w.header, ",")}
	for _, r := range w.rows {
		lines = append(lines, strings.Join(r, ","))
	}
	// Another pest in the file, so that a row has to say which it is of.
	other := 3
	if w.nought {
		other = 0
	}
	lines = append(lines, fmt.Sprintf("900,%.7f,%.7f,%d,1,2026-07-15,greenbug,1,1,", 100/degree, 100/degree, other))
	return strings.Join(lines, "\n") + "\n"
}

// answers are the verdicts by the names of their fields; none where nothing can be
// mapped.
func (w walk) answers(t *testing.T) map[string]verdict.Verdict {
	s := w.read(t)
	r, err := assess.Run(t.Context(), w.fields, s, assess.Settings{Cell: 20})
	if err != nil {
		return nil
	}
	all, err := verdict.Of(r, verdict.Settings{Statistics: fieldstats.Settings{Resamples: 200}})
	require.NoError(t, err)
	of := map[string]verdict.Verdict{}
	for _, v := range all {
		of[v.Field] = v
	}
	return of
}

func (w walk) read(t *testing.T) *survey.Survey {
	s, err := survey.Read(given.Table(w.text()), survey.Options{Pest: "sorghum aphid"})
	require.NoError(t, err)
	return s
}

func (w walk) with(row int, cells []string) walk {
	w.rows = slices.Clone(w.rows)
	w.rows[row] = cells
	if cells == nil {
		w.rows = slices.Delete(w.rows, row, row+1)
	}
	return w
}

var tells = regexp.MustCompile(`\d+ of (up to )?\d+ stops used|not read`)

func sprays(v verdict.Verdict) bool {
	return v.Kind == verdict.SpotSpray || v.Kind == verdict.TreatWhole
}

func waits(v verdict.Verdict) bool { return v.Kind == verdict.NoSpray || v.Kind == verdict.LookAgain }

var byChanceEvery = flag.Int("by-chance-every", 20, "one in so many of the surveys is decided by chances")

var surveys = flag.Int("surveys", testkit.Few(400, 80), "how many invented surveys have a row made unreadable")

// A row that cannot be read must be told in the heading, or be read as what it is. Nobody
// may be told to wait where reading it would have made them spray. More surveys, and others,
// are drawn with -surveys 20000.
func TestARowThatIsNotReadNeverTalksOutOfSpraying(t *testing.T) {
	turned, kept, silent, talked, met := 0, 0, 0, 0, map[string]int{}
	fields := [2][2][]geo.Field{{squares(t, 1, 100), squares(t, 2, 100)}, {squares(t, 1, 0), squares(t, 2, 0)}}
	for i := range *surveys {
		r := rand.New(rand.NewPCG(uint64(*surveys), uint64(i)))
		byChance := 0
		if i%*byChanceEvery == 0 {
			byChance = 1
		}
		w := drawnWalk(r, func(n int) []geo.Field { return fields[byChance][n-1] })
		if i%3 > 0 {
			w = w.named()
		}
		row, how := w.drawnRow(r), spoilings[r.IntN(len(spoilings))]
		name := w.of[row]
		w.nought = how.name == besideNought
		whole := w.answers(t)[name]
		spoilt := w.with(row, how.spoil(w.header, slices.Clone(w.rows[row])))
		v, scouted := spoilt.answers(t)[name]
		if !scouted { // nobody is told anything of the field
			continue
		}
		met[how.name]++
		if sprays(whole) && !sprays(w.with(row, nil).answers(t)[name]) {
			turned++
		}
		if waits(v) {
			kept++
		}
		heading := report.VerdictHeading(v, figures.Metric)
		if spoilt.read(t).Tally.Used == w.read(t).Tally.Used { // it was read by the rows beside it
			if !assert.Equal(t, whole.Line, v.Line, "survey %d, %s", i, how.name) {
				silent++
			}
		} else if !assert.Regexp(t, tells, heading, "survey %d, %s: %s", i, how.name, v.Line) {
			silent++
		}
		if !assert.False(t, sprays(whole) && waits(v), "survey %d, %s: %q where reading the row gives %q (%s)", i, how.name, heading, report.VerdictHeading(whole, figures.Metric), whole.Line) {
			talked++
		}
		require.Less(t, silent+talked, mostFailures)
	}
	t.Logf("a row left out talks out of spraying %d times; waiting was kept %d times; silent %d, talked out %d", turned, kept, silent, talked)
	for _, s := range spoilings {
		assert.Positive(t, met[s.name], s.name)
	}
	assert.Greater(t, turned, testkit.Few(3, 0), "too few rows mattered, so little is tested")
	assert.Greater(t, kept, testkit.Few(5, 1), "every row is taken to matter")
}

// copiedDown is the walk with the place of the stop above on all rows of the stop of a row; ok is
// false for the first of a field.
func (w walk) copiedDown(row int) (out walk, ok bool) {
	first := row
	for first > 0 && w.rows[first-1][0] == w.rows[row][0] {
		first--
	}
	if first == 0 || w.of[first-1] != w.of[row] {
		return w, false
	}
	out = w
	out.rows = slices.Clone(w.rows)
	for i := first; i < len(w.rows) && w.rows[i][0] == w.rows[row][0]; i++ {
		out.rows[i] = slices.Concat(w.rows[i][:1], w.rows[first-1][1:3], w.rows[i][3:])
	}
	return out, true
}

// A stop with the place of the one above is told in the heading, and nobody is told to wait where
// its own place would have made them spray.
func TestACopiedPlaceNeverTalksOutOfSpraying(t *testing.T) {
	fields, met := [2][]geo.Field{squares(t, 1, 100), squares(t, 2, 100)}, 0
	for i := range *surveys {
		r := rand.New(rand.NewPCG(11, uint64(i)))
		w := drawnWalk(r, func(n int) []geo.Field { return fields[n-1] })
		row := w.drawnRow(r)
		spoilt, ok := w.copiedDown(row)
		if !ok {
			continue
		}
		met++
		whole, v := w.answers(t)[w.of[row]], spoilt.answers(t)[w.of[row]]
		heading := report.VerdictHeading(v, figures.Metric)
		assert.Regexp(t, tells, heading, "survey %d: %s", i, v.Line)
		assert.False(t, sprays(whole) && waits(v), "survey %d: %q where its own place gives %q (%s)", i, heading, report.VerdictHeading(whole, figures.Metric), whole.Line)
	}
	assert.Positive(t, met)
}

const mostFailures = 5000
