//go:build !js && !nosqlite

package season_test

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/followup/season"
	"github.com/geocoris/geocoris/internal/testkit"
)

// brought is an invented visit: the counts of a number, brought by an author. What the
// other numbers change is not part of what makes it the same.
func brought(n int, author string) season.Visit {
	v := visit(n)
	v.Author = season.Authors(author)
	v.Stops[0].Properties = append(v.Stops[0].Properties, geo.Property{Name: "date", Value: v.Date})
	v.Verdicts = []geo.Feature{{Geometry: v.Fields[0].Boundary, Properties: geo.Properties{{Name: "field", Value: "Square"}, {Name: "verdict", Value: "no spray"}}}}
	return v
}

// content is all that a season gives, to be compared.
type content struct {
	Lines   []season.Line
	Visits  []season.Visit
	Fields  []geo.Field
	Records []season.Record
	Beside  []season.Beside
}

func contentOf(t require.TestingT, path string) (c content) {
	s, err := season.Open(path)
	require.NoError(t, err)
	defer s.Close()
	require.NoError(t, s.Check())
	c.Lines, err = s.List()
	require.NoError(t, err)
	for _, l := range c.Lines {
		v, err := s.Whole(l.ID)
		require.NoError(t, err)
		c.Visits = append(c.Visits, v)
	}
	c.Fields, err = s.Fields()
	require.NoError(t, err)
	c.Records, err = s.Records()
	require.NoError(t, err)
	c.Beside, err = s.Beside()
	require.NoError(t, err)
	return c
}

func merge(t require.TestingT, into string, from ...string) (m season.Merged, err error) {
	s, err := season.OpenToAdd(into)
	require.NoError(t, err)
	defer s.Close()
	var sources []season.Source
	for _, path := range from {
		other, err := season.Open(path)
		require.NoError(t, err)
		defer other.Close()
		sources = append(sources, season.Source{Name: filepath.Base(path), Reader: other})
	}
	return s.Merge(sources...)
}

func made(t require.TestingT, path string, visits []season.Visit, records ...season.Record) {
	s, err := season.OpenToAdd(path)
	require.NoError(t, err)
	defer s.Close()
	for _, v := range visits {
		_, err := s.Add(v)
		require.NoError(t, err)
	}
	for _, r := range records {
		_, err := s.AddRecord(r)
		require.NoError(t, err)
	}
}

func copied(t require.TestingT, from, to string) string {
	bytes, err := os.ReadFile(from)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(to, bytes, 0o600))
	return to
}

// Two scouts were in one field on one day, and both know one more visit.
func TestAMergedSeasonLosesNothing(t *testing.T) {
	folder := t.TempDir()
	a, b, into := filepath.Join(folder, "a.gpkg"), filepath.Join(folder, "b.gpkg"), filepath.Join(folder, "both.gpkg")
	shared, hers, his := brought(1, ""), brought(5, "Anna"), brought(5, "Ben")
	his.Files[0].Content = []byte("stop,count\n1,9\n")
	sprayed := season.Record{Date: "2031-08-15", Note: "invented", Ground: field("", 0).Boundary}
	second := sprayed
	second.Note = "second load"
	made(t, a, []season.Visit{hers, shared}, sprayed)
	shared.Author = "Ben"
	made(t, b, []season.Visit{shared, his}, second, sprayed)

	m, err := merge(t, into, a, b)
	require.NoError(t, err)
	assert.Equal(t, season.Merged{Visits: 3, Known: 1, Treatments: 2, KnownGround: 1, Beside: []season.Beside{{Field: "Square", Date: hers.Date, Visits: []int64{2, 3}}}}, m)
	c := contentOf(t, into)
	require.Len(t, c.Visits, 3)
	assert.Equal(t, "Ben", c.Lines[0].Author, "who brought it, where one of both tells it")
	assert.ElementsMatch(t, []string{"Anna", "Ben"}, []string{c.Lines[1].Author, c.Lines[2].Author})
	for _, v := range c.Visits[1:] {
		want := map[string]season.Visit{"Anna": hers, "Ben": his}[v.Author]
		assert.Equal(t, want.Files, v.Files)
		assert.Equal(t, want.SettingsFiles, v.SettingsFiles)
		assert.Len(t, v.Stops, 1)
		assert.Len(t, v.Zones, 1)
		assert.Len(t, v.Verdicts, 1)
	}
	assert.ElementsMatch(t, []season.Record{sprayed, second}, c.Records)
	testkit.AssertGeoPackage(t, into)

	before, err := os.ReadFile(into)
	require.NoError(t, err)
	m, err = merge(t, into, b, a, b)
	require.NoError(t, err)
	assert.Zero(t, m.Visits+m.Treatments+len(m.Renumbered))
	after, err := os.ReadFile(into)
	require.NoError(t, err)
	assert.Equal(t, before, after, "what is there already changes nothing")
}

// Whatever comes first, and whichever are put together first, the season is the same.
func TestOrderOfMergingDoesNotMatter(t *testing.T) {
	var run int
	root := t.TempDir()
	testkit.Cases(t, 30, func(t *rapid.T) {
		run++
		folder := filepath.Join(root, fmt.Sprint(run))
		require.NoError(t, os.Mkdir(folder, 0o700))
		defer os.RemoveAll(folder)
		at := func(name string) string { return filepath.Join(folder, name+".gpkg") }
		var abc []string
		for _, name := range []string{"a", "b", "c"} {
			made(t, at(name), drawnVisits(t), drawnRecords(t)...)
			abc = append(abc, at(name))
		}
		_, err := merge(t, at("all"), abc...)
		require.NoError(t, err)
		want := contentOf(t, at("all"))

		order := rapid.Permutation(abc).Draw(t, "order")
		_, err = merge(t, at("other"), order...)
		require.NoError(t, err)
		require.Equal(t, want, contentOf(t, at("other")), "another order")
		left, last := mergedEachWay(t, at, order, want)
		_, err = merge(t, last, left, at("all"), last)
		require.NoError(t, err)
		require.Equal(t, want, contentOf(t, last), "all once more")
	})
}

// mergedEachWay merges three seasons, the first two first and the last two first, and holds
// both to be the same.
func mergedEachWay(t *rapid.T, at func(name string) string, order []string, want content) (left, last string) {
	left = copied(t, order[0], at("left"))
	_, err := merge(t, left, order[1])
	require.NoError(t, err)
	_, err = merge(t, left, order[2])
	require.NoError(t, err)
	require.Equal(t, want, contentOf(t, left), "the first two first")
	right, last := copied(t, order[1], at("right")), copied(t, order[0], at("last"))
	_, err = merge(t, right, order[2])
	require.NoError(t, err)
	_, err = merge(t, last, right)
	require.NoError(t, err)
	require.Equal(t, want, contentOf(t, last), "the last two first")
	return left, last
}

// drawnVisits are visits out of few, so that seasons share some; copies of one differ in
// all that may differ.
func drawnVisits(t *rapid.T) (visits []season.Visit) {
	for _, n := range rapid.SliceOfNDistinct(rapid.IntRange(1, 4), 0, 4, rapid.ID[int]).Draw(t, "visits") {
		v := brought(n, rapid.SampledFrom([]string{"", "Anna", "Ben", "Cleo; Anna"}).Draw(t, "author"))
		if n > 2 {
			v.Date = visit(2).Date // of one day
		}
		fields := rapid.SliceOfNDistinct(rapid.SampledFrom([]string{"East", "North", "Square"}), 1, 3, rapid.ID[string]).Draw(t, "fields")
		v.Fields, v.Kept = nil, map[string]geo.Properties{}
		for _, name := range fields {
			f := field(name, map[string]float64{"East": 0.1, "North": 0.2, "Square": 0}[name])
			f.Customer = rapid.SampledFrom([]string{"", "X", "Y"}).Draw(t, "customer")
			v.Fields = append(v.Fields, f)
			if grower := rapid.SampledFrom([]string{"", "P", "Q"}).Draw(t, "grower"); grower != "" {
				v.Kept[name] = geo.Properties{{Name: "grower", Value: grower}}
			}
		}
		if rapid.Bool().Draw(t, "fewer zones") {
			v.Zones, v.Unit = nil, "mean per plant"
		}
		v.Zones = append(v.Zones, geo.Feature{Geometry: v.Fields[0].Boundary, Properties: geo.Properties{{Name: "zone", Value: rapid.SampledFrom([]string{"watch", "clear"}).Draw(t, "zone")}}})
		visits = append(visits, v)
	}
	return visits
}

func drawnRecords(t *rapid.T) (records []season.Record) {
	for _, note := range rapid.SliceOfN(rapid.SampledFrom([]string{"one", "two", "three"}), 0, 3).Draw(t, "treatments") {
		records = append(records, season.Record{Date: "2031-08-15", Note: note, Ground: field("", 0).Boundary})
	}
	return records
}

// Two boundaries of one name are two fields, or one that was drawn twice: only who knows
// the ground can say, so nothing is taken in.
func TestTwoBoundariesOfOneNameAreRefused(t *testing.T) {
	folder := t.TempDir()
	a, b := filepath.Join(folder, "a.gpkg"), filepath.Join(folder, "b.gpkg")
	other := visit(2)
	other.Fields[0].Boundary = field("", 0.3).Boundary
	made(t, a, []season.Visit{visit(1)})
	made(t, b, []season.Visit{visit(3), other}[1:])
	for _, order := range [][]string{{a, b}, {b, a}} {
		into := copied(t, order[0], filepath.Join(folder, "into.gpkg"))
		before := contentOf(t, into)
		_, err := merge(t, into, order[1])
		var boundary *season.BoundaryError
		require.ErrorAs(t, err, &boundary)
		require.Len(t, boundary.Fields, 1)
		assert.Equal(t, "Square", boundary.Fields[0].Name)
		assert.Equal(t, before, contentOf(t, into))
	}
}

// Numbering anew scatters rows over pages; they do not stay so.
func TestAMergedSeasonIsNoLargerThanWhatItHolds(t *testing.T) {
	folder := t.TempDir()
	var files []string
	for scout := range 3 {
		var visits []season.Visit
		for n := range 9 {
			v := visit(1 + 3*n + scout)
			v.Stops = slices.Repeat(v.Stops, 300)
			visits = append(visits, v)
		}
		files = append(files, filepath.Join(folder, fmt.Sprint(scout, ".gpkg")))
		made(t, files[scout], visits)
	}
	_, err := merge(t, filepath.Join(folder, "all.gpkg"), files...)
	require.NoError(t, err)
	size := func(path string) int64 {
		about, err := os.Stat(path)
		require.NoError(t, err)
		return about.Size()
	}
	assert.LessOrEqual(t, size(filepath.Join(folder, "all.gpkg")), size(files[0])+size(files[1])+size(files[2]))
}

// One outline under two names is said: it may be one field.
func TestOneOutlineUnderTwoNamesIsSaid(t *testing.T) {
	folder := t.TempDir()
	a, b := filepath.Join(folder, "a.gpkg"), filepath.Join(folder, "b.gpkg")
	other := visit(2)
	other.Fields[0].Name = "Home"
	made(t, a, []season.Visit{visit(1)})
	made(t, b, []season.Visit{other})
	m, err := merge(t, a, b)
	require.NoError(t, err)
	assert.Equal(t, [][]string{{"Home", "Square"}}, m.Alike)
}

// A season that breaks off while it is read leaves what others brought before it out.
func TestMergingIsAllOrNothing(t *testing.T) {
	folder := t.TempDir()
	a, b, into := filepath.Join(folder, "a.gpkg"), filepath.Join(folder, "b.gpkg"), filepath.Join(folder, "into.gpkg")
	made(t, a, []season.Visit{visit(1)})
	made(t, b, []season.Visit{visit(2), visit(3)})
	made(t, into, []season.Visit{visit(4)})
	execute(t, b, `UPDATE files SET content = x'00' WHERE visit_id = 2`)
	before := contentOf(t, into)
	_, err := merge(t, into, a, b)
	assert.ErrorContains(t, err, "is not what was stored")
	assert.Equal(t, before, contentOf(t, into))
}

// What came of an earlier format merges as what came of this one.
func TestSeasonsOfEarlierFormatsAreMerged(t *testing.T) {
	for _, c := range []struct {
		name   string
		visits int
	}{{"format2.gpkg", 3}, {"format4.gpkg", 2}} {
		into := filepath.Join(t.TempDir(), "into.gpkg")
		old := testkit.Testdata(t, "season", c.name)
		m, err := merge(t, into, old)
		require.NoError(t, err)
		assert.Equal(t, c.visits, m.Visits, c.name)
		assert.Equal(t, 1, m.Treatments, c.name)
		again, err := merge(t, into, old)
		require.NoError(t, err)
		assert.Equal(t, c.visits, again.Known, c.name)
		assert.Zero(t, again.Visits+again.Treatments)
		own := contentOf(t, into)
		upgraded := copied(t, old, filepath.Join(t.TempDir(), "up.gpkg"))
		_, err = merge(t, upgraded)
		require.NoError(t, err)
		assert.Equal(t, own, contentOf(t, upgraded), c.name)
		testkit.AssertGeoPackage(t, upgraded)
	}
}
