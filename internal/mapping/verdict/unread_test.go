package verdict_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/geometry/boundary"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/mapping/verdict"
	"github.com/geocoris/geocoris/internal/scouting/survey"
	"github.com/geocoris/geocoris/internal/testkit/given"
)

// walked is the verdict of an invented field of about 300 m by 300 m with a stop in each
// of 25 squares, the counts on ten leaves given, and rows more of which x and y are
// written as they stand.
func walked(t *testing.T, set assess.Settings, count func(i int) int, more ...string) verdict.Verdict {
	t.Helper()
	all, err := verdict.Of(assessed(t, set, count, more...), verdict.Settings{})
	require.NoError(t, err)
	return all[0]
}

func assessed(t *testing.T, set assess.Settings, count func(i int) int, more ...string) *assess.Result {
	t.Helper()
	const degree, side = 111_320.0, 300
	c, err := geofile.Decode("square.geojson", strings.NewReader(fmt.Sprintf(
		`{"type":"Polygon","coordinates":[[[0,0],[%[1]g,0],[%[1]g,%[1]g],[0,%[1]g],[0,0]]]}`, side/degree)), geofile.Limits{})
	require.NoError(t, err)
	fields, _, err := boundary.Fields(c.Features, boundary.Settings{})
	require.NoError(t, err)
	rows := []string{"stop,longitude,latitude,count,leaves,date"}
	for i := range 25 {
		rows = append(rows, fmt.Sprintf("%d,%.7f,%.7f,%d,10,2026-07-15", i+1, (30+60*float64(i%5))/degree, (30+60*float64(i/5))/degree, count(i)))
	}
	s, err := survey.Read(given.Table(strings.Join(append(rows, more...), "\n")), survey.Options{})
	require.NoError(t, err)
	r, err := assess.Run(t.Context(), fields, s, set)
	require.NoError(t, err)
	return r
}

// A stop at the place of the one above is lost, but for its count, and of two counts at one place
// the higher may be another's: both make an answer undecided where that could be more dangerous.
func TestCountsAtTheWrongPlaceAreFoundOutFirst(t *testing.T) {
	const degree = 111_320.0
	quiet := func(i int) int { return i % 4 }
	hot := func(i int) int { return 900 + 10*i }
	even := func(i int) int { // about 25 a leaf, stop 7 at 46.8
		if i == 6 {
			return 468
		}
		return 220 + 20*(i%4)
	}
	at := func(name string, place, count int) string { // of stop 25, or of another
		return fmt.Sprintf("%s,%.7f,%.7f,%d,10,2026-07-15", name, (30+60*float64(place%5))/degree, (30+60*float64(place/5))/degree, count)
	}
	for name, c := range map[string]struct {
		count  func(int) int
		more   []string
		kind   verdict.Kind
		stops  int
		shared int
	}{
		"hot, copied down":          {quiet, []string{at("26", 24, 900)}, verdict.Undecided, 25, 0},
		"cold, copied down":         {quiet, []string{at("26", 24, 9)}, verdict.NoSpray, 25, 0},
		"three more on one fix":     {quiet, []string{at("26", 24, 900), at("27", 24, 0), at("28", 24, 0)}, verdict.Undecided, 25, 0},
		"a fix kept, cold":          {quiet, []string{at("26", 24, 9), at("27", 24, 0), at("28", 24, 0)}, verdict.NoSpray, 25, 0},
		"hot all over, copied down": {hot, []string{at("26", 24, 900)}, verdict.TreatWhole, 25, 0},
		"a hot count once more":     {quiet, []string{at("7 again", 6, 900)}, verdict.Undecided, 25, 1},
		"as hot by chance":          {even, []string{at("7 again", 6, 138)}, verdict.LookAgain, 25, 0},
		"colder than by chance":     {even, []string{at("7 again", 6, 40)}, verdict.Undecided, 25, 1},
		"a cold count once more":    {quiet, []string{at("7 again", 6, 9)}, verdict.NoSpray, 25, 0},
		"hot all over, once cold":   {hot, []string{at("7 again", 6, 9)}, verdict.TreatWhole, 25, 1},
	} {
		v := walked(t, assess.Settings{}, c.count, c.more...)
		assert.Equal(t, c.kind, v.Kind, "%s: %s", name, v.Line)
		assert.Equal(t, []int{c.stops, c.shared}, []int{v.Stats.Stops, len(v.Shared)}, name)
		assert.Equal(t, c.kind == verdict.Undecided, v.Line == verdict.Unread, "%s: %s", name, v.Line)
	}
}

// A row that was not read makes the answer undecided where some reading of it is more
// dangerous, and not where none is.
func TestOnlyARowThatCouldMatterIsReadFirst(t *testing.T) {
	quiet := func(i int) int { return i % 4 }
	warm := func(i int) int { return 10 + 200*(i%2) } // no stop over, one in two warm
	hot := func(i int) int { return 900 + 10*i }
	corner := func(i int) int {
		if i%5 < 2 && i/5 < 2 {
			return 900
		}
		return i % 4
	}
	for _, c := range []struct {
		name    string
		count   func(int) int
		row     string
		kind    verdict.Kind
		without verdict.Kind
		line    string
	}{
		{"all read", quiet, "26,0.001,0.001,2,10,2026-07-15", verdict.NoSpray, verdict.None, "below"},
		{"a quiet field, a count", quiet, "26,0.001,0.001,x,10,2026-07-15", verdict.Undecided, verdict.NoSpray, verdict.Unread},
		{"a quiet field, a hot stop without a place", quiet, "26,,0.001,900,10,2026-07-15", verdict.Undecided, verdict.NoSpray, verdict.Unread},
		{"a quiet field, an empty stop without a place", quiet, "26,,0.001,0,10,2026-07-15", verdict.NoSpray, verdict.None, "below"},
		{"a quiet field, no more than 3 on no telling how many leaves", quiet, "26,0.001,0.001,3,,2026-07-15", verdict.NoSpray, verdict.None, "below"},
		{"a quiet field, a leaf more of a stop", quiet, "7,0.0008,0.0008,x,1,2026-07-15", verdict.Undecided, verdict.NoSpray, verdict.Unread},
		{"a warm field, a row of no stop", warm, ",0.001,0.001,5,10,2026-07-15", verdict.LookAgain, verdict.None, "grows"},
		{"a hot corner", corner, "26,0.001,0.001,x,10,2026-07-15", verdict.SpotSpray, verdict.None, "spot"},
		{"a hot field", hot, "26,0.001,0.001,x,10,2026-07-15", verdict.TreatWhole, verdict.None, "large-share"},
	} {
		v := walked(t, assess.Settings{Cell: 15}, c.count, c.row)
		assert.Equal(t, c.line, v.Line, c.name)
		assert.Equal(t, c.kind, v.Kind, c.name)
		assert.Equal(t, c.without, v.Without, c.name)
		if v.Kind == verdict.Undecided {
			assert.Equal(t, "2026-07-18", v.On, "soon, and not at the next usual visit")
			assert.Zero(t, v.More, "more stops are not the question")
		}
	}
}

// What is to be sprayed is other ground where much of the walk was not read, hot or cold: the
// answer then says so first, and what the rest alone would spray last.
func TestWhereMuchWasNotReadNoSprayIsDecided(t *testing.T) {
	corner := func(i int) int {
		if i%5 < 2 && i/5 < 2 {
			return 900
		}
		return i % 4
	}
	hot := func(i int) int { return 900 + 10*i }
	own := func(n int) (rows []string) {
		for i := range n {
			rows = append(rows, fmt.Sprintf("%d,0.001,0.000%d,x,10,2026-07-15", 30+i, i))
		}
		return rows
	}
	half := func(n int) (rows []string) { // as many leaves more of stops that were read
		for i := range n {
			rows = append(rows, fmt.Sprintf("%d,%.7f,%.7f,x,10,2026-07-15", i+1, (30+60*float64(i%5))/111_320, (30+60*float64(i/5))/111_320))
		}
		return rows
	}
	for _, c := range []struct {
		name    string
		count   func(int) int
		rows    []string
		without verdict.Kind
	}{
		{"2 of 27 beside a hot corner", corner, own(2), verdict.None},
		{"5 of 25, half of each", corner, half(5), verdict.SpotSpray},
		{"4 of 25, half of each", corner, half(4), verdict.None},
		{"nearly a quarter of a hot field", hot, append(half(2), own(6)...), verdict.None},
		{"exactly a quarter of it", hot, append(half(2), own(7)...), verdict.TreatWhole},
	} {
		v := walked(t, assess.Settings{Cell: 15}, c.count, c.rows...)
		assert.Equal(t, c.without, v.Without, c.name)
		if c.without != verdict.None {
			assert.Equal(t, []any{verdict.Undecided, verdict.Unread, c.without}, []any{v.Kind, v.Line, v.Instead}, c.name)
			assert.Equal(t, "2026-07-18", v.On, c.name)
		}
	}
}

// Where the other stops ask for more stops as well, both are said, so that the field is
// walked once: round the stops that are over, by name.
func TestMoreStopsBesideARowNotRead(t *testing.T) {
	three := func(i int) int {
		if i == 5 || i == 11 || i == 18 {
			return 2000
		}
		return i % 4
	}
	set := assess.Settings{Cell: 15}
	for line, more := range map[string][]string{"few-over": nil, verdict.Unread: {"26,0.001,0.001,x,10,2026-07-15"}} {
		v := walked(t, set, three, more...)
		assert.Equal(t, line, v.Line)
		assert.Equal(t, verdict.Undecided, v.Kind)
		assert.Equal(t, "few hot stops", v.Says, line)
		assert.Equal(t, []string{"6", "12", "19"}, v.Round, line)
		assert.Equal(t, 12, v.More, line)
	}
}

// Shares are bounded: a leaf more of ten cannot bring its stop to the levels.
func TestRowsNotReadOfAShare(t *testing.T) {
	leaves := func(n int) (rows []string) {
		for i := range n {
			rows = append(rows, fmt.Sprintf("s,0.0010,0.0010,%d,1,2026-07-15", i%2))
		}
		return rows
	}
	set := assess.Settings{Cell: 15, Statistic: assess.Statistic{Tally: 1000}, Levels: assess.LevelSettings{TreatAt: 60, WatchAt: 40}}
	v := walked(t, set, func(int) int { return 0 }, append(leaves(9), "s,0.0010,0.0010,x,1,2026-07-15")...)
	assert.Equal(t, "below", v.Line, "one leaf of ten is 10 % at the most")
	v = walked(t, set, func(int) int { return 0 }, append(leaves(1), "s,0.0010,0.0010,x,1,2026-07-15")...)
	assert.Equal(t, verdict.Unread, v.Line, "one of two is 50 %")
}

func TestStopsThatWereNotReadAreCounted(t *testing.T) {
	var rows []string
	for i := range 12 {
		rows = append(rows, fmt.Sprintf("l%d,,0.001,50,10,2026-07-15", i/2)) // two rows of each
	}
	stops, more, loose := walked(t, assess.Settings{Cell: 15}, func(int) int { return 60 }, append(rows, "7,,,x,1,2026-07-15")...).Lost()
	assert.Equal(t, 6, stops)
	assert.Equal(t, 1, more, "a row of stop 7")
	assert.False(t, loose, "there is but one field")
}

// A little ground beyond reach is no reason to look again before the usual day, nor is
// what is less than the map can show watched for that alone.
func TestSliversOfUnscoutedGround(t *testing.T) {
	r := assessed(t, assess.Settings{Cell: 15}, func(i int) int { return i % 4 })
	f := r.Fields[0]
	require.Equal(t, 900.0, f.Settings.MinArea)
	for unscouted, want := range map[float64]string{0: "below", 2: "below", 899: "below", 900: "below", 0.15 * f.Area: "below", 0.151 * f.Area: "unscouted"} {
		f.Map.Unscouted = unscouted
		all, err := verdict.Of(r, verdict.Settings{})
		require.NoError(t, err)
		assert.Equal(t, want, all[0].Line, "%g m²", unscouted)
	}
}
