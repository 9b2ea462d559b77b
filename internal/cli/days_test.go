package cli_test

import (
	"bytes"
	"fmt"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/cli"
)

// runOn runs a command on a day.
func runOn(t testing.TB, today string, args ...string) (code int, out, errs string) {
	t.Helper()
	var o, e bytes.Buffer
	code = cli.Run(t.Context(), args, cli.Remembering(cli.Streams{Out: &o, Err: &e, Today: today}))
	return code, o.String(), e.String()
}

// Week 2 of the invented data was counted on 2026-07-15.
func TestDaysFarFromTodayAreSaid(t *testing.T) {
	inFolder(t)
	for today, want := range map[string]string{
		"2026-07-13": "note: 2026-07-15 is still to come (54 stops, the first is 1): check the year\n",
		"2026-07-14": "", // elsewhere it is the morrow already
		"2026-07-15": "", "2028-07-15": "", "": "",
		"2028-07-16": "note: 2026-07-15 is more than 2 years ago (54 stops, the first is 1): check the year\n",
	} {
		for _, args := range [][]string{{"check", "week2.csv"}, week("2", "--force")} {
			code, out, errs := runOn(t, today, args...)
			require.Zero(t, code, errs)
			assert.Equal(t, want, errs, "%s %v", today, args)
			assert.NotContains(t, out, "check the year")
		}
	}
	_, _, errs := runOn(t, "2026-07-01", week("2", "--quiet")...)
	assert.Empty(t, errs)
	first := contents(t, "out")
	_, _, _ = runOn(t, "2040-01-01", week("2")...)
	assert.Equal(t, first, contents(t, "out"), "no file depends on the clock")
}

// A treatment of a year that is yet to come is stored, and said: compare would never come to it.
func TestTheDayOfATreatmentFarFromTodayIsSaid(t *testing.T) {
	inFolder(t)
	require.NoError(t, os.WriteFile("sprayed.geojson", []byte(sprayed), 0o644)) // of 2026-07-16
	require.NoError(t, os.WriteFile("undated.geojson", []byte(strings.Replace(sprayed, `"date"`, `"day"`, 1)), 0o644))
	for _, c := range []struct{ args, today, want string }{
		{"undated.geojson --treated-on 2036-07-17", "2026-07-20", "note: --treated-on 2036-07-17 is still to come: check the year\n"},
		{"sprayed.geojson", "2026-07-14", "note: sprayed.geojson: 2026-07-16 is still to come: check the year\n"},
		{"sprayed.geojson", "2026-07-16", ""},
		{"undated.geojson --treated-on 2023-07-17 --language es", "2026-07-20", "nota: --treated-on 2023-07-17 fue hace más de 2 años: revise el año\n"},
	} {
		require.NoError(t, os.RemoveAll("s.gpkg"))
		code, _, errs := runOn(t, c.today, append([]string{"season", "add", "s.gpkg", "--treated"}, strings.Fields(c.args)...)...)
		require.Zero(t, code, errs)
		assert.Equal(t, c.want, errs, c.args)
	}
}

func TestFlagsTakeDaysAsPeopleWriteThem(t *testing.T) {
	inFolder(t)
	code, _, errs := run(t, week("3")...)
	require.Zero(t, code, errs)
	record := func(day string) (int, string, string) {
		return runOn(t, "2026-07-20", "record", "out", "--date", day, "--field", "Corner block", "--area", "21.9ac", "--product", "product A=9 L", "--who", "somebody")
	}
	code, _, errs = record("July 24, 2026")
	require.Zero(t, code, errs)
	assert.Contains(t, errs, "note: --date 2026-07-24 is still to come: check the year\n")
	assert.Contains(t, names(t, "out"), "applied_2026-07-24_Corner-block.json")
	code, _, errs = record("8/7/2026")
	assert.Equal(t, 2, code)
	assert.Contains(t, errs, `"8/7/2026" can be 7 August 2026 or 8 July 2026: write 2026-08-07 or 2026-07-08`)

	code, _, errs = run(t, "handoff", "out", "--swath", "24m", "--out", "job", "--spray-on", "7/24/2026", "--whole-field", "--against-verdict")
	require.Zero(t, code, errs)
	assert.Contains(t, contents(t, "job")["handoff_run.json"], `"spray-on": "2026-07-24"`)

	undated := func(name, out string) {
		text, err := os.ReadFile(name)
		require.NoError(t, err)
		require.NoError(t, os.WriteFile(out, []byte(strings.Replace(string(text), ",time,", ",when,", 1)), 0o600))
	}
	undated("week1.csv", "a.csv")
	undated("week2.csv", "b.csv")
	ground := `{"type":"FeatureCollection","features":[{"type":"Feature","properties":{"date":"10 July 2026"},"geometry":{"type":"Polygon","coordinates":[[[-101.603,35.897],[-101.6,35.897],[-101.6,35.899],[-101.603,35.899],[-101.603,35.897]]]}}]}`
	require.NoError(t, os.WriteFile("sprayed.geojson", []byte(ground), 0o600))
	code, _, errs = run(t, "compare", "a.csv", "b.csv", "--field", "field.geojson", "--out", "change", "--dates", "July 8, 2026,15 July 2026", "--treated", "sprayed.geojson", "--treated-on", "10.07.2026", "--forecast", "22 July 2026")
	require.Zero(t, code, errs)
	run := contents(t, "change")["run.json"]
	for _, want := range []string{`"2026-07-08"`, `"2026-07-15"`, `"treated-on": "2026-07-10"`, `"forecast": "2026-07-22"`} {
		assert.Contains(t, run, want)
	}
}

func TestNothingUsableFails(t *testing.T) {
	inFolder(t)
	for name, c := range map[string]struct{ text, want string }{
		"no row":          {"stop,longitude,latitude,count\n", "no rows below the header: enter what was counted"},
		"no usable row":   {"stop,longitude,latitude,count\nA,-101.6,35.9,x\nB,-101.6,35.9,\n", "no row can be used: 2 read, 2 set aside"},
		"in no field":     {"stop,longitude,latitude,count\nA,1,2.5,3\n", "no stop can be used: 1 rows read, 1 set aside, and no stop lies in a field"},
		"one can be used": {"stop,longitude,latitude,count\nA,-101.6,35.9,x\nB,-101.6,35.9,3\n", ""},
	} {
		t.Run(name, func(t *testing.T) {
			require.NoError(t, os.WriteFile("one.csv", []byte(c.text), 0o600))
			code, out, errs := run(t, "check", "one.csv", "--field", "field.geojson", "--out", "checked", "--force")
			if c.want == "" {
				assert.Zero(t, code, errs)
				return
			}
			assert.Equal(t, 1, code)
			assert.Contains(t, errs, c.want)
			if strings.Contains(c.text, "A,") {
				assert.Contains(t, errs, "hint: ")
				assert.Contains(t, out, "refused: one.csv:2: ", "the first problems are printed")
				assert.Contains(t, contents(t, "checked")["problems.csv"], "one.csv,2,")
			}
		})
	}
}

// Two visits of a field on one map are of neither day, in one file or in two; a field that is
// not asked for is not asked about.
func TestTwoVisitsAreNotMappedAsOne(t *testing.T) {
	inFolder(t)
	first, err := os.ReadFile("week2.csv")
	require.NoError(t, err)
	second, err := os.ReadFile("week3.csv")
	require.NoError(t, err)
	_, rows, _ := bytes.Cut(second, []byte("\n"))
	require.NoError(t, os.WriteFile("both.csv", append(first, rows...), 0o600))
	for _, args := range [][]string{
		{"map", "both.csv", "--out", "out"}, {"map", "week2.csv", "week3.csv", "--out", "out"}, {"season", "add", "s.gpkg", "both.csv"},
	} {
		code, _, errs := run(t, append(args, "--field", "field.geojson")...)
		assert.Equal(t, 1, code, args)
		assert.Equal(t, "geocoris: field \"Pivot\" was counted on Wednesday 15 July and at other stops on Wednesday 22 July: one visit, or two?\nhint: if it is one walk that was finished later, give --one-visit; if two, keep the rows of one alone; compare takes both; if stops were added round hot ones, mark these extra in a column kind\n", errs, args)
	}
	assert.NoDirExists(t, "out")
	years := append(first, bytes.ReplaceAll(rows, []byte("2026-07-22"), []byte("2027-07-15"))...)
	require.NoError(t, os.WriteFile("years.csv", years, 0o600))
	_, _, asked := run(t, "map", "years.csv", "--field", "field.geojson", "--out", "out")
	assert.Contains(t, asked, "was counted on Wednesday 15 July 2026 and at other stops on Thursday 15 July 2027")
	code, _, errs := run(t, "map", "both.csv", "--field", "field.geojson", "--out", "out", "--only", "Corner block")
	assert.Equal(t, 1, code)
	assert.Contains(t, errs, `field "Corner block" was counted`)
	code, _, errs = run(t, "compare", "both.csv", "--field", "field.geojson", "--out", "change")
	assert.Zero(t, code, errs)
	code, _, errs = run(t, "compare", "both.csv", "week1.csv", "--field", "field.geojson", "--out", "change")
	assert.Equal(t, 1, code)
	assert.Contains(t, errs, "give each visit a file of its own")
	assert.NotContains(t, errs, "keep the rows of one")
	code, _, errs = run(t, "compare", "both.csv", "--one-visit", "--field", "field.geojson", "--out", "change")
	assert.Equal(t, 1, code)
	assert.Contains(t, errs, "--one-visit, and both.csv of 2 days: which of them are one visit?")
	// A walk that was finished on the next day has neither grown nor died, in a season neither.
	walk, err := os.ReadFile("week2.csv")
	require.NoError(t, err)
	finished := regexp.MustCompile(`(?m)^((?:2[5-9]|[3-9]\d),.*)2026-07-15`).ReplaceAll(walk, []byte("${1}2026-07-16"))
	require.NoError(t, os.WriteFile("finished.csv", finished, 0o600))
	code, _, errs = run(t, "season", "add", "s.gpkg", "finished.csv", "--field", "field.geojson")
	require.Zero(t, code, errs)
	for args, added := range map[string]string{"finished.csv": "its days are visits of their own, give each", "finished.csv --one-visit": "give each", "s.gpkg": ""} {
		code, _, errs = run(t, append([]string{"compare", "--field", "field.geojson", "--out", "none"}, strings.Fields(args)...)...)
		assert.Equal(t, 1, code, args)
		assert.Contains(t, errs, "holds one visit, of Wednesday 15 July to Thursday 16 July, which is nothing to compare", args)
		assert.Contains(t, errs, "hint: add the counts of another visit", args)
		assert.Contains(t, errs, added, args)
	}
	// What may be half a table is asked about as well.
	require.NoError(t, os.WriteFile("half.csv", bytes.TrimRight(second[:len(second)-40], ",\n"), 0o600))
	code, _, errs = run(t, "compare", "week1.csv", "half.csv", "--field", "field.geojson", "--out", "change")
	assert.Equal(t, 1, code)
	assert.Contains(t, errs, "was it cut off?")
}

// Two tables of the same stops, one of them without a day, are asked about in two files as in
// one; two scouts who are named, and two halves of a walk, are not.
func TestTwoTablesInTwoFilesAreAskedAbout(t *testing.T) {
	inFolder(t)
	table := func(name, day, observer string, from, to, more int) {
		text := "stop,longitude,latitude,count,leaves,date,observer\n"
		for i := from; i < to; i++ {
			text += fmt.Sprintf("%d,%.4f,%.4f,%d,10,%s,%s\n", i+1, -101.6008+0.0006*float64(i%4), 35.8988+0.0008*float64(i/4), 10*i+i*i+more, day, observer)
		}
		require.NoError(t, os.WriteFile(name, []byte(text), 0o600))
	}
	const want = "geocoris: field \"Pivot\": %s of b.csv stand in a.csv too, with different counts: are these two visits?\nhint: if so, map each alone, or give each its date; of two scouts, give each row its observer; of upper and lower leaves, its leaf\n"
	for _, c := range []struct {
		day, observer string
		from, to      int
		more          int
		asked         string
	}{
		{"", "", 0, 12, 200, "12 stops"},
		{"", "", 0, 5, 200, "5 stops"},
		{"2026-08-12", "", 0, 12, 200, "12 stops"},
		{"", "", 9, 13, 200, ""}, // 3 of 4
		{"", "Ben", 0, 12, 200, ""},
		{"", "", 12, 24, 0, ""},
	} {
		table("a.csv", "", "Anna"[:4*len(c.observer)/3], 0, 12, 0)
		table("b.csv", c.day, c.observer, c.from, c.to, c.more)
		for _, args := range [][]string{{"map", "a.csv", "b.csv", "--out", "out", "--force"}, {"season", "add", "s.gpkg", "a.csv", "b.csv"}} {
			code, _, errs := run(t, append(args, "--field", "field.geojson")...)
			if c.asked == "" {
				if args[0] == "season" { // which wants a day, but asks nothing of the tables
					assert.Contains(t, errs, "a season goes by days")
					continue
				}
				assert.Zero(t, code, errs)
				continue
			}
			assert.Equal(t, 1, code, args)
			assert.Equal(t, fmt.Sprintf(want, c.asked), errs, args)
		}
	}
}

// A few hot stops that were counted again go by the later counts: the map is that
// of a table without the first ones, and says so, two days later too; check does the same.
func TestStopsCountedAgainGoByTheLaterCount(t *testing.T) {
	inFolder(t)
	text, err := os.ReadFile("week2.csv")
	require.NoError(t, err)
	lines := strings.SplitAfter(string(text), "\n")
	hot := []int{26, 27, 29, 30} // by names as lines
	again := func(name, day string, without bool) {
		var all []string
		for i, line := range lines {
			if !without || !slices.Contains(hot, i) {
				all = append(all, line)
			}
		}
		for _, i := range hot {
			cells := strings.Split(strings.Replace(lines[i], "2026-07-15", day, 1), ",")
			cells[3] = "10"
			all = append(all, strings.Join(cells, ","))
		}
		require.NoError(t, os.WriteFile(name, []byte(strings.Join(all, "")), 0o600))
	}
	again("again.csv", "2026-07-22", false)
	again("later.csv", "2026-07-22", true)
	again("next.csv", "2026-07-17", false)
	again("soon.csv", "2026-07-17", true)
	for _, name := range []string{"again", "later", "next", "soon"} {
		code, out, errs := run(t, "map", name+".csv", "--field", "field.geojson", "--out", name)
		require.Zero(t, code, errs)
		const note = `Note: field "Pivot": 4 stops counted again on a later day, of which the later counts are used: 26, 27, 29, 30`
		if out := strings.Join(strings.Fields(out), " "); name == "again" || name == "next" {
			assert.Contains(t, out, note)
			assert.Contains(t, out, "4 of 58 rows not used: "+name+".csv:27, "+name+".csv:28, "+name+".csv:30 and 1 more.")
		} else {
			assert.NotContains(t, out, "counted again")
		}
	}
	assert.Equal(t, contents(t, "later")["zones.geojson"], contents(t, "again")["zones.geojson"])
	assert.Equal(t, strings.ReplaceAll(contents(t, "soon")["zones.geojson"], "soon", "next"), contents(t, "next")["zones.geojson"])
	code, out, errs := run(t, "check", "again.csv", "--field", "field.geojson", "--out", "checked")
	require.Zero(t, code, errs)
	assert.Contains(t, out, `refused: again.csv:27, 28, 30 and 1 more row: stop "26" and the like: was counted again on 2026-07-22, and the later count is used; to go by this one, leave out the later rows`)
	assert.Contains(t, out, "58 read, 54 used, 4 set aside; 54 stops")
	require.NoError(t, os.Rename("checked/clean.csv", "clean.csv"))
	code, _, errs = run(t, "map", "clean.csv", "--field", "field.geojson", "--out", "clean")
	require.Zero(t, code, errs)
	assert.Equal(t, contents(t, "later")["zones.geojson"], contents(t, "clean")["zones.geojson"])
}

// A column of weeks tells that a table without days holds two visits, and so does one of rounds
// at the same stops; one of rounds at other stops does not.
func TestAColumnOfVisitsIsAskedAbout(t *testing.T) {
	inFolder(t)
	for _, c := range []struct {
		header, first, then string
		from                int // the first stop of the second half
		day, flag, asked    string
	}{
		{"Week", "28", "29", 0, "", "", `field "Pivot": column "Week" of counts.csv has 28 and 29, and rows without a day: which visit is meant?`},
		{"Semana no.", "28", "29", 6, "", "", "give --one-visit"},
		{"week", "28", "29", 6, "", "--one-visit", ""},
		{"week", "28", "29", 0, "", "--one-visit", "which visit is meant?"},
		{"week", "28", "28", 6, "", "", ""},
		{"week", "28", "29", 6, "2026-08-12", "", ""},
		{"Round", "1", "2", 3, "", "", `column "Round" of counts.csv has 1 and 2`},
		{"pass", "1", "2", 4, "", "", ""},
		{"pass", "1", "2", 0, "", "", "if they are parts of one visit, give --one-visit"},
		{"Pass", "1", "2", 0, "", "--one-visit", ""},
		{"week", "W29", "w29", 6, "", "", ""},
		{"week", "29", "29.0", 6, "", "", ""},
		{"SEM", "1.47", "3.97", 6, "", "", ""},
		{"semana", "3", "4", 0, "", "", "if it tells of something else, give the column another name"},
	} {
		text := "stop,longitude,latitude,count,leaves,date," + c.header + "\n"
		var rows []string
		for half, value := range []string{c.first, c.then} {
			for k := range 6 {
				i := k + half*c.from
				rows = append(rows, fmt.Sprintf("%02d,%.4f,%.4f,%d,10,%s,%s\n", i+1, -101.6008+0.0006*float64(i%4), 35.8988+0.0008*float64(i/4), 10*i+i*i+200*half, c.day, value))
			}
		}
		if c.header == "Pass" { // the parts of each stop together
			slices.Sort(rows)
		}
		require.NoError(t, os.WriteFile("counts.csv", []byte(text+strings.Join(rows, "")), 0o600))
		code, _, errs := run(t, append([]string{"map", "counts.csv", "--field", "field.geojson", "--out", "out", "--force"}, strings.Fields(c.flag)...)...)
		if c.asked == "" {
			assert.Zero(t, code, "%v: %s", c, errs)
			continue
		}
		assert.Equal(t, 1, code, c)
		assert.Contains(t, errs, c.asked, c)
		code, out, errs := run(t, append([]string{"check", "counts.csv"}, strings.Fields(c.flag)...)...)
		assert.Zero(t, code, errs)
		assert.Contains(t, out, "which visit is meant?")
		code, out, errs = run(t, append([]string{"check", "counts.csv", "--field", "field.geojson"}, strings.Fields(c.flag)...)...)
		assert.Zero(t, code, errs)
		assert.NotContains(t, out, "geocoris compare", "which asks the same")
	}
}

// Stops that share one position are not used but for the first, on the map and by check, which
// name them; on two days nothing is said.
func TestStopsAtOnePositionAreNamed(t *testing.T) {
	inFolder(t)
	for n, said := range map[int]string{1: "", 2: "Stop 12 (23.1 a leaf, the highest) has the place of stop 11", 4: "Stops 10 (17.1 a leaf), 11 (20 a leaf), 12 (23.1 a leaf, the highest) have the place of stop 9"} {
		text := "stop,longitude,latitude,count,leaves,date\n"
		for i := range 12 {
			k := min(i, 12-n)
			text += fmt.Sprintf("%d,%.4f,%.4f,%d,10,2026-07-15\n", i+1, -101.6008+0.0006*float64(k%4), 35.8988+0.0008*float64(k/4), 10*i+i*i)
		}
		require.NoError(t, os.WriteFile("counts.csv", []byte(text), 0o600))
		code, out, errs := run(t, "map", "counts.csv", "--field", "field.geojson", "--out", "out", "--force")
		require.Zero(t, code, errs)
		code, checked, errs := run(t, "check", "counts.csv", "--field", "field.geojson", "--out", "checked", "--force")
		require.Zero(t, code, errs)
		out = strings.Join(strings.Fields(out), " ")
		if n == 1 {
			assert.NotContains(t, out+checked, "the phone")
			continue
		}
		const asked = ": did the phone keep one fix, or was it copied down?"
		assert.Contains(t, out, said+asked+" Give each stop its own place.")
		assert.Contains(t, out, fmt.Sprintf("%d of 12 stops used", 13-n))
		assert.Contains(t, contents(t, "out")["summary.json"], said+asked)
		assert.Contains(t, checked, fmt.Sprintf("stop 12 has the place of stop %d above it%s; give each stop its own place", 13-n, asked), checked)
		assert.Contains(t, checked, fmt.Sprintf("12 read, %d used, %d set aside", 13-n, n-1))
		code, _, errs = run(t, "map", "checked/clean.csv", "--field", "field.geojson", "--out", "clean", "--force")
		require.Zero(t, code, errs)
		assert.NotEmpty(t, verdictsOf(t, "out"))
		assert.Equal(t, verdictsOf(t, "out"), verdictsOf(t, "clean"), "what check leaves out stays out, and is in doubt")
	}
}

// verdictsOf are the answers of a map in the order of its fields.
func verdictsOf(t *testing.T, folder string) [][]string {
	return regexp.MustCompile(`"verdict": "([^"]+)"`).FindAllStringSubmatch(contents(t, folder)["summary.json"], -1)
}

// A walk of which every second stop was finished three days later is one visit for who says so,
// in a season too, with what it means on screen and job sheet; stops counted again are two.
func TestAWalkFinishedLaterIsOneVisitIfSaid(t *testing.T) {
	inFolder(t)
	text, err := os.ReadFile("week2.csv")
	require.NoError(t, err)
	lines := strings.Split(string(text), "\n")
	for i := 1; i < len(lines); i += 2 {
		lines[i] = strings.Replace(lines[i], "2026-07-15", "2026-07-18", 1)
	}
	require.NoError(t, os.WriteFile("odd.csv", []byte(strings.Join(lines, "\n")), 0o600))
	require.NoError(t, os.WriteFile("again.csv", []byte(string(text)+strings.Join(strings.SplitAfter(strings.ReplaceAll(string(text), "2026-07-15", "2026-07-18"), "\n")[1:], "")), 0o600))
	code, _, errs := run(t, "map", "odd.csv", "--field", "field.geojson", "--out", "out")
	assert.Equal(t, 1, code)
	assert.Equal(t, "geocoris: field \"Pivot\" was counted on Wednesday 15 July and at other stops on Saturday 18 July: one visit, or two?\nhint: if it is one walk that was finished later, give --one-visit; if two, keep the rows of one alone; compare takes both; if stops were added round hot ones, mark these extra in a column kind\n", errs)
	code, _, errs = run(t, "season", "add", "s.gpkg", "odd.csv", "--field", "field.geojson", "--one-visit")
	assert.Zero(t, code, errs)
	code, _, errs = run(t, "season", "add", "s.gpkg", "week1.csv", "--field", "field.geojson")
	require.Zero(t, code, errs)
	code, out, errs := run(t, "compare", "s.gpkg", "--out", "change")
	require.Zero(t, code, errs)
	assert.NotContains(t, out+errs, "other settings")
	assert.Contains(t, out, "to Saturday 18 July")
	code, out, errs = run(t, "map", "odd.csv", "--field", "field.geojson", "--out", "out", "--one-visit")
	require.Zero(t, code, errs)
	const doubt = "stops counted up to 3 days before the last: there may be 1.6 times as many by then."
	assert.Contains(t, strings.Join(strings.Fields(out), " "), doubt)
	made := contents(t, "out")
	assert.Contains(t, made["run.json"], `"one-visit": true`)
	code, _, errs = run(t, "handoff", "out", "--swath", "24m", "--out", "job")
	require.Zero(t, code, errs)
	assert.Contains(t, contents(t, "job")["jobsheet.html"], doubt)
	code, _, errs = run(t, "map", "again.csv", "--field", "field.geojson", "--out", "two")
	assert.Equal(t, 1, code)
	assert.Contains(t, errs, "and again on Saturday 18 July: which visit is meant?")
	code, out, errs = run(t, "map", "again.csv", "--field", "field.geojson", "--out", "two", "--one-visit")
	require.Zero(t, code, errs)
	assert.Contains(t, out, "43 stops counted again on a later day")
}

// Two visits in one table without their days, and stops with the day of another month, are asked
// about before there is a map; check says so and goes on.
func TestTwoTablesInOneAndSlipsOfDaysAreAskedAbout(t *testing.T) {
	inFolder(t)
	table := func(days ...string) {
		text := "stop,longitude,latitude,count,leaves,date\n"
		for visit, day := range days {
			for i := range 12 {
				of, _, _ := strings.Cut(day, "|")
				if _, other, slip := strings.Cut(day, "|"); slip && i == 6 {
					of = other
				}
				text += fmt.Sprintf("%d,%.4f,%.4f,%d,10,%s\n", i+1, -101.6008+0.0006*float64(i%4), 35.8988+0.0008*float64(i/4), 10*i+i*i+200*visit, of)
			}
		}
		require.NoError(t, os.WriteFile("counts.csv", []byte(text), 0o600))
	}
	for want, days := range map[string][]string{
		"field \"Pivot\": 12 stops stand twice, with different counts: are these two visits?":              {"", ""},
		"field \"Pivot\": stop 7 is of Saturday 12 September 2026, the others of Wednesday 12 August 2026": {"2026-08-12|2026-09-12"},
	} {
		table(days...)
		for _, args := range [][]string{{"map", "counts.csv", "--out", "out"}, {"season", "add", "s.gpkg", "counts.csv"}} {
			code, _, errs := run(t, append(args, "--field", "field.geojson")...)
			assert.Equal(t, 1, code, args)
			assert.Contains(t, errs, "geocoris: "+want+"\nhint: ", args)
		}
		assert.NoDirExists(t, "out")
		code, out, errs := run(t, "check", "counts.csv", "--field", "field.geojson")
		assert.Zero(t, code, errs)
		assert.Contains(t, out, "note: "+want+" (")
		assert.Equal(t, strings.Contains(want, "September"), strings.Contains(out, "Once the days are put right:\n  geocoris map counts.csv"), out)
		assert.NotContains(t, out, "geocoris compare")
		code, _, errs = run(t, "compare", "counts.csv", "week2.csv", "--dates", "2026-08-01,2026-08-08", "--field", "field.geojson", "--out", "change")
		assert.Equal(t, 1, code)
		assert.Contains(t, errs, "geocoris: "+want+"\nhint: ")
	}
	// The demo's first two weeks without their days stand at other places.
	for _, name := range []string{"week1.csv", "week2.csv"} {
		text, err := os.ReadFile(name)
		require.NoError(t, err)
		require.NoError(t, os.WriteFile(name, regexp.MustCompile(`,2026-07-[^,]*,`).ReplaceAll(text, []byte(",,")), 0o600))
	}
	const stand = "36 names of stops stand twice, at other places and without a day: are these two visits?"
	code, _, errs := run(t, "map", "week1.csv", "week2.csv", "--field", "field.geojson", "--out", "out")
	assert.Equal(t, 1, code)
	assert.Contains(t, errs, stand+"\nhint: if so, map each alone")
	_, out, _ := run(t, "check", "week1.csv", "week2.csv", "--field", "field.geojson")
	assert.Contains(t, out, stand)
	assert.NotContains(t, out, "Next:")
	_, out, _ = run(t, "check", "week1.csv", "week2.csv", "--field", "field.geojson", "--one-visit")
	assert.NotContains(t, out, stand)
	table("", "")
	_, out, _ = run(t, "check", "counts.csv")
	assert.Contains(t, out, "note: 12 stops stand twice", "without a field")
	table("2026-08-12")
	code, _, errs = run(t, "map", "counts.csv", "--field", "field.geojson", "--out", "out")
	assert.Zero(t, code, errs)
}
