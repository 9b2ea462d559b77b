package assess_test

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/geometry/boundary"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/scouting/survey"
	"github.com/geocoris/geocoris/internal/testkit"
	"github.com/geocoris/geocoris/internal/testkit/given"
)

// unreadOf assesses invented rows in the demonstration's two fields, of which a, b and
// c lie in the first and d in the second.
func unreadOf(t *testing.T, more ...string) [][]assess.Unread {
	t.Helper()
	fields := fieldsOf(t, testkit.Testdata(t, "demo", "field.geojson"))
	corner := geo.Bound(fields[1].Boundary).Center()
	rows := append([]string{
		"stop,longitude,latitude,count,leaves,date",
		"a,-101.600,35.9,500,10,2026-07-15", "b,-101.601,35.9,0,10,2026-07-15", "c,-101.602,35.901,7,10,2026-07-15",
		fmt.Sprintf("d,%.6f,%.6f,3,10,2026-07-15", corner[0]+0.0008, corner[1]+0.0008),
	}, more...)
	locator, err := assess.NewLocator(fields)
	require.NoError(t, err)
	offers, err := locator.FixPositions(nil)
	require.NoError(t, err)
	s, err := survey.Read(given.Table(strings.Join(rows, "\n")), survey.Options{FixPosition: offers})
	require.NoError(t, err)
	r, err := assess.Run(t.Context(), fields, s, assess.Settings{})
	require.NoError(t, err)
	require.Empty(t, r.Away)
	require.Len(t, r.Fields[1].Stops, 1)
	return [][]assess.Unread{r.Fields[0].Unread, r.Fields[1].Unread}
}

func TestRowsNotReadGoWhereTheyMayBelong(t *testing.T) {
	for _, c := range []struct {
		name          string
		rows          []string
		first, second string // of each group: rows, placed, own, of, loose
	}{
		{"a stop with a place", []string{"e,-101.6,35.901,x,10,2026-07-15"}, "1 placed own", ""},
		{"two rows of it", []string{"e,-101.6,35.901,x,10,2026-07-15", "g,-100.6,35.9,5,x,2026-07-15", "e,,,5,10,2026-07-15"}, "2 placed own", ""},
		{"one of it read, with the place above", []string{"e,-101.6,35.901,x,10,2026-07-15", "e,,,5,10,2026-07-15"}, "1 placed of [3]", ""},
		{"far from all fields", []string{"e,-100.6,35.901,x,10,2026-07-15"}, "", ""},
		{"no place", []string{"e,,,5,10,2026-07-15"}, "1 own loose", "1 own loose"},
		{"a place that is swapped, which is offered", []string{"e,35.901,-101.6,5,10,2026-07-15"}, "1 placed own", ""},
		{"a place with a lost sign, of a stop", []string{"b,101.601,35.9,5,10,2026-07-15"}, "1 placed of [1]", ""},
		{"the second row of it", []string{"e,,,5,10,2026-07-15", "e,35.901,-101.6,x,10,2026-07-15"}, "2 placed own", ""},
		{"part of a stop", []string{"b,-101.601,35.9,x,10,2026-07-15"}, "1 placed of [1]", ""},
		{"part of a stop, without a place", []string{"b,,,5,10,2026-07-15"}, "1 of [1]", ""},
		{"part of a stop of the other field", []string{"g,-100.6,35.9,5,x,2026-07-15", "d,,,5,10,2026-07-15"}, "", "1 of [0]"},
		{"of another day", []string{"b,-101.601,35.9,x,10,2026-07-16"}, "1 placed own", ""},
		{"of that name elsewhere", []string{"b,-101.599,35.9,x,10,2026-07-15"}, "1 placed own", ""},
		{"without a name beside a stop", []string{",-101.601,35.9001,5,10,2026-07-15"}, "1 placed own of [1]", ""},
		{"shifted cells", []string{"e,-101.6,35.901,1,150,10,2026-07-15"}, "1 placed own", ""},
		{"shifted cells of a stop", []string{"b,-101.601,35.9,1,150,10,2026-07-15"}, "1 placed of [1]", ""},
		{"one further away beside it", []string{"b,-101.6011,35.9,1,150,10,2026-07-15"}, "1 placed of [1]", ""},
		{"two shifted rows of one stop", []string{"e,-101.6,35.901,1,150,10,2026-07-15", "e,-101.6,35.901,2,20,10,2026-07-15"}, "2 placed own", ""},
		{"of one name at two places", []string{"e,-101.6,35.901,1,150,10,2026-07-15", "e,-101.6,35.902,2,20,10,2026-07-15"}, "1 placed own; 1 placed own", ""},
		{"beside another row of it", []string{"e,-101.6,35.901,1,150,10,2026-07-15", "e,-101.6,35.901,x,10,2026-07-15"}, "2 placed own", ""},
		{"two rows without a name at one place", []string{",-101.6,35.901,5,10,2026-07-15", ",-101.6,35.901,x,10,2026-07-15"}, "2 placed own", ""},
		{"at two places", []string{",-101.6,35.901,5,10,2026-07-15", ",-101.6,35.902,x,10,2026-07-15"}, "1 placed own; 1 placed own", ""},
		{"two rows without name or place", []string{",,,5,10,2026-07-15", ",,,5,10,2026-07-15"}, "1 own loose; 1 own loose", "1 own loose; 1 own loose"},
		{"shifted cells far away", []string{"e,-10,1.6,35.901,5,10,2026-07-15"}, "1 own loose", "1 own loose"},
	} {
		got := unreadOf(t, c.rows...)
		for i, want := range []string{c.first, c.second} {
			var said []string
			for _, u := range got[i] {
				text := fmt.Sprint(len(u.Rows))
				if u.Placed {
					text += " placed"
				}
				if u.Own {
					text += " own"
				}
				if u.Of != nil {
					text += fmt.Sprintf(" of %v", u.Of)
				}
				if u.Loose {
					text += " loose"
				}
				said = append(said, text)
			}
			assert.Equal(t, want, strings.Join(said, "; "), "%s, field %d", c.name, i+1)
		}
	}
}

// Rows without name and place that are leaves of one stop are one, which may be any field's.
func TestRowsOfAStopThatLostItsNameAreOne(t *testing.T) {
	var rows []string
	for i := range 24 { // most stops of the table have as many rows
		first := fmt.Sprintf("e%d,%g,35.9,", i, -101.602-0.0001*float64(i))
		for k := range 3 {
			if k > 0 || i == 3 {
				first = ",,,"
			}
			rows = append(rows, first+fmt.Sprintf("%d,1,2026-07-15", 10*i+k*k))
		}
	}
	rows = slices.Insert(rows, 0, "f,-101.6,35.901,3,10,2026-07-15") // d stands above
	for _, of := range unreadOf(t, rows...) {
		require.Len(t, of, 1)
		assert.True(t, of[0].Own && of[0].Loose)
		assert.Len(t, of[0].Rows, 3)
		low, high := of[0].Bounds(assess.Statistic{})
		assert.Equal(t, [2]float64{95. / 3, 95. / 3}, [2]float64{low, high})
	}
}

// Where the rows tell the value it is that; a stop that lacks a row lies between what it
// is without it and what the row may bring.
func TestBoundsOfWhatWasNotRead(t *testing.T) {
	mean, share := assess.Statistic{}, assess.Statistic{Tally: 5}
	one := func(row string) assess.Unread { return unreadOf(t, row)[0][0] }
	bounds := func(low, high float64) [2]float64 { return [2]float64{low, high} }
	stop := assess.Stop{Stop: survey.Stop{Name: "b", Total: 90, Units: 9, Records: []survey.Record{{Total: 90, Units: 9}}}, Value: 10}
	for _, c := range []struct {
		row        string
		own, share [2]float64
		in         [2]float64
	}{
		{"e,,,40,10,2026-07-15", bounds(4, 4), bounds(0, 100), bounds(130./19, 130./19)},
		{"e,-101.6,35.901,x,1,2026-07-15", bounds(0, math.Inf(1)), bounds(0, 100), bounds(9, math.Inf(1))},
		{"e,-101.6,35.901,40,x,2026-07-15", bounds(0, 40), bounds(0, 100), bounds(0, 40)},
		{"e,,,4,1,2026-07-15", bounds(4, 4), bounds(0, 0), bounds(9.4, 9.4)},
	} {
		u := one(c.row)
		low, high := u.Bounds(mean)
		assert.Equal(t, c.own, bounds(low, high), c.row)
		low, high = u.Bounds(share)
		assert.Equal(t, c.share, bounds(low, high), c.row)
		low, high = u.BoundsIn(stop, mean)
		assert.Equal(t, c.in, bounds(low, high), c.row)
	}
}

// Rows without a place are shared out by what their names say of the fields, whose stops
// are named here 1 to 4 in Pivot and as given in Corner block.
func TestRowsWithoutAPlaceAreSharedByTheirNames(t *testing.T) {
	fields := fieldsOf(t, testkit.Testdata(t, "demo", "field.geojson"))
	corner := geo.Bound(fields[1].Boundary).Center()
	for _, c := range []struct {
		corner []string
		lost   string
		want   [2]float64
	}{
		{[]string{"C5"}, "C6", [2]float64{0, 1}},
		{[]string{"C5"}, "c-6", [2]float64{0, 1}},
		{[]string{"C5"}, "6", [2]float64{1, 0}},
		{[]string{"C5"}, "X6", [2]float64{0.8, 0.2}},
		{[]string{"C5"}, "gate", [2]float64{0.8, 0.2}},
		{[]string{"5"}, "6", [2]float64{0.8, 0.2}},
		{[]string{"5"}, "C6", [2]float64{0.8, 0.2}},
		{nil, "C6", [2]float64{0, 1}},
		{nil, "Corner 6", [2]float64{0, 1}},
		{nil, "S6", [2]float64{1, 0}},
		{nil, "6", [2]float64{1, 0}},
		{nil, "", [2]float64{1, 0}},
	} {
		rows := []string{"stop,longitude,latitude,count,leaves"}
		for i := range 4 {
			rows = append(rows, fmt.Sprintf("%d,%.4f,35.9,%d,10", i+1, -101.6-0.001*float64(i), 7*i))
		}
		for _, name := range c.corner {
			rows = append(rows, fmt.Sprintf("%s,%.6f,%.6f,3,10", name, corner[0]+0.0008, corner[1]+0.0008))
		}
		s, err := survey.Read(given.Table(strings.Join(append(rows, c.lost+",,35.9,8,10"), "\n")), survey.Options{})
		require.NoError(t, err)
		r, err := assess.Run(t.Context(), fields, s, assess.Settings{})
		require.NoError(t, err)
		for i, f := range r.Fields {
			require.Len(t, f.Unread, 1)
			assert.True(t, f.Unread[0].Loose)
			assert.InDelta(t, c.want[i], f.Unread[0].Share, 1e-12, "%s beside %v, %s", c.lost, c.corner, f.Name)
		}
	}
}

// A row whose place is lost counts for the field that it names, and for all where what is named is
// no field, or where the boundary's file or the rows leave open which.
func TestRowsWithoutAPlaceAreOfTheFieldThatTheyName(t *testing.T) {
	right := [2]string{"Pivot", "Corner block"}
	all := [2]string{"0.8 true true", "0.2 true true"}
	for name, c := range map[string]struct {
		outlines, named [2]string
		lost            []string
		want            [2]string // of each group in a field: share, own, loose
	}{
		"of one":                  {right, right, []string{"6,,35.9,8,10,corner  BLOCK"}, [2]string{"", "1 true false"}},
		"of the other":            {right, right, []string{"6,,,8,10,Pivot"}, [2]string{"1 true false", ""}},
		"two of a name":           {right, right, []string{"6,,,8,10,Pivot", "6,,,8,10,Corner block"}, [2]string{"1 true false", "1 true false"}},
		"and none":                {right, right, []string{"6,,,8,10,Pivot", "6,,,8,10,Corner block", "6,,,8,10,"}, all},
		"part of a stop":          {right, right, []string{"2,,,8,10,Pivot"}, [2]string{"1 false false", ""}},
		"of a stop elsewhere":     {right, right, []string{"1,,,8,10,Corner block"}, [2]string{"0.5 false true", "0.5 true true"}},
		"no field":                {right, right, []string{"6,,,8,10,Hill"}, all},
		"not named":               {right, right, []string{"6,,,8,10,"}, all},
		"merged cells":            {right, right, []string{"6,,,8,10,Pivot", "6,,,7,10,", "6,,,6,10,"}, [2]string{"1 true false", ""}},
		"merged, with a place":    {right, right, []string{"6,-101.6,35.901,x,10,Pivot", "6,,,x,10,", "6,,,x,10,"}, [2]string{"1 true false", ""}},
		"merged, of a stop used":  {right, right, []string{"2,,,8,10,"}, [2]string{"1 false false", ""}},
		"one named otherwise":     {right, right, []string{"6,,,8,10,Pivot", "6,,,8,10,Pivot N"}, all},
		"all named otherwise":     {right, [2]string{"Pivot", "Pivot"}, []string{"6,,,8,10,Pivot"}, all},
		"the other's name":        {right, [2]string{"Corner block", ""}, []string{"6,,,8,10,Pivot"}, all},
		"others unnamed":          {right, [2]string{}, []string{"6,,,8,10,Pivot"}, [2]string{"1 true false", ""}},
		"shifted":                 {right, right, []string{"6,,,8,1,0,Corner block"}, all},
		"a place that is read":    {right, right, []string{"6,-101.6,35.901,x,10,Corner block"}, [2]string{"1 true false", ""}},
		"beside one of the other": {right, right, []string{"6,-101.6,35.901,x,10,Corner block", "7,,,8,10,Pivot"}, [2]string{"1 true false; 0.8 true true", "0.2 true true"}},
		"beside one far away":     {right, right, []string{"6,-101.8,35.901,8,10,Pivot", "7,,,8,10,Pivot"}, all},
		"one in other letters":    {[2]string{"Home", "HOME"}, [2]string{}, []string{"6,,,8,10,Home"}, all},
		"a name of two":           {[2]string{"Home", "Home"}, [2]string{}, []string{"6,,,8,10,Home"}, all},
		"the second of a name":    {[2]string{"Home", "Home"}, [2]string{}, []string{"6,,,8,10,Home (2)"}, all},
		"without names":           {[2]string{}, [2]string{}, []string{"6,,,8,10,Field 1"}, all},
		"one without a name":      {[2]string{"Pivot", ""}, [2]string{}, []string{"6,,,8,10,Pivot"}, all},
	} {
		fields := fieldsCalled(t, c.outlines)
		s, err := survey.Read(given.Table(walkNaming(fields, c.named, c.lost)), survey.Options{})
		require.NoError(t, err)
		r, err := assess.Run(t.Context(), fields, s, assess.Settings{})
		require.NoError(t, err)
		for i, f := range r.Fields {
			var said []string
			for _, u := range f.Unread {
				said = append(said, fmt.Sprintf("%.1g %t %t", u.Share, u.Own, u.Loose))
			}
			assert.Equal(t, c.want[i], strings.Join(said, "; "), "%s, %s", name, f.Name)
		}
	}
}

// fieldsCalled are the demonstration's two fields with names of their own in the boundary's file, ""
// for none.
func fieldsCalled(t *testing.T, names [2]string) []geo.Field {
	t.Helper()
	c, err := geofile.Read(testkit.Testdata(t, "demo", "field.geojson"), geofile.Limits{})
	require.NoError(t, err)
	for i := range c.Features {
		c.Features[i].ID, c.Features[i].Properties = "", geo.Properties{{Name: "name", Value: names[i]}}
	}
	fields, _, err := boundary.Fields(c.Features, boundary.Settings{})
	require.NoError(t, err)
	return fields
}

// walkNaming has stops 1 to 4 in the first field and 5 in the second, with a column of what their
// rows say of the field, and further rows.
func walkNaming(fields []geo.Field, named [2]string, lost []string) string {
	rows := []string{"stop,longitude,latitude,count,leaves,field"}
	for i := range 4 {
		rows = append(rows, fmt.Sprintf("%d,%.4f,35.9,%d,10,%s", i+1, -101.6-0.001*float64(i), 7*i, named[0]))
	}
	corner := geo.Bound(fields[1].Boundary).Center()
	rows = append(rows, fmt.Sprintf("5,%.6f,%.6f,3,10,%s", corner[0]+0.0008, corner[1]+0.0008, named[1]))
	return strings.Join(append(rows, lost...), "\n")
}

// How much of a stop rows are goes by its leaves, of one that tells none by its other rows.
func TestPartsOfStopsNotRead(t *testing.T) {
	rows := func(units ...float64) (rows []survey.Unread) {
		for _, n := range units {
			rows = append(rows, survey.Unread{Units: n})
		}
		return rows
	}
	stops := []assess.Stop{{Stop: survey.Stop{Units: 9, Records: make([]survey.Record, 9)}}, {Stop: survey.Stop{Units: 1, Records: make([]survey.Record, 1)}}}
	for _, c := range []struct {
		u    assess.Unread
		want float64
	}{
		{assess.Unread{Own: true, Of: []int{0}, Rows: rows(1)}, 1},
		{assess.Unread{Of: []int{0}, Rows: rows(1)}, 0.1},
		{assess.Unread{Of: []int{0}, Rows: rows(0)}, 0.1},
		{assess.Unread{Of: []int{0}, Rows: rows(4, 0, 4)}, 0.5},
		{assess.Unread{Of: []int{0, 1}, Rows: rows(1)}, 0.5},
	} {
		assert.InDelta(t, c.want, c.u.Lost(stops), 1e-12, "%+v", c.u)
	}
}

// Where stops are known by their position, rows at that of a stop are part of it.
func TestRowsWithoutNamesArePartOfTheStopWhereTheyStand(t *testing.T) {
	rows := []string{"longitude,latitude,count,leaf,date"}
	for i := range 20 {
		rows = append(rows, fmt.Sprintf("%.4f,35.9,%s,%d,2026-07-15", -101.6-0.001*float64(i/10), []string{"3", "NA"}[min(1, i%10/9)], i))
	}
	s, err := survey.Read(given.Table(strings.Join(append(rows, "-101.60001,35.9,NA,1,2026-07-15"), "\n")), survey.Options{UnnamedStops: true})
	require.NoError(t, err)
	r, err := assess.Run(t.Context(), fieldsOf(t, testkit.Testdata(t, "demo", "field.geojson")), s, assess.Settings{})
	require.NoError(t, err)
	var said []string
	for _, u := range r.Fields[0].Unread {
		said = append(said, fmt.Sprint(len(u.Rows), u.Own, u.Of))
	}
	assert.Equal(t, []string{"1 false [0]", "1 false [1]", "1 true [0]"}, said)
}

// Stops that lie in no field are reported for the fields whose files they stand in, where any
// is at the level or above.
func TestStopsInNoField(t *testing.T) {
	fields := fieldsOf(t, testkit.Testdata(t, "demo", "field.geojson"))
	corner := geo.Bound(fields[1].Boundary).Center()
	dir := t.TempDir()
	file := func(name string, rows ...string) string {
		path := filepath.Join(dir, name)
		text := strings.Join(append([]string{"stop,longitude,latitude,count,leaves,date"}, rows...), "\n")
		require.NoError(t, os.WriteFile(path, []byte(text), 0o600))
		return path
	}
	first := "a,-101.600,35.9,500,10,2026-07-15"
	second := fmt.Sprintf("d,%.6f,%.6f,3,10,2026-07-15", corner[0]+0.0008, corner[1]+0.0008)
	away := func(count int) string { return fmt.Sprintf("e%d,-101.7,35.9,%d,10,2026-07-15", count, count) }
	for _, c := range []struct {
		name           string
		files          []string
		first, second  int
		firstL, secndL bool
	}{
		{"none", []string{file("1.csv", first, second)}, 0, 0, false, false},
		{"below the level", []string{file("2.csv", first, second, away(199))}, 0, 0, false, false},
		{"at the level", []string{file("3.csv", first, second, away(200))}, 1, 1, true, true},
		{"with another below it", []string{file("4.csv", first, second, away(200), away(1))}, 2, 2, true, true},
		{"of one field's file", []string{file("5.csv", first, away(200)), file("6.csv", second)}, 1, 0, false, false},
		{"of neither's file", []string{file("7.csv", first), file("8.csv", second), file("9.csv", away(200))}, 0, 0, false, false},
	} {
		s, err := survey.Read(given.Files(t, c.files...), survey.Options{})
		require.NoError(t, err)
		r, err := assess.Run(t.Context(), fields, s, assess.Settings{})
		require.NoError(t, err)
		a, loose := r.AwayFrom(r.Fields[0], 20)
		b, also := r.AwayFrom(r.Fields[1], 20)
		assert.Equal(t, []any{c.first, c.firstL, c.second, c.secndL}, []any{a, loose, b, also}, c.name)
	}
}
