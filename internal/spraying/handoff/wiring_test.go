package handoff_test

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/spraying/handoff"
	"github.com/geocoris/geocoris/internal/spraying/spray"
)

// twoJobs are a long field and a small one, each with a keep-off and treat ground in
// two patches, so that no two of their figures are alike.
func twoJobs(t *testing.T, change func(*handoff.Settings)) (*handoff.Result, geo.Frame) {
	t.Helper()
	var features []geo.Feature
	fields := map[string][3]orb.MultiPolygon{
		"A": {{box(-300, -80, -100, 80), box(0, -80, 120, 80)}, {box(-100, -80, 0, 80)}, {box(120, -80, 300, 80)}},
		"B": {{box(2000, 0, 2090, 100), box(2150, 0, 2180, 100)}, {box(2090, 0, 2150, 100)}, {box(2180, 0, 2300, 100)}},
	}
	frame, err := geo.NewFrame(orb.Point{-101.6, 35.9})
	require.NoError(t, err)
	for _, name := range []string{"A", "B"} {
		for i, zone := range []string{"treat", "watch", "clear"} {
			features = append(features, geo.Feature{Geometry: frame.InversePolygons(fields[name][i]), Properties: geo.Properties{
				{Name: "zone", Value: zone}, {Name: "field", Value: name}, {Name: "date", Value: "2026-07-15"}, {Name: "verdict", Value: "spot spray"},
			}})
		}
	}
	heading := 80.0
	set := handoff.Settings{
		Spray: spray.Settings{Swath: 20, Heading: &heading, Speed: 4, Lag: 1, TurnTime: 30}, SprayOn: "2026-07-18", GoodFor: 7,
		Margin: spray.Margin{Growth: 2},
		KeepOffs: []handoff.KeepOff{
			{File: "hives.geojson", SetBack: 25, Features: []geo.Feature{{Geometry: frame.Inverse(orb.Point{-200, 0})}, {Geometry: frame.Inverse(orb.Point{2040, 50})}}},
		},
	}
	if change != nil {
		change(&set)
	}
	r, err := handoff.Run(features, set)
	require.NoError(t, err)
	require.Len(t, r.Jobs, 2)
	return r, frame
}

// Each total is the sum over both jobs, and no two are alike.
func TestTotalsAddUpAllJobs(t *testing.T) {
	r, _ := twoJobs(t, nil)
	a, b, total := r.Jobs[0], r.Jobs[1], r.Totals()
	seen := map[float64]string{}
	for name, c := range map[string]struct {
		total float64
		of    func(*handoff.Job) float64
	}{
		"treat":        {total.Treat, func(j *handoff.Job) float64 { return j.Ground.Treat }},
		"ground":       {total.Ground, func(j *handoff.Job) float64 { return geo.Area(j.Ground.Spray) }},
		"sprayed":      {total.Sprayed, func(j *handoff.Job) float64 { return geo.Area(j.Plan.Cover.Swaths) }},
		"left":         {total.Left, func(j *handoff.Job) float64 { return j.Plan.Cover.Left }},
		"out of field": {total.OutOfField, func(j *handoff.Job) float64 { return j.Plan.Cover.OutOfField }},
		"passes":       {float64(total.Passes), func(j *handoff.Job) float64 { return float64(len(j.Plan.Passes)) }},
		"turns":        {float64(total.Turns), func(j *handoff.Job) float64 { return float64(len(j.Plan.Passes) - 1) }},
		"on":           {total.On, func(j *handoff.Job) float64 { return j.Plan.On }},
		"off":          {total.Off, func(j *handoff.Job) float64 { return j.Plan.Off }},
		"seconds": {total.Seconds, func(j *handoff.Job) float64 {
			return (j.Plan.On+j.Plan.Off)/4 + 30*float64(len(j.Plan.Passes)-1)
		}},
	} {
		assert.Positive(t, c.of(a), name)
		assert.Positive(t, c.of(b), name)
		assert.InDelta(t, c.of(a)+c.of(b), c.total, 0.01, name)
		assert.Empty(t, seen[c.total], "%s is like another", name)
		seen[c.total] = name
	}
}

func TestFiguresAreThoseOfTheSections(t *testing.T) {
	r, _ := twoJobs(t, nil)
	j := r.Jobs[0]
	j.Plan.Cover = spray.Cover{Sprayed: 1, Overlap: 2, Treatable: 3, Missed: 4, Beyond: 5, OutOfField: 6, Left: 7}
	assert.Equal(t, handoff.Figures{Ground: 10, Treatable: 3, Sprayed: 1, Overlap: 2, Missed: 4, Beyond: 5, OutOfField: 6, Left: 7}, j.Figures())
	j.Plan.Cover = spray.Cover{Sprayed: 0.5 * j.Area, Overlap: 0.05 * j.Area, OutOfField: 0.15 * j.Area}
	assert.InDelta(t, 0.3, j.Share(), 1e-12, "what is sprayed twice counts once, what is past the edge not at all")
	assert.InDelta(t, 100*160, j.Watch, 1)
	assert.InDelta(t, 3, r.Settings.Margin.Days, 0)
}

// The share of the field that is sprayed, by the ground itself.
func TestShareIsOfTheField(t *testing.T) {
	r, frame := twoJobs(t, nil)
	for i, j := range r.Jobs {
		swaths := frame.ForwardPolygons(r.Swaths()[i].Geometry.(orb.MultiPolygon))
		field := frame.ForwardPolygons(r.Boundaries()[i].Geometry.(orb.MultiPolygon))
		unsprayed, err := spray.Less(field, swaths)
		require.NoError(t, err)
		assert.InDelta(t, 1-geo.Area(unsprayed)/geo.Area(field), j.Share(), 1e-6)
		assert.Greater(t, j.Plan.Cover.OutOfField, 0.001*j.Area, "something is past the edge")
	}
}

// What the features say of themselves is what they are.
func TestFeaturesTellTheirOwnFigures(t *testing.T) {
	r, frame := twoJobs(t, nil)
	cover := &r.Jobs[0].Plan.Cover // with two places left, not alike
	cover.Untreatable = []spray.Remnant{{Ground: box(0, 0, 30, 20), Area: 600}, {Ground: box(50, 0, 60, 20), Area: 200}}
	number := func(f geo.Feature, name string) float64 {
		v, ok := f.Properties.Get(name)
		require.True(t, ok, name)
		return v.(float64)
	}
	all := map[string][]geo.Feature{"ground": r.Ground(), "swaths": r.Swaths(), "left": r.Left(), "closed": r.KeptOff(), "fields": r.Boundaries()}
	for name, features := range all {
		require.GreaterOrEqual(t, len(features), 2, name)
		for _, f := range features {
			area := geo.Area(frame.ForwardPolygons(f.Geometry.(orb.MultiPolygon)))
			assert.InDelta(t, area/1e4, number(f, "area_ha"), 2e-4, name)
			assert.InDelta(t, area/4046.8564224, number(f, "area_ac"), 4e-4, name)
		}
	}
	n := 0
	for _, f := range r.Passes() {
		line := f.Geometry.(orb.LineString)
		a, b := frame.Forward(line[0]), frame.Forward(line[1])
		if kind, _ := f.Properties.Get("kind"); kind == "pass" {
			assert.InDelta(t, math.Hypot(b[0]-a[0], b[1]-a[1]), number(f, "on_m")+number(f, "off_m"), 0.05)
			j := r.Jobs[0]
			if n >= len(j.Plan.Passes) {
				j = r.Jobs[1]
			}
			pass, _ := f.Properties.Get("pass")
			p := j.Plan.Passes[pass.(int64)-1]
			assert.InDelta(t, p.On, number(f, "on_m"), 0.01)
			assert.InDelta(t, p.Off, number(f, "off_m"), 0.01)
			from := j.Frame.Forward(line[0])
			assert.InDelta(t, 0, math.Hypot(from[0]-p.From[0], from[1]-p.From[1]), 0.01, "from the first on")
			n++
		}
	}
	assert.Equal(t, len(r.Jobs[0].Plan.Passes)+len(r.Jobs[1].Plan.Passes), n)
	for _, f := range r.Switches() {
		lon, lat := number(f, "at_lon"), number(f, "at_lat")
		thrown, at := frame.Forward(f.Geometry.(orb.Point)), frame.Forward(orb.Point{lon, lat})
		assert.InDelta(t, 4, math.Hypot(thrown[0]-at[0], thrown[1]-at[1]), 0.03, "4 m/s by 1 s before")
	}
}

// The task data carry ground, boundary, areas and the rate as it was meant.
func TestPrescriptionCarriesTheJobs(t *testing.T) {
	r, frame := twoJobs(t, func(s *handoff.Settings) { s.Cell = 5 })
	for _, text := range []string{"15gal/ac", "140L/ha"} {
		rate, err := spray.ParseRate(text)
		require.NoError(t, err)
		p, err := r.Prescription(handoff.Mix{Rate: &rate}, handoff.TaskForm{Version: 3})
		require.NoError(t, err)
		assert.Equal(t, text == "15gal/ac", p.GallonsPerAcre)
		assert.Equal(t, 3, p.Version)
		require.Len(t, p.Fields, 2)
		for i, f := range p.Fields {
			j := r.Jobs[i]
			assert.Equal(t, j.Field, f.Name)
			assert.InDelta(t, map[string]float64{"15gal/ac": 140.3, "140L/ha": 140}[text], f.Rate, 0.05)
			assert.InDelta(t, geo.Area(j.Ground.Spray), geo.Area(frame.ForwardPolygons(f.Treat)), 1)
			assert.InDelta(t, geo.Area(j.Ground.Field), geo.Area(frame.ForwardPolygons(f.Boundary)), 1)
			assert.InDelta(t, j.Area, f.Area, 1e-6)
		}
		// 600 m by 160 m in cells of 5 m: more columns than rows.
		g := p.Fields[0].Grid
		assert.InDelta(t, 120, g.Columns, 1)
		assert.InDelta(t, 32, g.Rows, 1)
		assert.Greater(t, g.CellEast, 1.2*g.CellNorth, "a degree of longitude is shorter at 35.9°")
		south := frame.Forward(orb.Point{g.West, g.South})
		assert.InDelta(t, -300, south[0], 0.5)
		assert.InDelta(t, -80, south[1], 0.5)
	}
}

// The areas of cells, against the shares of a patch of 103 by 36 m on cells of 10 m.
func TestAreasOfCells(t *testing.T) {
	field := orb.MultiPolygon{box(0, 0, 200, 100)}
	features, _ := zonesIn(t, orb.MultiPolygon{box(0, 0, 106, 34)}, field)
	features[1].Properties[0].Value, features[1].Properties[1].Value = "clear", "A"
	rest, err := spray.Less(field, orb.MultiPolygon{box(0, 0, 106, 34)})
	require.NoError(t, err)
	frame, err := geo.NewFrame(orb.Point{-101.6, 35.9})
	require.NoError(t, err)
	features[1].Geometry = frame.InversePolygons(rest)
	set := settings()
	set.Cell = 10
	r, err := handoff.Run(features, set)
	require.NoError(t, err)
	f := r.Jobs[0].Figures()
	// Columns of 10 m: ten whole ones and one of six tenths, on; rows: three whole ones,
	// and one of four tenths, off.
	assert.Equal(t, 33, r.Jobs[0].Grid.On)
	assert.InDelta(t, 3300, f.Sprayed, 1)
	assert.InDelta(t, 106*30, f.Treatable, 1)
	assert.InDelta(t, 4*30, f.Beyond, 1)
	assert.InDelta(t, 106*4, f.Left, 1)
	assert.InDelta(t, 106*34, f.Ground, 1)
	assert.Zero(t, f.OutOfField)
	assert.InDelta(t, 3300.0/20000, r.Jobs[0].Share(), 1e-4)

	set.Cell = 80
	_, err = handoff.Run(features, set)
	assert.ErrorContains(t, err, "A: no cell of 80 m is at least half spray ground")
}

// A set-back reaches as far as it is long, and other fields are seen within a boom.
func TestHowFarThingsReach(t *testing.T) {
	features, frame := zonesIn(t, orb.MultiPolygon{box(0, 0, 200, 200)}, orb.MultiPolygon{box(900, 0, 950, 50)}, orb.MultiPolygon{box(3000, 0, 3050, 50)})
	set := settings()
	set.KeepOffs = []handoff.KeepOff{{File: "town.geojson", SetBack: 1600, Features: []geo.Feature{{Geometry: frame.Inverse(orb.Point{-1500, 100})}}}}
	r, err := handoff.Run(features, set)
	require.NoError(t, err)
	j := r.Jobs[0]
	require.Len(t, j.Ground.KeptOff, 1)
	assert.InDelta(t, 100*200, j.Ground.KeptOff[0].Area, 1000)
	require.Len(t, j.Ground.Bars, 1)
	assert.Equal(t, "B", j.Ground.Bars[0].Name)
	assert.InDelta(t, 700, j.Ground.Bars[0].Nearest, 1)
}
