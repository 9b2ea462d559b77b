package cli_test

import (
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// spoilt makes copies of week2.csv: bad.csv with a cell that cannot be read and one that is
// wrong, good.csv as it should be. It returns the cells' lines.
func spoilt(t *testing.T) {
	t.Helper()
	inFolder(t)
	text, err := os.ReadFile("week2.csv")
	require.NoError(t, err)
	lines := strings.Split(string(text), "\n")
	head := strings.Split(lines[0], ",")
	count, stop := -1, -1
	for i, h := range head {
		switch h {
		case "count":
			count = i
		case "stop":
			stop = i
		}
	}
	require.GreaterOrEqual(t, count, 0)
	require.GreaterOrEqual(t, stop, 0)
	set := func(line, column int, to string) {
		cells := strings.Split(lines[line-1], ",")
		cells[column] = to
		lines[line-1] = strings.Join(cells, ",")
	}
	set(3, count, "12")
	set(7, count, "0")
	put(t, "good.csv", strings.Join(lines, "\n"))
	set(3, count, "l2")
	set(7, count, "9000")
	put(t, "bad.csv", strings.Join(lines, "\n"))
}

func TestCorrectionsAreReadInPlaceOfCells(t *testing.T) {
	spoilt(t)
	bad := contents(t, ".")["bad.csv"]
	put(t, "corrections.csv", "file,line,column,was,now,why\nbad.csv,3,count,l2,12,a letter for a one\nbad.csv,7,Count,9000,0,\n")
	code, _, errs := run(t, "map", "good.csv", "--field", "field.geojson", "--out", "good")
	require.Zero(t, code, errs)
	code, out, errs := run(t, "map", "bad.csv", "--field", "field.geojson", "--out", "out", "--corrections", "corrections.csv", "--strict")
	require.Zero(t, code, errs)
	assert.Contains(t, out, "2 cells read as the corrections say, not as the file has it.")
	after, err := os.ReadFile("bad.csv")
	require.NoError(t, err)
	assert.Equal(t, bad, string(after), "the file stays")
	made, good := contents(t, "out"), contents(t, "good")
	assert.Equal(t, good["zones.geojson"], made["zones.geojson"])
	assert.Equal(t, summaryOf(t, "good"), summaryOf(t, "out"))
	assert.Contains(t, made["summary.json"], `bad.csv:3: count \"l2\" is read as \"12\" (a letter for a one)`)
	assert.Contains(t, inputsOf(t, "out"), "corrections.csv")

	code, out, errs = run(t, "map", "bad.csv", "--field", "field.geojson", "--out", "out", "--corrections", "corrections.csv", "--language", "es")
	require.Zero(t, code, errs)
	assert.Contains(t, out, "2 celdas según las correcciones")

	// What comes after reads them again.
	code, _, errs = run(t, "report", "out")
	require.Zero(t, code, errs)
	assert.Contains(t, contents(t, "out")["report.html"], "2 cells corrected, as asked")
	code, out, errs = run(t, "compare", "week1.csv", "out", "--field", "field.geojson", "--out", "change", "--details")
	require.Zero(t, code, errs)
	assert.Contains(t, out, "2 cells corrected, as asked: bad.csv:3")
	assert.Contains(t, inputsOf(t, "change"), "corrections.csv")
	code, _, errs = run(t, "season", "add", "s.gpkg", "bad.csv", "--field", "field.geojson", "--corrections", "corrections.csv")
	require.Zero(t, code, errs)
	require.NoError(t, os.Remove("corrections.csv"))
	code, out, errs = run(t, "season", "show", "s.gpkg", "--json")
	require.Zero(t, code, errs)
	assert.Contains(t, out, `\"l2\" is read as \"12\"`, "the season keeps the file")
	code, _, errs = run(t, "report", "out")
	assert.Equal(t, 1, code)
	assert.Contains(t, errs, "corrections.csv")
}

func TestCheckTakesCorrections(t *testing.T) {
	spoilt(t)
	code, out, _ := run(t, "check", "bad.csv")
	require.Zero(t, code)
	assert.Contains(t, out, `bad.csv:3: count "l2"`)
	put(t, "corrections.csv", "file;line;column;was;now;why\nbad.csv;3;count;l2;12;longitude, latitude\n")
	code, out, errs := run(t, "check", "bad.csv", "--corrections", "corrections.csv", "--out", "checked", "--strict")
	require.Zero(t, code, errs)
	assert.NotContains(t, out, `bad.csv:3: count "l2"`+" is no")
	assert.Contains(t, out, `1 cell corrected, as asked: bad.csv:3: count "l2" is read as "12" (longitude, latitude)`)
	assert.NotContains(t, contents(t, "checked")["clean.csv"], "l2")
}

func TestCorrectionsThatDoNotFit(t *testing.T) {
	spoilt(t)
	for text, want := range map[string]string{
		"bad.csv,3,count,1O,12,x\n":                         `corrections.csv:2: bad.csv:3: count is "l2", not "1O" as the correction says`,
		"bad.csv,3,counts,l2,12,x\n":                        `corrections.csv:2: bad.csv:3: there is no column "counts"; there are `,
		"bad.csv,9999,count,l2,12,x\n":                      "corrections.csv:2: bad.csv:9999: no row of cells begins on this line",
		"bad.csv,1,count,count,12,x\n":                      "bad.csv:1: no row of cells begins on this line",
		"bad.csv,third,count,l2,12,x\n":                     "corrections.csv:2: want the file, the number of the line",
		"bad.csv,3,count,l2,12,x\nbad.csv,3,COUNT,l2,13,\n": "corrections.csv:3: corrects the same cell as corrections.csv:2",
		"": "corrections.csv: holds no correction",
	} {
		put(t, "corrections.csv", "file,line,column,was,now,why\n"+text)
		code, _, errs := run(t, "map", "bad.csv", "--field", "field.geojson", "--out", "out", "--corrections", "corrections.csv")
		assert.Equal(t, 1, code, text)
		assert.Contains(t, errs, want, text)
		assert.NoDirExists(t, "out", text)
	}
	put(t, "corrections.csv", "file,line,cell,was,now\nbad.csv,3,count,l2,12\n")
	code, _, errs := run(t, "map", "bad.csv", "--field", "field.geojson", "--out", "out", "--corrections", "corrections.csv")
	assert.Equal(t, 1, code)
	assert.Contains(t, errs, "corrections.csv: has no column column: want file, line, column, was, now, why")
	put(t, "corrections.csv", "file,line,column,was,now,why\nother.csv,3,count,l2,12,x\n")
	code, out, errs := run(t, "check", "good.csv", "--corrections", "corrections.csv")
	assert.Equal(t, 1, code, out)
	assert.Contains(t, errs, `corrections.csv:2: no file of counts is called "other.csv"; there is good.csv`)
}

// twoWeeks are files of one name in two folders, each with 9000 for 0 on line 7.
func twoWeeks(t *testing.T) {
	t.Helper()
	spoilt(t)
	text := strings.Replace(contents(t, ".")["bad.csv"], "l2", "12", 1)
	for _, folder := range []string{"ca", "cb"} {
		require.NoError(t, os.Mkdir(folder, 0o700))
	}
	put(t, "ca/week.csv", text)
	week1, err := os.ReadFile("week1.csv")
	require.NoError(t, err)
	lines := strings.Split(string(week1), "\n")
	cells, head := strings.Split(lines[6], ","), strings.Split(lines[0], ",")
	cells[slices.Index(head, "count")] = "9000"
	lines[6] = strings.Join(cells, ",")
	put(t, "cb/week.csv", strings.Join(lines, "\n"))
}

func TestACorrectionIsOfOneFile(t *testing.T) {
	twoWeeks(t)
	const head = "file,line,column,was,now\n"
	put(t, "base.csv", head+"week.csv,7,count,9000,0\n")
	put(t, "one.csv", head+"./ca/week.csv,7,count,9000,0\n")
	put(t, "both.csv", head+"ca/week.csv,7,count,9000,0\ncb/week.csv,7,count,9000,1\n")
	put(t, "same.csv", head+"ca/week.csv,7,count,9000,0\n./ca/week.csv,7,count,9000,1\n")
	put(t, "long.csv", head+"week.csv,7,count,9000,0\nca/week.csv,7,count,9000,1\n")
	put(t, "case.csv", head+"Week.csv,7,count,9000,0\n")
	for name, want := range map[string]string{
		"base.csv": "base.csv:2: week.csv fits several files: ca/week.csv, cb/week.csv: write it with its folder",
		"same.csv": "same.csv:3: corrects the same cell as same.csv:2",
		"case.csv": `case.csv:2: no file of counts is called "Week.csv"; there is ca/week.csv, cb/week.csv`,
	} {
		for _, args := range [][]string{{"map", "ca/week.csv", "cb/week.csv", "--field", "field.geojson"}, {"check", "ca/week.csv", "cb/week.csv"}} {
			code, _, errs := run(t, append(args, "--corrections", name, "--out", "refused")...)
			assert.Equal(t, 1, code, "%s %s", args[0], name)
			assert.Contains(t, errs, want, args[0])
			assert.NoDirExists(t, "refused")
		}
	}
	code, _, errs := run(t, "check", "ca/week.csv", "--corrections", "long.csv")
	assert.Equal(t, 1, code)
	assert.Contains(t, errs, "long.csv:3: corrects the same cell as long.csv:2")
	for name, want := range map[string][]string{
		"one.csv":  {"1 cell corrected, as asked: ca/week.csv:7"},
		"both.csv": {"2 cells corrected, as asked: ca/week.csv:7", "cb/week.csv:7"},
	} {
		code, out, errs := run(t, "check", "ca/week.csv", "cb/week.csv", "--corrections", name)
		require.Zero(t, code, errs)
		for _, w := range want {
			assert.Contains(t, out, w)
		}
	}
	code, out, errs := run(t, "check", "ca/week.csv", "--corrections", "base.csv")
	require.Zero(t, code, errs)
	assert.Contains(t, out, "1 cell corrected", "the bare name of one file is enough")
}

func TestACorrectionIsOfOneWeek(t *testing.T) {
	twoWeeks(t)
	const head = "file,line,column,was,now\n"
	put(t, "base.csv", head+"week.csv,7,count,9000,0\n")
	put(t, "one.csv", head+"cb/week.csv,7,count,9000,0\n")
	weeks := []string{"compare", "cb/week.csv", "ca/week.csv", "--field", "field.geojson", "--details"}
	code, _, errs := run(t, append(weeks, "--corrections", "base.csv", "--out", "change")...)
	assert.Equal(t, 1, code)
	assert.Contains(t, errs, "base.csv:2: week.csv fits several files")
	assert.NoDirExists(t, "change")
	code, out, errs := run(t, append(weeks, "--corrections", "one.csv", "--out", "change")...)
	require.Zero(t, code, errs)
	assert.Contains(t, out, "1 cell corrected, as asked: cb/week.csv:7")
	assert.NotContains(t, out, "ca/week.csv:7")

	// A season corrects each visit as it was kept, though their files have one name.
	put(t, "two.csv", head+"ca/week.csv,7,count,9000,1\n")
	for folder, corrections := range map[string]string{"ca": "two.csv", "cb": "one.csv"} {
		code, _, errs = run(t, "season", "add", "s.gpkg", folder+"/week.csv", "--field", "field.geojson", "--corrections", corrections)
		require.Zero(t, code, errs)
	}
	code, out, errs = run(t, "compare", "s.gpkg", "--out", "weeks", "--details")
	require.Zero(t, code, errs)
	assert.Contains(t, out, `is read as "1"`)
	assert.Contains(t, out, `is read as "0"`)
	code, _, errs = run(t, "season", "add", "t.gpkg", "ca/week.csv", "--field", "field.geojson", "--corrections", "one.csv")
	assert.Equal(t, 1, code)
	assert.Contains(t, errs, `no file of counts is called "cb/week.csv"`)
}
