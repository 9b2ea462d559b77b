package survey_test

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/scouting/survey"
	"github.com/geocoris/geocoris/internal/testkit"
	"github.com/geocoris/geocoris/internal/testkit/given"
)

func regress(t testing.TB, name string) (*survey.Survey, error) {
	t.Helper()
	return survey.Read(given.Files(t, testkit.Testdata(t, "regress", "survey", name)), survey.Options{})
}

func problems(s *survey.Survey) (out []string) {
	for _, p := range s.Problems {
		out = append(out, p.String())
	}
	return out
}

// Leaves called upper and lower on plants without names, or with no name at all:
// the empty ones are alike in every cell, and to drop them raised the mean.
func TestEmptyLeavesAreNoRepeats(t *testing.T) {
	s, err := regress(t, "leaves_alike.csv")
	require.NoError(t, err)
	assert.Empty(t, s.Problems)
	assert.Equal(t, 8, s.Tally.Used)
	assert.Equal(t, 40.0/5, s.Stops[0].Mean())
	assert.Equal(t, 12.0/3, s.Stops[1].Mean())
}

func TestDatesWithSlashesAreKnownByTheFile(t *testing.T) {
	s, err := regress(t, "day_first.csv")
	require.NoError(t, err)
	assert.Equal(t, []string{"2026-07-05", "2026-07-13"}, s.Dates)
	assert.Empty(t, s.Problems)

	const head = "stop,longitude,latitude,count,date\n"
	s = read(t, head+"A,1,2,3,5/7/2026 06:40\nB,1,3,4,7/13/2026\n", survey.Options{})
	assert.Equal(t, []string{"2026-05-07", "2026-07-13"}, s.Dates)
	assert.NotContains(t, strings.Join(s.Notes, "\n"), "no date in the file shows")

	s = read(t, head+"A,1,2,3,5/7/2026\n", survey.Options{})
	assert.Equal(t, []string{"2026-05-07"}, s.Dates)
	assert.Contains(t, strings.Join(s.Notes, "\n"), `dates such as "5/7/2026" are read month first`)

	s = read(t, head+"A,1,2,3,5/7/2026\nB,1,3,4,7/13/2026\nC,1,4,4,13/7/2026\nD,1,5,4,7/7/2026\n", survey.Options{})
	assert.Equal(t, []string{"2026-07-07", "2026-07-13"}, s.Dates, "what can be read in one way only")
	require.Len(t, s.Problems, 2)
	assert.Contains(t, s.Problems[0].String(), `counts.csv:2: date "5/7/2026": can be 7 May 2026 or 5 July 2026, and the file has dates of both orders; not used; write it as 2026-05-07 or 2026-07-05`)

	s = read(t, head+"A,1,2,3,13/7/2026\nB,1,3,4,7/14/2026\nC,1,4,4,15/7/2026\n", survey.Options{})
	assert.Equal(t, []string{"2026-07-13", "2026-07-14", "2026-07-15"}, s.Dates)
	assert.Equal(t, []string{`counts.csv:3: date "7/14/2026": can only be 14 July 2026, while line 2 has "13/7/2026": the file has dates of both orders; write it as 2026-07-14`}, problems(s))
}

// A day is offered only where the text can mean it, whatever it has wrong.
func TestNoDayIsOfferedThatNobodyWrote(t *testing.T) {
	const known = "is no date or time that is known; not used; write it as "
	for text, want := range map[string]string{
		"45/45/2026": "YYYY-MM-DD, or with its time as YYYY-MM-DDThh:mm", "dawn": "YYYY-MM-DD", "31.6.2026": "YYYY-MM-DD", "26-07-14": "YYYY-MM-DD", "14/7": "YYYY-MM-DD",
		"07.14.2026": "2026-07-14", "14/7-2026": "2026-07-14", "14 7 2026": "2026-07-14",
	} {
		s := read(t, "stop,longitude,latitude,count,date\nA,1,2,3,"+text+"\n", survey.Options{})
		require.Len(t, s.Problems, 1, text)
		assert.Contains(t, s.Problems[0].String(), known+want, text)
	}
}

func TestThousandsAreNoFractions(t *testing.T) {
	for _, name := range []string{"thousands_in_tabs.csv", "thousands_in_decimal_commas.csv"} {
		t.Run(name, func(t *testing.T) {
			s, err := regress(t, name)
			require.NoError(t, err)
			require.Len(t, s.Problems, 1)
			assert.Contains(t, s.Problems[0].String(), "has a sign between its thousands")
			require.Len(t, s.Stops, 1)
			assert.Equal(t, 7.5, s.Stops[0].Mean())
		})
	}
	s := read(t, "stop,longitude,latitude,count\nA,\"1,5\",2.5,3\n", survey.Options{})
	assert.Contains(t, problems(s)[0], "has a decimal comma, and this file decimal points; write it with a point")
}

func TestTwoColumnsForOneMeasure(t *testing.T) {
	_, err := regress(t, "count_and_n.csv")
	assert.ErrorContains(t, err, `columns "count" and "n" both read as count; rename the one that is not`)
	for name, header := range map[string]string{
		`"latitude" and "y"`:    "stop,longitude,latitude,y,count",
		`"pest" and "species"`:  "stop,longitude,latitude,count,pest,species",
		`"id" and "point"`:      "id,point,longitude,latitude,count",
		`"leaves" and "effort"`: "stop,longitude,latitude,count,leaves,effort",
	} {
		_, err := decode(t, "c.csv", header+"\n", survey.Options{})
		assert.ErrorContains(t, err, name)
	}
	s := read(t, "stop,longitude,latitude,count,notes,comment\nA,1,2,3,wet,late\n", survey.Options{})
	assert.Equal(t, "wet", s.Stops[0].Records[0].Notes)
	assert.Contains(t, s.Notes, `counts.csv: columns not used: "comment"`)
}

func TestHeaderMissing(t *testing.T) {
	_, err := survey.Read(given.Files(t, testkit.Shared(t, "data", "formats", "points_no_header.csv")), survey.Options{})
	assert.ErrorContains(t, err, `"r1c1", "1996-06-28", "50.799287323"`)
	assert.ErrorContains(t, err, "the first line must name the columns")
	_, err = survey.Read(given.Files(t, testkit.Shared(t, "data", "formats", "points_utm30.csv")), survey.Options{})
	assert.ErrorContains(t, err, `columns "easting" and "northing" need their zone: give --utm, such as --utm 14N`)
}

func TestSourcesThatDisagree(t *testing.T) {
	for name, c := range map[string]struct{ header, row, want string }{
		"groups":        {"count,groups,group_size", "100,7,20", `count "100": but 7 groups of 20 are 140; the count is used`},
		"mean":          {"count,mean,leaves", "100,5,10", `count "100": but a mean of 5 on 10 is 50; the count is used`},
		"infested none": {"count,leaves,infested", "100,5,0", `infested "0": does not go with the 100 counted; not used`},
		"infested some": {"count,leaves,infested", "0,5,2", `infested "2": does not go with the 0 counted; not used`},
	} {
		t.Run(name, func(t *testing.T) {
			s := read(t, "stop,longitude,latitude,"+c.header+"\nA,1,2,"+c.row+"\n", survey.Options{})
			require.Len(t, s.Problems, 1)
			assert.Contains(t, s.Problems[0].String(), c.want)
			assert.Equal(t, survey.Doubtful, s.Problems[0].Severity)
			assert.Equal(t, 1, s.Tally.Used)
		})
	}
	s := read(t, "stop,longitude,latitude,count,groups,group_size,mean,leaves\nA,1,2,100,5,20,10,10\nB,1,3,104,,,10,10\n", survey.Options{})
	assert.Empty(t, s.Problems, "they agree, the mean when rounded")
}

func TestFixesSuitTheColumn(t *testing.T) {
	s := read(t, "stop,longitude,latitude,count,leaves\nA,,2,3,1\nB,1,3,3,\nC,1,3,,1\nD,101 X,3,1,1\n", survey.Options{})
	require.Len(t, s.Problems, 4)
	for i, want := range []string{"look the place up", "write how many were looked at", "write the count, 0 if nothing was found", "write decimal degrees, west and south below 0"} {
		assert.Equal(t, want, s.Problems[i].Fix)
	}
}

func TestShortRows(t *testing.T) {
	s := read(t, "stop,longitude,latitude,count,observer,notes,\nA,1,2,3,x\nB,1,3,3,x,fine\n", survey.Options{})
	require.Equal(t, []string{"counts.csv:2: the row has 5 cells, the header 7; check that each cell stands under its header, and fill the row up"}, problems(s))
	assert.Equal(t, 2, s.Tally.Used)
}

func TestDelimiterNamedOnTheFirstLine(t *testing.T) {
	s := read(t, "sep=;\r\nstop;longitude;latitude;count\r\nA;1,5;2,5;x\r\n", survey.Options{})
	require.Len(t, s.Problems, 1)
	assert.Equal(t, 3, s.Problems[0].Line)
}

func write(t testing.TB, texts ...string) (paths []string) {
	t.Helper()
	for i, text := range texts {
		dir := filepath.Join(t.TempDir(), fmt.Sprint(i))
		require.NoError(t, os.Mkdir(dir, 0o755))
		paths = append(paths, filepath.Join(dir, "counts.csv"))
		require.NoError(t, os.WriteFile(paths[i], []byte(text), 0o644))
	}
	return paths
}

func TestSeveralFiles(t *testing.T) {
	const head = "stop,longitude,latitude,count,leaves,date\n"
	paths := write(t,
		head+"1,-101.6,35.9,30,10,2026-07-15\n2,-101.601,35.9,0,10,2026-07-15\n",
		"stop;lat;lon;count;leaves;date\n1;35,9;-101,6;10;10;2026-07-15\n2;35,95;-101,6;;10;2026-07-15\n3;35,95;-101,6;5;10;2026-07-15\n",
		head+"1,-101.6,35.9,30,10,2026-07-15\n1,-101.6,35.9,90,10,2026-07-22\n")
	s, err := survey.Read(given.Files(t, paths...), survey.Options{})
	require.NoError(t, err)
	assertAddsUp(t, s)
	assert.Equal(t, survey.Tally{Read: 7, Used: 5, SetAside: 2}, s.Tally)
	assert.Equal(t, 40.0/20, s.Stops[0].Mean(), "two scouts at one stop on one day")
	assert.Equal(t, []string{
		filepath.ToSlash(paths[1]) + `:3: count "": is blank, and a blank is not a zero; write the count, 0 if nothing was found`,
		filepath.ToSlash(paths[2]) + `:2: stop "1": the same row as ` + filepath.ToSlash(paths[0]) + `:2 once more; drop one of the two, or number plants and leaves`,
	}, problems(s), "files of one name are known by their folders")
	assert.Equal(t, []string{"2026-07-15", "2026-07-22"}, s.Dates)

	_, err = survey.Read(given.Files(t, paths[0], paths[0]), survey.Options{})
	assert.ErrorContains(t, err, "holds the same rows as")
	_, err = survey.Read(nil, survey.Options{})
	assert.Error(t, err)
}

func TestStopsOfOneNameInTwoFiles(t *testing.T) {
	for name, c := range map[string]struct {
		day, lon string
		stops    int
	}{
		"a place, a day":              {"2026-07-15", "-101.6", 1},
		"a place, no day":             {"", "-101.6", 2},
		"two fields numbered from 1":  {"2026-07-15", "-101.5", 2},
		"two fields, no day is known": {"", "-101.5", 2},
	} {
		t.Run(name, func(t *testing.T) {
			const head = "stop,longitude,latitude,count,date\n"
			s, err := survey.Read(given.Files(t, write(t, head+"1,-101.6,35.9,30,"+c.day+"\n", head+"1,"+c.lon+",35.9,10,"+c.day+"\n")...), survey.Options{})
			require.NoError(t, err)
			assert.Len(t, s.Stops, c.stops)
			assert.Empty(t, s.Problems)
		})
	}
}

// One name for all, as where the column names the field: each place a stop, and
// quick about it. 60,000 rows took minutes when each was compared with each place.
func TestOneNameManyPlaces(t *testing.T) {
	var b strings.Builder
	b.WriteString("site,longitude,latitude,count\n")
	for i := range 60_000 {
		fmt.Fprintf(&b, "north,%.3f,%.3f,1\n", float64(i%300)*0.001, float64(i/300)*0.001)
	}
	s := read(t, b.String(), survey.Options{})
	assert.Len(t, s.Stops, 59_999, "all but the one at 0, 0")
}

// Three rows in a line, 20 m apart: which two are one stop does not depend on which
// row comes first. 0.00018 degrees of latitude are 20 m.
func TestPlacesOfANameInAnyOrder(t *testing.T) {
	rows := []string{"A,3,2.00000,1", "A,3,2.00018,2", "A,3,2.00036,4"}
	var want []string
	for _, order := range [][3]int{{0, 1, 2}, {0, 2, 1}, {1, 0, 2}, {1, 2, 0}, {2, 0, 1}, {2, 1, 0}} {
		got := said(read(t, "stop,longitude,latitude,count\n"+rows[order[0]]+"\n"+rows[order[1]]+"\n"+rows[order[2]]+"\n", survey.Options{}))
		require.Len(t, got, 2)
		if want == nil {
			want = got
		}
		assert.Equal(t, want, got)
	}
}

func TestStopOnTheDateLine(t *testing.T) {
	s := read(t, "stop,longitude,latitude,count\nA,179.9999,-16.5,3\nA,-179.9999,-16.5,5\n", survey.Options{})
	require.Len(t, s.Stops, 1)
	assert.InDelta(t, 180, max(s.Stops[0].Longitude, -s.Stops[0].Longitude), 1e-9)
}

func TestPlantsAndTimesOfAStop(t *testing.T) {
	s := read(t, "stop,longitude,latitude,count,plant,leaf,time\nA,1,2,3,1,upper,07:10\nA,1,2,5,2,upper,06:55\nA,1,2,0,1,lower,07:12\n", survey.Options{})
	require.Len(t, s.Stops, 1)
	assert.Equal(t, 2, s.Stops[0].Plants)
	assert.Equal(t, "06:55 07:12", s.Stops[0].Time+" "+s.Stops[0].Until)
	s = read(t, "stop,longitude,latitude,count,plant,leaf,time\nA,1,2,3,1,upper,07:10\nA,1,2,5,2,upper,07:31\nA,1,2,0,1,lower,06:55\nA,1,2,0,2,lower,\n", survey.Options{})
	assert.Equal(t, "06:55 07:31", s.Stops[0].Time+" "+s.Stops[0].Until, "whatever the order of the rows")
}

// A hundred leaves of which 16 hold more than 50: the share that goes with a mean
// of 40 per leaf in the tally-threshold study of Texas sorghum, data 2015–2018.
func TestShareOfLeaves(t *testing.T) {
	var b strings.Builder
	b.WriteString("stop,longitude,latitude,count\n")
	for i := range 100 {
		count := 50
		if i < 16 {
			count = 51
		}
		fmt.Fprintf(&b, "A,1,2,%d\n", count)
	}
	share, ok := read(t, b.String(), survey.Options{}).Stops[0].Share(51)
	assert.True(t, ok)
	assert.Equal(t, 0.16, share)
}

func TestSizesAreBounded(t *testing.T) {
	const head = "stop,longitude,latitude,count\n"
	for name, c := range map[string]struct {
		text   string
		limits survey.Limits
		want   string
	}{
		"bytes":           {head + "A,1,2,3\n", survey.Limits{Bytes: 10}, "counts.csv: more than 10 bytes"},
		"columns":         {head + "A,1,2,3\nB" + strings.Repeat(",", 1<<16), survey.Limits{}, "line 3: more than 500 columns"},
		"a cell":          {head + "A,1,2,3\nB,1,2," + strings.Repeat("3", 1<<16+1), survey.Limits{}, "line 3: a cell of more than 64 KiB"},
		"an open quote":   {head + "A,1,2,\"3\n" + strings.Repeat("B,1,2,3\n", 1<<14), survey.Limits{}, "does a quote open there and never close?"},
		"an archive":      {"PK\x03\x04\x14\x00", survey.Limits{}, "is no zip archive that can be read"},
		"rows, last kept": {head + "A,1,2,3\nB,1,3,3\n", survey.Limits{Rows: 1}, "more than 1 rows"},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := decode(t, "counts.csv", c.text, survey.Options{Limits: c.limits})
			assert.ErrorContains(t, err, c.want)
		})
	}
	s := read(t, head+"A,1,2,3\n\n,,,\n", survey.Options{Limits: survey.Limits{Rows: 1}})
	assert.Equal(t, 1, s.Tally.Used, "blank lines after the last row are no rows")
	s = read(t, "stop,longitude,latitude,count,notes\nA,1,2,3,\"a \"\"b\"\", c\"\nB,1,3,3,\"\"\"x,y\"\"\"\n", survey.Options{Limits: survey.Limits{Columns: 5}})
	assert.Equal(t, 2, s.Tally.Used, "delimiters in quotes part nothing")
}

// A name a letter or two from the pest chosen may be that pest: such a row is not passed
// over as one of another.
func TestPestsThatAreMisspelt(t *testing.T) {
	const head = "stop,longitude,latitude,count,leaves,pest\n1,-101.6,35.9,3,10,sorghum aphid\n2,-101.601,35.9,4,10,greenbug\n"
	for name, asked := range map[string]bool{
		"sorghum aphids": true, "Sorgum Aphid": true, "sorghum ahpid": true, "sorghumaphid": true, "sorghum-aphid": true, "sorhgum aphds": true,
		"?": true, "": true, " - ": true,
		"spider mite": false, "sugarcane aphid": false, "sorghum midge": false, "aphid": false, "corn leaf aphid": false, "green bug": false,
	} {
		s := read(t, head+"3,-101.602,35.9,900,10,"+name+"\n4,-101.603,35.9,x,10,"+name+"\n", survey.Options{Pest: "sorghum aphid"})
		if !asked {
			assert.Empty(t, s.Unread, name)
			assert.Equal(t, 2, s.Tally.OtherPest, name)
			continue
		}
		require.Len(t, s.Unread, 2, name)
		assert.Equal(t, 1, s.Tally.OtherPest, name)
		assert.Equal(t, [2]float64{90, 90}, [2]float64{s.Unread[0].Least, s.Unread[0].Most}, name)
		want := `names a pest much like "sorghum aphid"; write both alike, if they are one, or name the other in another way`
		if strings.Trim(name, " ?-") == "" {
			want = "the row does not say which pest was counted; name the pest"
		}
		assert.Equal(t, fmt.Sprintf("counts.csv:4: pest %q: %s", strings.TrimSpace(name), want), s.Unread[0].String())
	}
	for a, b := range map[string]string{"bean aphid": "pea aphid", "SCA": "CLA", "mite": "midge", "race 1": "race 2"} {
		s := read(t, "stop,longitude,latitude,count,leaves,pest\n1,-101.6,35.9,3,10,"+a+"\n2,-101.601,35.9,4,10,"+b+"\n", survey.Options{Pest: a})
		assert.Equal(t, 1, s.Tally.OtherPest, a)
	}
	for a, b := range map[string]string{"midge": "midges", "fly": "flies", "leaf hopper": "leafhoppers", "bollworm": "boll worm"} {
		s := read(t, "stop,longitude,latitude,count,leaves,pest\n1,-101.6,35.9,3,10,"+a+"\n2,-101.601,35.9,4,10,"+b+"\n", survey.Options{Pest: a})
		assert.Len(t, s.Unread, 1, a)
	}
	_, err := decode(t, "counts.csv", head+"3,-101.602,35.9,900,10,sorghum aphids\n", survey.Options{})
	assert.ErrorContains(t, err, `the samples name 3 pests: "sorghum aphid", "greenbug", "sorghum aphids"; "sorghum aphid" and "sorghum aphids" are much alike: write them alike if they are one; choose one with --pest`)
	// A question mark is no pest, and not the only one either.
	s := read(t, "stop,longitude,latitude,count,leaves,pest\n1,-101.6,35.9,3,10,sorghum aphid\n2,-101.601,35.9,4,10,?\n", survey.Options{})
	assert.Equal(t, "sorghum aphid", s.Pest)
	assert.Len(t, s.Unread, 1)
	assert.Len(t, s.Stops, 1)
}

// A file in which all rows were lost on the way is not passed over.
func TestAFileWithoutRows(t *testing.T) {
	const head = "stop,longitude,latitude,count\n"
	for _, text := range []string{head, head + "\n , , ,\n", "notes\n\n" + head} {
		_, err := decode(t, "fb.csv", text, survey.Options{})
		assert.ErrorContains(t, err, "fb.csv: no rows below the header: enter what was counted, a row for each leaf, plant or stop", text)
	}
	_, err := decode(t, "fb.csv", "", survey.Options{})
	assert.ErrorContains(t, err, "fb.csv: is empty")
	s := read(t, head+"1,2,3,x\n", survey.Options{})
	assert.Len(t, s.Unread, 1, "a row that is not read is one")
}
