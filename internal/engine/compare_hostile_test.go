package engine_test

import (
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/engine"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/mapping/verdict"
	"github.com/geocoris/geocoris/internal/output/report"
)

// The columns of the demo's weeks that are spoilt here.
const (
	nameCell, longitudeCell, latitudeCell, countCell, leavesCell, timeCell = 0, 1, 2, 3, 4, 5
	hot                                                                    = 10 // a leaf
)

// spoilt is a week of the demo of which the rows chosen were changed, with more rows below.
func spoilt(t *testing.T, week string, chosen func(perLeaf float64) bool, change func(cells []string), more ...string) engine.Source {
	t.Helper()
	of := source(t, week+".csv")
	rows := strings.Split(strings.TrimRight(string(of.Content), "\n"), "\n")
	for i, row := range rows[1:] {
		cells := strings.Split(row, ",")
		count, err := strconv.ParseFloat(cells[countCell], 64)
		leaves, _ := strconv.ParseFloat(cells[leavesCell], 64)
		if err == nil && chosen(count/leaves) {
			change(cells)
			rows[i+1] = strings.Join(cells, ",")
		}
	}
	of.Content = []byte(strings.Join(append(rows, more...), "\n") + "\n")
	return of
}

// oneFile is several weeks in one table.
func oneFile(weeks ...engine.Source) engine.Source {
	all := engine.Source{Name: "weeks.csv"}
	for i, w := range weeks {
		text := string(w.Content)
		if i > 0 {
			_, text, _ = strings.Cut(text, "\n")
		}
		all.Content = append(all.Content, text...)
	}
	return all
}

// onPivot is the setup of the demo's larger field, on a grid that is quickly worked out.
func onPivot(t *testing.T) engine.Setup {
	w := morning(t, "week1").Setup
	w.Settings.Only, w.Settings.Cell = []string{"Pivot"}, 20
	return w
}

func comparing(t *testing.T, w engine.Setup, counts ...engine.Source) (*engine.CompareOutcome, error) {
	field := source(t, "field.geojson")
	q := engine.CompareRequest{Setup: w, Compare: engine.CompareDefaults(), Boundary: &field}
	for _, c := range counts {
		q.Weeks = append(q.Weeks, engine.Week{Counts: c})
	}
	return engine.Compare(t.Context(), q)
}

// lookOutOf is what a comparison says to look out for in its first field.
func lookOutOf(made *engine.CompareOutcome) (said []string) {
	for _, a := range report.Answers(made.Result, made.Result.Fields[0], figures.Both, made.Now...) {
		if a.Asked == "Look out" {
			said = append(said, a.Said...)
		}
	}
	return said
}

// What a comparison says to do now is what the map of the newest visit's rows says, whatever is
// wrong with them, by two files and by one of both visits; where rows tell no visit it asks. What
// the map says to look out for it says too.
func TestTheNewestVisitIsNeverMilderThanItsMap(t *testing.T) {
	isHot := func(v float64) bool { return v > hot }
	blank := func(at ...int) func([]string) {
		return func(cells []string) {
			for _, i := range at {
				cells[i] = ""
			}
		}
	}
	none := func(float64) bool { return false }
	const outside = "99,-101.606,35.9,1500,10,2026-07-15T09:10:00-05:00,scout B,sorghum aphid,4,2.5,"
	for name, c := range map[string]struct {
		week engine.Source
		kind verdict.Kind
		asks bool   // compare, which visit rows are of
		says string // to look out for
	}{
		"as it is":                    {week: source(t, "week2.csv"), kind: verdict.SpotSpray},
		"hot counts blank":            {week: spoilt(t, "week2", isHot, blank(countCell)), kind: verdict.Undecided, says: "rows not read"},
		"hot counts and times blank":  {week: spoilt(t, "week2", isHot, blank(countCell, timeCell)), kind: verdict.Undecided, says: "rows not read"},
		"hot places blank":            {week: spoilt(t, "week2", isHot, blank(longitudeCell, latitudeCell)), kind: verdict.Undecided, says: "has no place in a field"},
		"hot rows of another day":     {week: spoilt(t, "week2", isHot, func(cells []string) { cells[countCell], cells[timeCell] = "", "2026-07-16T06:00" }), kind: verdict.Undecided, says: "rows not read"},
		"hot times not read":          {week: spoilt(t, "week2", isHot, func(cells []string) { cells[timeCell] = "07-15-26" }), kind: verdict.SpotSpray, asks: true},
		"hot times blank":             {week: spoilt(t, "week2", isHot, blank(timeCell)), kind: verdict.SpotSpray, asks: true},
		"the hottest outside":         {week: spoilt(t, "week2", none, nil, outside), kind: verdict.SpotSpray, says: "Stop 99 (150 a leaf, the highest) lies in no field"},
		"the only hot one is outside": {week: spoilt(t, "week2", isHot, func(cells []string) { cells[countCell] = "0" }, outside), kind: verdict.NoSpray, says: "Stop 99 (150 a leaf, the highest) lies in no field"},
		"a place twice":               {week: spoilt(t, "week2", isHot, func(cells []string) { cells[countCell] = "0" }, "77,-101.601082,35.897082,900,10,2026-07-15T09:11:30-05:00,scout A,sorghum aphid,4,3.7,"), kind: verdict.Undecided, says: "77"},
	} {
		q := engine.MapRequest{Setup: onPivot(t), Samples: []engine.Source{c.week}, Boundary: source(t, "field.geojson"), Version: "test"}
		alone, err := engine.Map(t.Context(), q)
		require.NoError(t, err, name)
		require.Equal(t, c.kind, alone.Verdicts[0].Kind, name)
		plain := report.PlainOf(alone.Result, alone.Result.Fields[0], alone.Verdicts[0], figures.Both)
		require.Contains(t, strings.Join(plain.LookOut, " "), c.says, name)
		for way, counts := range map[string][]engine.Source{
			"two files": {source(t, "week1.csv"), c.week},
			"one file":  {oneFile(source(t, "week1.csv"), c.week)},
		} {
			made, err := comparing(t, onPivot(t), counts...)
			if c.asks {
				assert.ErrorContains(t, err, map[string]string{"two files": "stops without a day beside others with one: growth needs dates; write them like 2026-07-15 at stop 23, 24", "one file": "no day can be read in 9 rows, and weeks.csv holds 2 visits"}[way], name)
				continue
			}
			require.NoError(t, err, "%s, %s", name, way)
			now := made.Now[0]
			assert.Equal(t, alone.Verdicts[0].Kind, now.Kind, "%s, %s", name, way)
			assert.Equal(t, alone.Verdicts[0].Line, now.Line, "%s, %s", name, way)
			assert.Equal(t, alone.Verdicts[0].GoodUntil, now.GoodUntil, "%s, %s", name, way)
			said := lookOutOf(made)
			for _, text := range plain.LookOut {
				if way == "two files" || !strings.Contains(text, ".csv") { // lines are others in one file
					assert.Contains(t, said, text, "%s, %s", name, way)
				}
			}
		}
	}
}

// A visit of which nothing was read in a field is its last one: the answer of the visit before is
// not that of now. Asked for that field alone, compare refuses as map does.
func TestAVisitOfWhichNothingWasReadIsTheNewest(t *testing.T) {
	lost := spoilt(t, "week3", func(float64) bool { return true }, func(cells []string) {
		if latitude, _ := strconv.ParseFloat(cells[latitudeCell], 64); latitude < 35.9037 { // not those of the other field
			cells[countCell] = ""
		}
	})
	w := onPivot(t)
	_, err := comparing(t, w, source(t, "week1.csv"), source(t, "week2.csv"), lost)
	assert.ErrorContains(t, err, "no stop could be read in the fields asked for")
	w.Settings.Only = nil
	for _, counts := range [][]engine.Source{{source(t, "week1.csv"), source(t, "week2.csv"), lost}, {oneFile(source(t, "week1.csv"), source(t, "week2.csv"), lost)}} {
		made, err := comparing(t, w, counts...)
		require.NoError(t, err)
		i := slices.IndexFunc(made.Now, func(v verdict.Verdict) bool { return v.Field == "Pivot" })
		assert.Equal(t, verdict.Undecided, made.Now[i].Kind)
		assert.True(t, made.Now[i].NoneRead())
		assert.Contains(t, strings.Join(lookOutOf(made), " "), "rows not read")
	}
}
