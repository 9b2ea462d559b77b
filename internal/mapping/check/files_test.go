package check_test

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/geometry/boundary"
	"github.com/geocoris/geocoris/internal/mapping/check"
	"github.com/geocoris/geocoris/internal/scouting/survey"
	"github.com/geocoris/geocoris/internal/testkit"
	"github.com/geocoris/geocoris/internal/testkit/given"
)

// surveyOf reads tables as files of their own.
func surveyOf(t require.TestingT, dir string, tables []string, opts survey.Options) *survey.Survey {
	var paths []string
	for i, text := range tables {
		paths = append(paths, filepath.Join(dir, fmt.Sprintf("week%d.csv", i+1)))
		require.NoError(t, os.WriteFile(paths[i], []byte(text), 0o600))
	}
	s, err := survey.Read(given.Files(t, paths...), opts)
	require.NoError(t, err)
	return s
}

// cleaned is what the clean file of a survey reads as.
func cleaned(t require.TestingT, dir string, s *survey.Survey, fields []geo.Field) (text string, again *survey.Survey) {
	r, err := check.Run(s, fields)
	require.NoError(t, err)
	var b bytes.Buffer
	require.NoError(t, r.WriteClean(&b))
	path := filepath.Join(dir, "clean.csv")
	require.NoError(t, os.WriteFile(path, b.Bytes(), 0o600))
	again, err = survey.Read(given.Files(t, path), survey.Options{})
	require.NoError(t, err, b.String())
	return b.String(), again
}

// kinds are ways to write a row down: the columns that tell the count, and cells for
// them.
var kinds = [...]struct {
	header string
	cells  *rapid.Generator[string]
}{
	{"count,leaves", rapid.Custom(func(t *rapid.T) string { return fmt.Sprintf("%d,%d", whole(t, 0, 400), whole(t, 1, 20)) })},
	{"count", rapid.Custom(func(t *rapid.T) string { return fmt.Sprint(whole(t, 0, 3)) })},
	{"count,leaves,infested", rapid.Custom(func(t *rapid.T) string {
		infested := whole(t, 0, 10)
		return fmt.Sprintf("%d,10,%s", infested*whole(t, 1, 9), rapid.SampledFrom([]string{"", fmt.Sprint(infested)}).Draw(t, "given"))
	})},
	{"count,leaves,empty", rapid.Custom(func(t *rapid.T) string {
		return fmt.Sprintf("%d,%d,%d", whole(t, 0, 400), whole(t, 1, 5), whole(t, 0, 5))
	})},
	{"count,leaves", rapid.Custom(func(t *rapid.T) string {
		return rapid.SampledFrom([]string{"0", "1-10", "11-50", "50+", "<10", ">100", "0-4", "7"}).Draw(t, "class") + "," + fmt.Sprint(whole(t, 1, 3))
	})},
	{"mean_per_leaf,leaves", rapid.Custom(func(t *rapid.T) string { return fmt.Sprintf("%g,%d", float64(whole(t, 0, 9999))/100, whole(t, 1, 30)) })},
	{"groups,group_size,leaves", rapid.Custom(func(t *rapid.T) string {
		return fmt.Sprintf("%d,%g,%d", whole(t, 0, 20), float64(whole(t, 1, 99))/10, whole(t, 1, 30))
	})},
}

func whole(t *rapid.T, from, to int) int { return rapid.IntRange(from, to).Draw(t, "n") }

// tableOf is a table of one kind, with what else a row may tell.
func tableOf(t *rapid.T) string {
	kind := rapid.SampledFrom(kinds[:]).Draw(t, "kind")
	named, dated, numbered := rapid.Bool().Draw(t, "named"), rapid.Bool().Draw(t, "dated"), rapid.Bool().Draw(t, "numbered")
	var b strings.Builder
	b.WriteString("longitude,latitude," + kind.header + ",photo,notes")
	for _, c := range []struct {
		has  bool
		name string
	}{{named, ",stop"}, {dated, ",date,time,observer,stage,accuracy_m"}, {numbered, ",plant,leaf"}} {
		if c.has {
			b.WriteString(c.name)
		}
	}
	for i := range whole(t, 1, 12) {
		fmt.Fprintf(&b, "\n%g,%g,%s,%d.jpg,%s", -101.6+float64(whole(t, 0, 3))/1000, 35.9+float64(whole(t, 0, 9))/100_000, kind.cells.Draw(t, "cells"), i,
			rapid.SampledFrom([]string{"", "wet", `"a ""b"", c"`, "\"two\nlines\""}).Draw(t, "notes"))
		if named {
			b.WriteString("," + rapid.SampledFrom([]string{"1", "2", "3", "1 (2)", `"Nord, außen"`}).Draw(t, "stop"))
		}
		if dated {
			b.WriteString("," + rapid.SampledFrom([]string{"2026-07-15,06:40,A,boot,3", "2026-07-22,07:10,B,,12.5", "2026-07-22,,,,", ",,A,,"}).Draw(t, "when"))
		}
		if numbered {
			fmt.Fprintf(&b, ",%d,%d", whole(t, 1, 3), i)
		}
	}
	return b.String() + "\n"
}

// The clean file of any survey reads as the same stops, whatever its files held.
func TestTheCleanFileReadsAsTheSameStops(t *testing.T) {
	dir := t.TempDir()
	testkit.Hundreds(t, 5, func(rt *rapid.T) {
		tables := rapid.SliceOfN(rapid.Custom(tableOf), 1, 3).Draw(rt, "tables")
		paths := slices.Clone(tables)
		slices.Sort(paths)
		if len(slices.Compact(paths)) < len(tables) {
			rt.Skip("the same file twice")
		}
		s := surveyOf(rt, dir, tables, survey.Options{UnnamedStops: true, Pest: "sorghum aphid"})
		if len(s.Stops) == 0 {
			rt.Skip("no stop")
		}
		text, again := cleaned(rt, dir, s, nil)
		require.Equal(rt, s.Tally.Used, again.Tally.Used, "%s\n%v", text, again.Problems)
		require.Equal(rt, len(s.Unread), again.Tally.SetAside, text)
		assert.Equal(rt, s.Pest, again.Pest)
		require.Len(rt, again.Stops, len(s.Stops), text)
		type onDay struct{ name, date string }
		sharing := map[onDay]int{}
		for _, stop := range s.Stops {
			sharing[onDay{stop.Name, stop.Date}]++
		}
		for i, want := range s.Stops {
			got := again.Stops[i]
			switch {
			case want.Date == "": // told from one beside it that has its day
				assert.True(rt, strings.HasPrefix(got.Name, want.Name), got.Name)
			case sharing[onDay{want.Name, want.Date}] == 1:
				assert.Equal(rt, want.Name, got.Name)
			}
			near := func(want, got float64, what string) {
				assert.InDelta(rt, want, got, 4e-16*(1+want), "%s\n%s", what, text)
			}
			near(want.Total, got.Total, "total")
			low, high := want.Bounds()
			gotLow, gotHigh := got.Bounds()
			near(low, gotLow, "low")
			near(high, gotHigh, "high")
			for _, tally := range []float64{1, 10} {
				for _, share := range []func(survey.Stop, float64) (float64, bool){survey.Stop.Share, survey.Stop.PlantShare} {
					a, okA := share(want, tally)
					b, okB := share(got, tally)
					assert.Equal(rt, fmt.Sprint(a, okA), fmt.Sprint(b, okB), text)
				}
			}
			for _, s := range []*survey.Stop{&want, &got} {
				s.Name, s.Total, s.Records = "", 0, make([]survey.Record, len(s.Records))
			}
			assert.Equal(rt, fmt.Sprintf("%+v", want), fmt.Sprintf("%+v", got), text)
		}
	})
}

const head = "stop,longitude,latitude,count,leaves,date\n"

// A stop that was counted on two days is the same place; two places of a name on one
// day are not.
func TestNamesOfTheCleanFile(t *testing.T) {
	s := surveyOf(t, t.TempDir(), []string{head +
		"1,-101.6,35.9,1,10,2026-07-15\n1,-101.6,35.9,2,10,2026-07-22\n1,-101.61,35.9,3,10,2026-07-22\n1 (2),-101.62,35.9,4,10,2026-07-22\n1,-101.63,35.9,5,10,2026-07-22\n"}, survey.Options{})
	_, again := cleaned(t, t.TempDir(), s, nil)
	var names []string
	for _, stop := range again.Stops {
		names = append(names, stop.Name)
	}
	assert.Equal(t, []string{"1", "1", "1 (3)", "1 (2)", "1 (4)"}, names)
}

func TestTheCleanFileKeepsClassesAndInfestedLeaves(t *testing.T) {
	text, _ := cleaned(t, t.TempDir(), surveyOf(t, t.TempDir(), []string{
		"stop,longitude,latitude,count,leaves,infested\n1,-101.6,35.9,11-50,10,4\n2,-101.61,35.9,50+,10,\n3,-101.62,35.9,7,10,3\n"}, survey.Options{}), nil)
	assert.Equal(t, "stop,longitude,latitude,count,leaves,infested,plant,leaf,date,time,observer,pest,stage,accuracy_m,notes,source\n"+
		"1,-101.6,35.9,11-50,10,4,,,,,,,,,,week1.csv:2\n2,-101.61,35.9,50-100,10,,,,,,,,,,,week1.csv:3\n3,-101.62,35.9,7,10,3,,,,,,,,,,week1.csv:4\n", text)
}

// Rows that could not be read stay in the clean file, so that its map tells of them too;
// what their cells hold besides is what the others of the file are read by.
func TestRowsNotReadStayInTheCleanFile(t *testing.T) {
	s := surveyOf(t, t.TempDir(), []string{"stop,longitude,latitude,count,leaves\n1,-101.6,35.9,12,10\n2,-101.601,35.9,1O0,10\n3,,35.9,80,10\nTotal,,,92,20\n4,-101.602,35.9,50,\n"}, survey.Options{})
	require.Len(t, s.Unread, 3)
	text, again := cleaned(t, t.TempDir(), s, nil)
	require.Len(t, again.Unread, 3, text)
	for i, u := range again.Unread {
		want := s.Unread[i]
		assert.Equal(t, []any{want.Row.Stop, want.Placed}, []any{u.Row.Stop, u.Placed}, text)
		assert.Equal(t, want.Row.Stop == "3", u.Counted(), text)
	}
	assert.Contains(t, text, `2,-101.601,35.9,not read,10,`)
	assert.Contains(t, text, `"count ""1O0"": `)
	assert.Equal(t, 1, again.Tally.Used)
}

// Stops that the report sets aside for their place are not in the clean file.
func TestTheCleanFileLeavesOutStopsInNoField(t *testing.T) {
	ground, err := geofile.Decode("f.geojson", strings.NewReader(
		`{"type":"Polygon","coordinates":[[[-101.6,35.9],[-101.59,35.9],[-101.59,35.91],[-101.6,35.91],[-101.6,35.9]]]}`), geofile.Limits{})
	require.NoError(t, err)
	fields, _, err := boundary.Fields(ground.Features, boundary.Settings{})
	require.NoError(t, err)
	s := surveyOf(t, t.TempDir(), []string{head + "in,-101.595,35.905,1,10,\nout,-101.5,35.905,2,10,\n"}, survey.Options{})
	_, again := cleaned(t, t.TempDir(), s, fields)
	require.Len(t, again.Stops, 1)
	assert.Equal(t, "in", again.Stops[0].Name)
}

// What no table can hold does not keep the clean file from being read.
func TestTheCleanFileCanBeRead(t *testing.T) {
	s, err := survey.Read(given.Table(
		`{"type":"FeatureCollection","features":[{"type":"Feature","properties":{"stop":"A\u0000","count":3,"notes":"a\r\nb"},"geometry":{"type":"Point","coordinates":[1,2]}},
{"type":"Feature","properties":{"stop":"A","count":4},"geometry":{"type":"Point","coordinates":[1,2]}}]}`), survey.Options{})
	require.NoError(t, err)
	_, again := cleaned(t, t.TempDir(), s, nil)
	require.Len(t, again.Stops, 2)
	assert.Equal(t, []string{"A", "A (2)"}, []string{again.Stops[0].Name, again.Stops[1].Name})
	assert.Equal(t, "a\nb", again.Stops[0].Records[0].Notes)
}

// A name that a spreadsheet program would take for a formula is written as text, and
// read back as it was.
func TestNamesThatLookLikeFormulas(t *testing.T) {
	for _, name := range []string{"=HYPERLINK(1)", "+a", "-a", "@a"} {
		text, again := cleaned(t, t.TempDir(), surveyOf(t, t.TempDir(), []string{head + name + ",-101.6,35.9,1,10,2026-07-15\n"}, survey.Options{}), nil)
		assert.Contains(t, text, "\n'"+name+",-101.6,")
		assert.Equal(t, name, again.Stops[0].Name)
	}
}
