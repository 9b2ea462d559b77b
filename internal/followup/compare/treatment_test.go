package compare_test

import (
	"math"
	"slices"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/followup/compare"
	"github.com/geocoris/geocoris/internal/geometry/zones"
	"github.com/geocoris/geocoris/internal/mapping/assess"
)

// Invented: the west half sprayed, everything outside doubled, inside a tenth of
// what it would be; so Henderson–Tilton must say 90 %.
func TestTheSprayInTheWest(t *testing.T) {
	before := func(x, y float64) float64 { return 20 + 5*math.Sin(x/40)*math.Cos(y/30) }
	after := func(x, y float64) float64 {
		if x < 0 {
			return before(x, y) * 2 * 0.1
		}
		return before(x, y) * 2
	}
	west := frame(t).InversePolygons(orb.MultiPolygon{{{{-250, -250}, {0, -250}, {0, 250}, {-250, 250}, {-250, -250}}}})
	first := assessed(t, "2031-08-14", lattice(40, before), assess.Settings{Levels: assess.LevelSettings{TreatAt: 22}})
	second := assessed(t, "2031-08-21", lattice(40, after), assess.Settings{Levels: assess.LevelSettings{TreatAt: 22}})
	r, err := compare.Run(t.Context(), []*assess.Result{first, second}, compare.Settings{
		Treatments: []compare.Treatment{{Date: "2031-08-15", Ground: west, ReentryHours: 24}},
	})
	require.NoError(t, err)
	f := r.Fields[0]
	require.Len(t, f.Treatments, 1)
	got := f.Treatments[0]
	require.NotNil(t, got.Efficacy, got.Why)
	assert.Equal(t, "Henderson–Tilton", got.Efficacy.Formula)
	assert.InDelta(t, 90, got.Efficacy.Percent, 1)
	assert.LessOrEqual(t, got.Efficacy.Interval.Low, 90.5)
	assert.Equal(t, 50, got.Inside)
	assert.Equal(t, 50, got.Outside)
	treat := f.Visits[0].Assess.Map.Zone(zones.Treat).Area
	assert.InEpsilon(t, treat, got.Coverage.Hit+got.Coverage.Missed, 1e-8)
	assert.InEpsilon(t, 200*400, got.Coverage.Treated, 1e-6)
	assert.Greater(t, got.Coverage.Missed, 0.0)
	assert.Equal(t, 24.0, got.ReentryHours)

	r, err = compare.Run(t.Context(), []*assess.Result{first, second}, compare.Settings{
		Treatments: []compare.Treatment{{Date: "2031-08-10", Ground: west}},
	})
	require.NoError(t, err)
	got = r.Fields[0].Treatments[0]
	assert.Equal(t, "Abbott", got.Efficacy.Formula, "no visit before it")
	assert.Nil(t, got.Coverage)
	assert.Zero(t, got.ReentryHours, "none is preset")
}

// Two invented passes overlap by 50 m of 200: the ground between is treated once.
func TestPassesMayOverlap(t *testing.T) {
	pass := func(from, to float64) orb.Polygon {
		return orb.Polygon{{{from, -100}, {to, -100}, {to, 100}, {from, 100}, {from, -100}}}
	}
	both := frame(t).InversePolygons(orb.MultiPolygon{pass(-150, 50), pass(0, 150)})
	features := []geo.Feature{{Geometry: both[0]}, {Geometry: both[1], Properties: geo.Properties{{Name: "reentry_hours", Value: int64(12)}}}}
	treatments, err := compare.Treatments(features, "2031-08-15")
	require.NoError(t, err)
	require.Len(t, treatments, 1, "features of one day and note are one treatment")
	assert.Equal(t, 12.0, treatments[0].ReentryHours)
	some := lattice(50, func(x, y float64) float64 { return 5 + x/100 })
	r, err := compare.Run(t.Context(), []*assess.Result{
		assessed(t, "2031-08-14", some, assess.Settings{}), assessed(t, "2031-08-21", some, assess.Settings{}),
	}, compare.Settings{Treatments: treatments})
	require.NoError(t, err)
	assert.InEpsilon(t, 300*200, r.Fields[0].Treatments[0].Coverage.Treated, 1e-6)
}

// An invented field of 400 m falls from 100 to 5 everywhere but in a strip, sprayed
// in loads: the west to x = 0, the east from there on.
func TestOtherTreatmentsAreNoCheck(t *testing.T) {
	box := func(from, to float64) orb.Polygon {
		return frame(t).InversePolygons(orb.MultiPolygon{{{{from, -250}, {to, -250}, {to, 250}, {from, 250}, {from, -250}}}})[0]
	}
	load := func(from, to float64, date, note string) geo.Feature {
		return geo.Feature{Geometry: box(from, to), Properties: geo.Properties{{Name: "date", Value: date}, {Name: "note", Value: note}}}
	}
	before := func(x, y float64) float64 { return 100 + 5*math.Sin(x/40)*math.Cos(y/30) }
	const strip = 120 // from here on east nothing was sprayed, where the check is
	fell := func(x, y float64) float64 { return before(x, y) / 20 }
	strips := func(x, y float64) float64 {
		if x > strip {
			return before(x, y)
		}
		return fell(x, y)
	}
	const day, later = "2031-08-15", "2031-08-18"
	other := load(600, 700, day, "another field")
	for _, c := range []struct {
		name     string
		features []geo.Feature
		after    func(x, y float64) float64
		first    string // day of the first visit
		inside   []int  // stops of 100, of each treatment
		outside  []int
		efficacy float64 // NaN where there is no check
		gap      compare.Gap
		note     compare.Note
	}{
		{"two loads of one day", []geo.Feature{load(-250, 0, day, ""), load(0, 250, day, "")}, fell, "2031-08-14",
			[]int{100}, []int{0}, math.NaN(), compare.NoCheck, compare.Note{}},
		{"not beside one another in the file", []geo.Feature{load(-250, 0, day, ""), other, load(0, 250, day, "")}, fell, "2031-08-14",
			[]int{100}, []int{0}, math.NaN(), compare.NoCheck, compare.Note{}},
		{"two notes", []geo.Feature{load(-250, 0, day, "load 1"), load(0, 250, day, "load 2")}, fell, "2031-08-14",
			[]int{50, 50}, []int{0, 0}, math.NaN(), compare.NoCheck, outside("2031-08-15", "load 1", 50)},
		{"two days between the visits", []geo.Feature{load(-250, 0, day, ""), load(0, 250, later, "")}, fell, "2031-08-14",
			[]int{50, 50}, []int{0, 0}, math.NaN(), compare.NoCheck, outside("2031-08-18", "", 50)},
		{"one on the day of the first count, made before it", []geo.Feature{load(-250, 0, "2031-08-14", ""), load(0, 250, later, "")}, fell, "2031-08-14",
			[]int{50, 50}, []int{0, 0}, math.NaN(), compare.NoCheck, outside("2031-08-18", "", 50)},
		{"the other on the day of the first count", []geo.Feature{load(-250, 0, day, ""), load(0, 250, "2031-08-14", "")}, fell, "2031-08-14",
			[]int{50, 50}, []int{0, 0}, math.NaN(), compare.NoCheck, outside("2031-08-15", "", 50)},
		{"two loads and a strip", []geo.Feature{load(-250, 0, day, "load 1"), load(0, strip, later, "load 2")}, strips, "2031-08-14",
			[]int{50, 30}, []int{20, 20}, 95, 0, outside("2031-08-15", "load 1", 30)},
		{"a treatment before the first visit is history", []geo.Feature{load(-250, strip, day, ""), load(strip, 250, "2031-08-10", "")}, strips, "2031-08-14",
			[]int{80, 20}, []int{20, 80}, 95, 0, compare.Note{}},
		{"no visit before", []geo.Feature{load(-250, 0, day, ""), load(0, 250, "2031-08-10", "")}, fell, "2031-08-22",
			[]int{50, 50}, []int{0, 0}, math.NaN(), compare.NoneBefore, outside("2031-08-10", "", 50)},
		{"twice the same ground", []geo.Feature{load(-250, strip, day, ""), load(-250, strip, later, "")}, strips, "2031-08-14",
			[]int{80, 80}, []int{20, 20}, 95, 0, compare.Note{On: compare.InsideAlsoTreated, N: 80, Of: 80, Date: day}},
	} {
		t.Run(c.name, func(t *testing.T) {
			treatments, err := compare.Treatments(c.features, "")
			require.NoError(t, err)
			first, second := assessed(t, c.first, lattice(40, before), assess.Settings{Cell: 10}), assessed(t, "2031-08-21", lattice(40, c.after), assess.Settings{Cell: 10})
			r, err := compare.Run(t.Context(), []*assess.Result{first, second}, compare.Settings{Treatments: treatments})
			require.NoError(t, err)
			f := r.Fields[0]
			var single []compare.Treatment // as a season holds them
			for _, feature := range c.features {
				one, err := compare.Treatments([]geo.Feature{feature}, "")
				require.NoError(t, err)
				single = append(single, one...)
			}
			again, err := compare.Run(t.Context(), []*assess.Result{first, second}, compare.Settings{Treatments: single})
			require.NoError(t, err)
			assert.Equal(t, f.Treatments, again.Fields[0].Treatments)
			require.Len(t, f.Treatments, len(c.inside))
			for i, got := range f.Treatments {
				assert.Equal(t, c.inside[i], got.Inside)
				assert.Equal(t, c.outside[i], got.Outside)
				assert.Equal(t, 100, got.Inside+got.Outside+got.LeftOut)
			}
			got := f.Treatments[0]
			if math.IsNaN(c.efficacy) {
				assert.Nil(t, got.Efficacy)
				require.NotNil(t, got.Why)
				assert.Equal(t, c.gap, got.Why.Gap)
				if c.gap == compare.NoCheck {
					assert.InDelta(t, 95, got.Why.Percent, 0.5)
				}
			} else {
				require.NotNil(t, got.Efficacy, got.Why)
				assert.InDelta(t, c.efficacy, got.Efficacy.Percent, 0.5)
			}
			if c.note.On != 0 {
				assert.True(t, slices.ContainsFunc(f.Notes, func(n compare.Note) bool {
					return n.On == c.note.On && n.Treatment.Date == c.note.Date && n.N == c.note.N && n.Of == c.note.Of &&
						n.Treatment.Note == c.note.Treatment.Note
				}), "%+v", c.note)
			}
		})
	}
}

// The day of a count is no day of a treatment, whatever an earlier hand-off called it.
func TestTheDayOfTheCountIsNotTaken(t *testing.T) {
	ground := orb.Polygon{{{0, 0}, {1, 0}, {1, 1}, {0, 0}}}
	p := func(more ...string) (p geo.Properties) {
		for i := 0; i < len(more); i += 2 {
			p = append(p, geo.Property{Name: more[i], Value: more[i+1]})
		}
		return p
	}
	for name, properties := range map[string]geo.Properties{
		"of now": p("kind", "swath", "counted", "2031-08-14", "spray_on", "2031-08-16"), "of before": p("kind", "ground", "date", "2031-08-14"),
		"a date added": p("kind", "swath", "counted", "2031-08-14", "date", "2031-08-15"),
	} {
		treatments, err := compare.Treatments([]geo.Feature{{Geometry: ground, Properties: properties}}, "2031-08-15")
		require.NoError(t, err, name)
		assert.Equal(t, "2031-08-15", treatments[0].Date, name)
	}
	_, err := compare.Treatments([]geo.Feature{{Geometry: ground, Properties: p("kind", "ground", "date", "2031-08-14")}}, "")
	assert.ErrorContains(t, err, "does not give its day")
	_, err = compare.Treatments([]geo.Feature{{Geometry: ground, Properties: p("date", "2031-08-14")}}, "2031-08-15")
	assert.ErrorContains(t, err, "2031-08-14, and --treated-on says 2031-08-15")
}

// Blanks about a note make no other treatment.
func TestTreatmentsOfOneNoteAreOne(t *testing.T) {
	ground := orb.Polygon{{{0, 0}, {1, 0}, {1, 1}, {0, 0}}}
	noted := func(note string) geo.Feature {
		return geo.Feature{Geometry: ground, Properties: geo.Properties{{Name: "date", Value: "2031-02-03"}, {Name: "note", Value: note}}}
	}
	all, err := compare.Treatments([]geo.Feature{noted("first tank"), noted(" first tank "), noted("second tank")}, "")
	require.NoError(t, err)
	require.Len(t, all, 2)
	assert.Equal(t, "first tank", all[0].Note)
	assert.Len(t, all[0].Ground, 2)
}

func TestTreatmentsRefuse(t *testing.T) {
	ground := orb.Polygon{{{0, 0}, {1, 0}, {1, 1}, {0, 0}}}
	for _, c := range []struct {
		name string
		f    geo.Feature
		want string
	}{
		{"a point", geo.Feature{Geometry: orb.Point{1, 2}}, "no polygon"},
		{"no day", geo.Feature{Geometry: ground}, "--treated-on"},
		{"no such day", geo.Feature{Geometry: ground, Properties: geo.Properties{{Name: "date", Value: "2031-02-30"}}}, "2031-02-30"},
		{"hours in words", geo.Feature{Geometry: ground, Properties: geo.Properties{{Name: "date", Value: "2031-02-03"}, {Name: "reentry_hours", Value: "a day"}}}, "want a number"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := compare.Treatments([]geo.Feature{c.f}, "")
			assert.ErrorContains(t, err, c.want)
		})
	}
}

// Treated ground is in a field by a square metre of it, wherever the field is one of
// several.
func TestTreatmentsOutsideAllFields(t *testing.T) {
	strip := func(note string, from, to float64) compare.Treatment {
		ring := orb.Ring{{from, -50}, {to, -50}, {to, 50}, {from, 50}, {from, -50}}
		return compare.Treatment{Date: "2031-08-15", Note: note, Ground: frame(t).InversePolygons(orb.MultiPolygon{{ring}})}
	}
	other := geo.Field{Name: "Other", Boundary: frame(t).InversePolygons(orb.MultiPolygon{{{{600, -200}, {800, -200}, {800, 200}, {600, 200}, {600, -200}}}})}
	all := []compare.Treatment{
		strip("inside", 0, 50), strip("over the edge", 150, 250), strip("by two square metres", 199.98, 300), strip("at the edge", 200, 300),
		strip("between", 300, 500), strip("the other", 650, 700), strip("far", 90_000, 90_100),
	}
	out, err := compare.Outside([]geo.Field{square(t), other}, all)
	require.NoError(t, err)
	var notes []string
	for _, o := range out {
		notes = append(notes, o.Note)
	}
	assert.Equal(t, []string{"at the edge", "between", "far"}, notes)
	assert.Equal(t, "2031-08-15 (far)", out[2].Named())
}

// outside is the note on stops that are no check for a treatment.
func outside(day, note string, stops int) compare.Note {
	return compare.Note{On: compare.OutsideElsewhere, Date: day, N: stops, Treatment: compare.Treatment{Note: note}}
}

// Ground that was walked twice was treated as that walked once, and a hole that reaches
// over the edge of the ground was not treated beyond it.
func TestTreatedGroundIsReadAsFieldsAre(t *testing.T) {
	once := orb.Ring{{-150, -100}, {50, -100}, {50, 100}, {-150, 100}, {-150, -100}}
	twice := append(append(orb.Ring{}, once...), once[1:]...)
	over := orb.Ring{{0, -20}, {120, -20}, {120, 20}, {0, 20}, {0, -20}}
	results := []*assess.Result{
		assessed(t, "2031-08-14", lattice(40, func(_, _ float64) float64 { return 12 }), assess.Settings{}),
		assessed(t, "2031-08-21", lattice(40, func(_, _ float64) float64 { return 9 }), assess.Settings{}),
	}
	for name, c := range map[string]struct {
		ground orb.Polygon
		area   float64
	}{
		"once":               {orb.Polygon{once}, 200 * 200},
		"twice":              {orb.Polygon{twice}, 200 * 200},
		"hole over the edge": {orb.Polygon{once, over}, 200*200 - 50*40},
	} {
		treatment := compare.Treatment{Date: "2031-08-15", Ground: frame(t).InversePolygons(orb.MultiPolygon{c.ground})}
		outside, err := compare.Outside([]geo.Field{square(t)}, []compare.Treatment{treatment})
		require.NoError(t, err)
		assert.Empty(t, outside, name)
		r, err := compare.Run(t.Context(), results, compare.Settings{Treatments: []compare.Treatment{treatment}, Chance: quickly})
		require.NoError(t, err)
		require.Len(t, r.Fields[0].Treatments, 1, name)
		assert.InEpsilon(t, c.area, r.Fields[0].Treatments[0].Coverage.Treated, 1e-6, name)
	}
}
