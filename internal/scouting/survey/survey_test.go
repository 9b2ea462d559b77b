package survey_test

import (
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/scouting/survey"
	"github.com/geocoris/geocoris/internal/testkit"
	"github.com/geocoris/geocoris/internal/testkit/given"
)

func read(t testing.TB, text string, opts survey.Options) *survey.Survey {
	t.Helper()
	s, err := decode(t, "counts.csv", text, opts)
	require.NoError(t, err)
	assertAddsUp(t, s)
	return s
}

// decode reads a text as a file of that name.
func decode(t testing.TB, name, text string, opts survey.Options) (*survey.Survey, error) {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	require.NoError(t, os.WriteFile(path, []byte(text), 0o600))
	return survey.Read(given.Files(t, path), opts)
}

func assertAddsUp(t testing.TB, s *survey.Survey) {
	t.Helper()
	assert.Equal(t, s.Tally.Read, s.Tally.Used+s.Tally.SetAside+s.Tally.OtherPest, "%+v", s.Tally)
	rows := 0
	for _, stop := range s.Stops {
		rows += len(stop.Records)
	}
	assert.Equal(t, s.Tally.Used, rows, "rows in stops")
}

// The files of one point set in every form, as GDAL wrote them or by small edits
// of that; expected.csv beside them says how many points they hold and what their
// counts add up to.
func TestEveryForm(t *testing.T) {
	expected := testkit.ReadTable(t, testkit.Shared(t, "data", "formats", "expected.csv"))
	options := map[string]survey.Options{
		"points_no_header.csv": {Columns: []string{"stop", "date", "latitude", "longitude", "count"}},
		"points_utm30.csv":     {UTM: "30N"},
	}
	plain, err := survey.Read(given.Files(t, testkit.Shared(t, "data", "formats", "points_plain.csv")), survey.Options{})
	require.NoError(t, err)
	checked := 0
	for row := range expected.Len() {
		name := expected.Text(t, row, "file")
		if expected.Text(t, row, "content") != "points" || name == "points_dirty.csv" {
			continue
		}
		checked++
		t.Run(name, func(t *testing.T) {
			s, err := survey.Read(given.Files(t, testkit.Shared(t, "data", "formats", name)), options[name])
			require.NoError(t, err)
			assertAddsUp(t, s)
			assert.Empty(t, s.Problems)
			features, _ := expected.Number(t, row, "features")
			sum, _ := expected.Number(t, row, "sum_of_counts")
			require.Len(t, s.Stops, int(features))
			var got float64
			for i, stop := range s.Stops {
				got += stop.Total
				assert.Equal(t, plain.Stops[i].Name, stop.Name)
				assert.Equal(t, plain.Stops[i].Total, stop.Total)
				assert.Equal(t, "1996-06-28", stop.Date)
				// Seven decimals, and metres to a decimeter in UTM, are the coarsest.
				assert.InDelta(t, plain.Stops[i].Latitude, stop.Latitude, 1e-6)
				assert.InDelta(t, plain.Stops[i].Longitude, stop.Longitude, 1e-6)
			}
			assert.Equal(t, sum, got)
		})
	}
	assert.Equal(t, 22, checked)
}

// points_dirty.csv: twelve rows, each but the first with a fault of its own; one of
// them, thousands with a comma, is read and said.
func TestEachFaultIsNamed(t *testing.T) {
	s, err := survey.Read(given.Files(t, testkit.Shared(t, "data", "formats", "points_dirty.csv")), survey.Options{})
	require.NoError(t, err)
	assertAddsUp(t, s)
	assert.Equal(t, survey.Tally{Read: 12, Used: 2, SetAside: 10}, s.Tally)
	assert.Contains(t, s.Notes, `points_dirty.csv: numbers such as "1,204" are read as thousands, 1204`)
	var got []string
	for _, p := range s.Problems {
		got = append(got, p.String())
	}
	assert.Equal(t, []string{
		`points_dirty.csv:3: count "": is blank, and a blank is not a zero; write the count, 0 if nothing was found`,
		`points_dirty.csv:4: count "n/a": is not a number; write a number`,
		`points_dirty.csv:5: count "-3": is negative; write the count, 0 if nothing was found`,
		`points_dirty.csv:6: count "7.5": is no whole number; write the count; name the column mean_per_leaf if it holds means`,
		`points_dirty.csv:7: latitude "95.0": is no latitude: degrees go to 90; latitude and longitude may be swapped`,
		`points_dirty.csv:8: longitude "-181.5": is no longitude: degrees go to 180; write decimal degrees`,
		`points_dirty.csv:9: count "1e2": is written with an exponent; write it in digits alone`,
		`points_dirty.csv:10: id "r1c1": the same row as line 2 once more; drop one of the two, or number plants and leaves`,
		`points_dirty.csv:11: longitude "0": longitude and latitude are both 0: the device had no fix; look the place up`,
		`points_dirty.csv:12: longitude "": the row ends before this column, after 3 of 5 cells; fill the row up`,
		`points_dirty.csv:12: count "": the row ends before this column, after 3 of 5 cells; fill the row up`,
	}, got)
	assert.Equal(t, 0.0, s.Stops[0].Mean(), "the mean of the rest")
}

const header = "stop,longitude,latitude,count,leaves,plant,leaf,infested,time,observer,pest,stage,accuracy_m,notes\n"

// Worked by hand: three rows of stop A, two of B; the means weigh by leaves.
func TestRowsOfAStopAreAggregated(t *testing.T) {
	s := read(t, header+
		"A,-101.6,35.9,100,1,1,upper,,2026-07-15T06:40,scout A,sorghum aphid,4,4,\n"+
		"B,-101.5,35.9,0,10,,,0,2026-07-15T07:10,scout A,sorghum aphid,4,,\n"+
		"A,-101.6,35.9,20,1,1,lower,,2026-07-15T06:41,scout A,sorghum aphid,4,9,\n"+
		"A,-101.60001,35.9,60,2,2,,2,2026-07-15T06:42,scout A,sorghum aphid,4,,two leaves\n"+
		"B,-101.5,35.9,30,5,,,3,2026-07-15T07:12,scout A,sorghum aphid,4,,\n", survey.Options{})
	require.Len(t, s.Stops, 2)
	a, b := s.Stops[0], s.Stops[1]
	assert.Equal(t, [2]string{"A", "B"}, [2]string{a.Name, b.Name})
	assert.Equal(t, 180.0/4, a.Mean())
	assert.Equal(t, 30.0/15, b.Mean())
	assert.InDelta(t, -101.6-0.00001/3, a.Longitude, 1e-12)
	assert.Equal(t, 9.0, a.Accuracy, "the worst")
	assert.Equal(t, "06:40", a.Time)
	assert.Equal(t, "sorghum aphid", s.Pest)

	_, ok := a.Share(50)
	assert.False(t, ok, "the row of two leaves with 60 may hold one over 50 or two or none")
	share, ok := a.Share(61)
	assert.True(t, ok)
	assert.Equal(t, 0.25, share)
	share, ok = b.Share(1)
	assert.True(t, ok, "infested leaves are given")
	assert.Equal(t, 3.0/15, share)
	_, ok = b.Share(5)
	assert.False(t, ok)
}

func TestGroupsTimesSize(t *testing.T) {
	s := read(t, "stop,longitude,latitude,count,groups,group_size\nA,1,2,,7,20\nB,1,3,9,7,20\n", survey.Options{})
	assert.Equal(t, 140.0, s.Stops[0].Total)
	assert.Equal(t, 9.0, s.Stops[1].Total, "a count goes before groups")
}

func TestMeansAreTakenTimesLeaves(t *testing.T) {
	s := read(t, "stop;longitude;latitude;mean_per_leaf;leaves\nA;1,5;2,5;7,25;4\nA;1,5;2,5;0;12\n", survey.Options{})
	assert.Equal(t, 29.0, s.Stops[0].Total)
	assert.Equal(t, 29.0/16, s.Stops[0].Mean())
	assert.Equal(t, 1.5, s.Stops[0].Longitude)
}

func TestColumns(t *testing.T) {
	s := read(t, "\ufeffSample ID,LNG, Lat ,Aphids,scout,wind\n7,1,2,3,x,calm\n", survey.Options{})
	assert.Equal(t, []string{
		`counts.csv: columns read: "Sample ID" as stop, "LNG" as longitude, "Lat" as latitude, "Aphids" as count, "scout" as observer`,
		`counts.csv: columns not used: "wind"`,
		`counts.csv: no column for leaves: each row is taken as one`,
	}, s.Notes)
	s = read(t, "stop,longitude,latitude,count,mean_per_leaf,leaves\nA,1,2,3,,4\nB,1,3,,2.5,5\nC,1,4,,,5\n", survey.Options{})
	require.Len(t, s.Stops, 2)
	assert.Equal(t, [2]float64{3, 12.5}, [2]float64{s.Stops[0].Total, s.Stops[1].Total}, "a mean stands for a count that is blank")
	s = read(t, "id,stop,longitude,latitude,count,mean_per_leaf\n1,A,1,2,3,9\n", survey.Options{})
	assert.Equal(t, "A", s.Stops[0].Name, "a column's own name goes before synonyms")
	assert.Equal(t, 3.0, s.Stops[0].Total)
	assert.Contains(t, s.Notes, `counts.csv: columns not used: "id"`)
}

func TestColumnsOfFields(t *testing.T) {
	for header, want := range map[string]struct{ field, note string }{
		"field,block":    {"1", `counts.csv: columns not used: "block"`},
		"Lote,wind":      {"1", `counts.csv: columns read: "Lote" as field`},
		"Campo,Lote":     {"2", `counts.csv: columns not used: "Campo"`},
		"lote,Field ID":  {"2", `counts.csv: columns read: "Field ID" as field`},
		"parcela,campo":  {"1", `counts.csv: columns not used: "campo"`},
		"polígono,hoja ": {"", `counts.csv: columns not used: "polígono"`},
	} {
		s := read(t, "stop,longitude,latitude,count,leaves,"+header+"\nA,1,2,3,4,1,2\n", survey.Options{})
		assert.Equal(t, want.field, s.Stops[0].Records[0].Field, header)
		assert.Contains(t, strings.Join(s.Notes, "\n"), want.note, header)
	}
	s := read(t, "lote,longitude,latitude,count,leaves\n7,1,2,3,4\n", survey.Options{Rename: map[string]string{"lote": "stop"}})
	assert.Empty(t, s.Stops[0].Records[0].Field, "a column of stops is none of fields")
}

func TestRefusedFiles(t *testing.T) {
	for name, c := range map[string]struct{ text, want string }{
		"nothing":            {"", "counts.csv: is empty"},
		"blank lines":        {"\n\n , ,\n", "counts.csv: is empty"},
		"no position":        {"stop,count\nA,1\n", `no column for longitude, nor for latitude; the header has "stop", "count"`},
		"no count":           {"stop,longitude,latitude\nA,1,2\n", "no column for count (or mean_per_leaf, or groups and group_size)"},
		"no stop":            {"longitude,latitude,count\n1,2,3\n", "give --unnamed-stops"},
		"two longitudes":     {"stop,lon,lng,latitude,count\nA,1,1,2,3\n", `columns "lon" and "lng" both read as longitude; rename`},
		"the same twice":     {"stop,longitude,latitude,count,count\nA,1,2,3,4\n", `columns "count" and "count" both read as count`},
		"an open quote":      {"stop,longitude,latitude,count\nA,1,2,\"3\nB,1,2,3\n", "line 2: a quote opens and never closes"},
		"bytes":              {"\x01\x00\x02\x00\x01", "bytes that no text has"},
		"a picture":          {"\x89PNG\x00\x00\x01", "is a picture, not a table that can be read"},
		"two pests":          {"stop,longitude,latitude,count,pest\nA,1,2,3,thrips\nA,1,2,3,greenbug\n", `name 2 pests: "thrips", "greenbug"; choose one with --pest`},
		"too many columns":   {"stop,longitude,latitude,count\nA,1,2,3" + strings.Repeat(",", 500) + "\n", "line 2: more than 500 columns"},
		"a header of quotes": {"a\"b,c\n", "line 1: a quote"},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := decode(t, "counts.csv", c.text, survey.Options{})
			require.ErrorContains(t, err, c.want)
			assert.NotContains(t, err.Error(), "\n")
		})
	}
}

func TestDoubtfulAndRefusedRows(t *testing.T) {
	for name, c := range map[string]struct {
		row, what string
		used      bool
	}{
		"no stop":        {",1,2,3,1,,,,,,,,,", "the stop has no name", false},
		"words":          {"A,1,2,lots,1,,,,,,,,,", "is not a number", false},
		"no leaves":      {"A,1,2,3,0,,,,,,,,,", "nothing was looked at", false},
		"half a leaf":    {"A,1,2,3,1.5,,,,,,,,,", "is no whole number", false},
		"leaves blank":   {"A,1,2,3,,,,,,,,,,", "is blank", false},
		"absurd":         {"A,1,2,9000000,1,,,,,,,,,", "is more than 1000000 on each", false},
		"far too many":   {"A,1,2,200000,1,,,,,,,,,", "is more than 100000 on each", true},
		"infested":       {"A,1,2,3,1,,,2,,,,,,", "is not a number from 0 to the 1 looked at", true},
		"no time":        {"A,1,2,3,1,,,,dawn,,,,,", "is no date or time", true},
		"poor fix":       {"A,1,2,3,1,,,,,,,,40,", "the place is poor", true},
		"no accuracy":    {"A,1,2,3,1,,,,,,,,good,", "is not a number of metres", true},
		"one cell more":  {"A,1,2,3,1,,,1,,,,,,wet, windy", "the row has 15 cells, the header 14", false},
		"a cut remark":   {"A,1,2,3,1,,,,,,,,,wet, windy", "the row has 15 cells, the header 14: those at its end are read as one remark", true},
		"a stray quote":  {"A,1,2,3,1,,,,,,,,,\"5\" tall", "a stray quote", false},
		"a bare quote":   {"A,1,2,3,1,,,,,,,,,5\" tall", "a stray quote is read as it stands", true},
		"swapped":        {"A,35.9,-101.6,3,1,,,,,,,,,", "may be swapped", false},
		"minutes of 60":  {"A,101 60.2 W,35.9,3,1,,,,,,,,,", "has minutes or seconds of 60 or more", false},
		"no such angle":  {"A,101 W 36,35.9,3,1,,,,,,,,,", "is no angle", false},
		"the other axis": {"A,35.9 N,101.6 W,3,1,,,,,,,,,", "names a hemisphere of the other axis", false},
		"west twice":     {"A,-101.6 W,35.9,3,1,,,,,,,,,", "names a hemisphere twice", false},
	} {
		t.Run(name, func(t *testing.T) {
			s := read(t, header+"Z,1,2,5,1,,,,,,,,,\n"+c.row+"\n", survey.Options{})
			require.NotEmpty(t, s.Problems)
			p := s.Problems[0]
			assert.Contains(t, p.String(), c.what)
			assert.NotEmpty(t, p.Fix)
			assert.Equal(t, 3, p.Line)
			assert.Equal(t, c.used, p.Severity == survey.Doubtful)
			assert.Equal(t, survey.Tally{Read: 2, Used: 1 + b2i(c.used), SetAside: b2i(!c.used)}, s.Tally)
		})
	}
}

func b2i(b bool) int {
	if b {
		return 1
	}
	return 0
}

func TestPests(t *testing.T) {
	const text = "stop,longitude,latitude,count,pest\nA,1,2,3,Sorghum aphid\nA,1,2,9,greenbug\nB,1,3,0,sorghum  APHID\nC,1,4,2,\n"
	s := read(t, text, survey.Options{Pest: "sorghum aphid"})
	assert.Equal(t, survey.Tally{Read: 4, Used: 2, SetAside: 1, OtherPest: 1}, s.Tally)
	assert.Equal(t, "Sorghum aphid", s.Pest)
	_, err := decode(t, "counts.csv", text, survey.Options{Pest: "thrips"})
	assert.ErrorContains(t, err, `no row is of "thrips"; the samples name: "Sorghum aphid", "greenbug"`)
	s = read(t, "stop,longitude,latitude,count,pest\nA,1,2,3,thrips\nB,1,3,0,\n", survey.Options{})
	assert.Equal(t, 2, s.Tally.Used)
	assert.Contains(t, strings.Join(s.Notes, "\n"), "1 rows name no pest: taken as thrips")
	s = read(t, "stop,longitude,latitude,count\nA,1,2,3\n", survey.Options{Pest: "thrips"})
	assert.Equal(t, "thrips", s.Pest)
}

func TestOneNameTwoPlaces(t *testing.T) {
	s := read(t, "stop,longitude,latitude,count\n7,1,2,30\n7,1.001,2,0\n7,1.0000001,2,10\n", survey.Options{})
	require.Len(t, s.Stops, 2)
	assert.Equal(t, 20.0, s.Stops[0].Mean())
	require.Len(t, s.Problems, 1)
	assert.Contains(t, s.Problems[0].String(), "lies 111 m from the stop of that name on line 2; taken as a stop of its own")
}

func TestTwoDaysAreTwoStops(t *testing.T) {
	s := read(t, "stop,longitude,latitude,count,date\n7,1,2,30,2026-07-08\n7,1,2,50,2026-07-15\n", survey.Options{})
	require.Len(t, s.Stops, 2)
	assert.Equal(t, []string{"2026-07-08", "2026-07-15"}, s.Dates)
}

func TestRowsAlikeAreNotAlwaysRepeats(t *testing.T) {
	s := read(t, "stop,longitude,latitude,count\nA,1,2,0\nA,1,2,0\nB,1,3,0\nB,1,3,0\n", survey.Options{})
	assert.Equal(t, 4, s.Tally.Used, "two leaves of a stop may both be empty")
	s = read(t, "stop,longitude,latitude,count,plant,leaf\nA,1,2,0,1,1\nA,1,2,0,1,1\nA,1,2,0,1,2\n", survey.Options{})
	assert.Equal(t, survey.Tally{Read: 3, Used: 2, SetAside: 1}, s.Tally, "a leaf of a plant is counted once")
	s = read(t, "stop,longitude,latitude,count\nA,1,2,0\nB,1,3,0\nC,1,4,0\nA,1,2,0\n", survey.Options{})
	assert.Equal(t, survey.Tally{Read: 4, Used: 3, SetAside: 1}, s.Tally, "one row for each stop by custom")
}

func TestUnnamedStops(t *testing.T) {
	s := read(t, "longitude,latitude,count\n1,2,3\n1,2,5\n1,3,0\n", survey.Options{UnnamedStops: true})
	require.Len(t, s.Stops, 2)
	assert.Equal(t, 4.0, s.Stops[0].Mean())
	assert.Equal(t, "2", s.Stops[1].Name)
}

func TestTimes(t *testing.T) {
	for text, want := range map[string][2]string{
		"2026-07-15": {"2026-07-15", ""}, "2026-07-15T06:40:12-05:00": {"2026-07-15", "06:40"}, "2026-07-15T06:40Z": {"2026-07-15", "06:44"}, // a degree east of Greenwich
		"2026-07-15 06:40": {"2026-07-15", "06:40"}, "7/15/2026": {"2026-07-15", ""}, "7/15/2026 6:40 AM": {"2026-07-15", "06:40"},
		"15/7/2026": {"2026-07-15", ""}, "15.07.2026 18:05": {"2026-07-15", "18:05"}, "06:40": {"", "06:40"}, "15 Jul 2026": {"2026-07-15", ""},
		"20260715": {"2026-07-15", ""}, "2026-07-15T06:40:12.345": {"2026-07-15", "06:40"},
	} {
		s := read(t, "stop,longitude,latitude,count,time\nA,1,2,3,\""+text+"\"\n", survey.Options{})
		assert.Empty(t, s.Problems, text)
		assert.Equal(t, want, [2]string{s.Stops[0].Date, s.Stops[0].Time}, text)
	}
	s := read(t, "stop,longitude,latitude,count,date,time\nA,1,2,3,2026-07-15,06:40\n", survey.Options{})
	assert.Equal(t, "2026-07-15 06:40", s.Stops[0].Date+" "+s.Stops[0].Time)
}

// endless is a header and then rows for ever.
func endless() io.Reader {
	return io.MultiReader(strings.NewReader("stop,longitude,latitude,count\n"), forever{})
}

type forever struct{}

func (forever) Read(p []byte) (int, error) {
	for i := range p {
		p[i] = "A,1,2,3\n"[i%8]
	}
	return len(p), nil
}

func TestLimits(t *testing.T) {
	long, err := geofile.ReadUpTo(endless(), 1<<20)
	require.NoError(t, err)
	_, err = survey.Read(given.Table(string(long)), survey.Options{Limits: survey.Limits{Bytes: 1 << 20}})
	assert.ErrorContains(t, err, "more than 1 MiB")
	_, err = survey.Read(given.Table(string(long[:1<<16])), survey.Options{Limits: survey.Limits{Rows: 100}})
	assert.ErrorContains(t, err, "more than 100 rows")
}

// Whatever the rows, none vanishes, and their order does not change what the
// stops say.
func TestTallyAddsUpForAnyRows(t *testing.T) {
	cell := rapid.SampledFrom([]string{"", "0", "3", "-1", "1e3", "7.5", "x", "2000000", "91", "200", `"a,b"`})
	// A step of 0.0002 degrees is 22 m at most: two steps are another place.
	place := rapid.SampledFrom([]string{"", "0", "3.0000", "3.0002", "3.0004", "3.0006", "x", "91"})
	testkit.Property(t, func(rt *rapid.T) {
		rows := rapid.SliceOfN(rapid.Custom(func(rt *rapid.T) string {
			return fmt.Sprintf("%s,%s,%s,%s,%s,%s",
				rapid.SampledFrom([]string{"A", "B", "C", ""}).Draw(rt, "stop"), place.Draw(rt, "lon"), place.Draw(rt, "lat"),
				cell.Draw(rt, "count"), cell.Draw(rt, "leaves"), rapid.SampledFrom([]string{"", "thrips"}).Draw(rt, "pest"))
		}), 0, 20).Draw(rt, "rows")
		text := "stop,longitude,latitude,count,leaves,pest\n0,1,1,0,1,\n"
		s := read(t, text+strings.Join(rows, "\n"), survey.Options{})
		filled := 1
		for _, row := range rows {
			if strings.Trim(row, ",") != "" {
				filled++
			}
		}
		assert.Equal(rt, filled, s.Tally.Read, "lines without a filled cell are no rows")
		turned := read(t, text+strings.Join(rapid.Permutation(rows).Draw(rt, "order"), "\n"), survey.Options{})
		assert.Equal(rt, s.Tally.Used, turned.Tally.Used)
		assert.Equal(rt, said(s), said(turned))
	})
}

// said is what the stops say, sorted, without regard to the last digits.
func said(s *survey.Survey) (out []string) {
	for _, stop := range s.Stops {
		out = append(out, fmt.Sprintf("%s %.9f %g %.9f %.9f", stop.Name, stop.Mean(), stop.Units, stop.Longitude, stop.Latitude))
	}
	slices.Sort(out)
	return out
}

func FuzzDecode(f *testing.F) {
	for _, seed := range []string{
		header + "A,-101.6,35.9,100,1,1,upper,,2026-07-15T06:40,scout A,sorghum aphid,4,4,\n",
		"stop;longitude;latitude;mean\nA;1,5;2,5;7,25\n", "stop\tx\ty\tn\nA\t1\t2\t\"3\"\"\"\n", "\ufeffid,lat,lon,groups,group_size\r\n1,2,3,4,5\r",
		"stop,longitude,latitude,count\nA,1,2,\"3\nB\"\n", "\xff\xfes\x00t\x00", "id,lat,lon,count\n1,2,3,\xe9\n",
		"stop,gps,count,leaves\nA,\"27.1, -97.5\",none,10\n", "title\nstop;lat lon;count\nA;27,1N 97,5W;3\n",
	} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		for _, opts := range []survey.Options{{}, {UnnamedStops: true, Pest: "thrips"}} {
			s, err := survey.Read(given.Table(string(data)), opts)
			if err != nil {
				continue
			}
			assertAddsUp(t, s)
			for _, stop := range s.Stops {
				require.Greater(t, stop.Units, 0.0)
				require.False(t, math.IsNaN(stop.Mean()) || math.IsInf(stop.Mean(), 0) || stop.Mean() < 0)
				require.LessOrEqual(t, math.Abs(stop.Latitude), 90.0)
				require.LessOrEqual(t, math.Abs(stop.Longitude), 180.0)
			}
		}
	})
}
