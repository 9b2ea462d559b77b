package jobsheet_test

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/output/jobsheet"
	"github.com/geocoris/geocoris/internal/output/scene"
	"github.com/geocoris/geocoris/internal/spraying/handoff"
	"github.com/geocoris/geocoris/internal/spraying/spray"
)

// frame is that of an invented place, to draw fields in metres.
func frame(t *testing.T) geo.Frame {
	t.Helper()
	f, err := geo.NewFrame(orb.Point{-101.6, 35.9})
	require.NoError(t, err)
	return f
}

func square(x0, y0, x1, y1 float64) orb.Ring {
	return orb.Ring{{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}, {x0, y0}}
}

// drawn is a sheet of fields drawn in metres, all of them treat zone.
func drawn(t *testing.T, set handoff.Settings, fields ...orb.MultiPolygon) jobsheet.Sheet {
	t.Helper()
	var zones []geo.Feature
	for i, f := range fields {
		zones = append(zones, geo.Feature{Geometry: frame(t).InversePolygons(geo.Wind(f)), Properties: geo.Properties{
			{Name: "zone", Value: "treat"}, {Name: "field", Value: string(rune('A' + i))}, {Name: "date", Value: "2026-07-15"},
		}})
	}
	r, err := handoff.Run(zones, set)
	require.NoError(t, err)
	return jobsheet.Sheet{Result: r, Units: figures.Metric}
}

// figures are what handoff.json says.
func figuresOf(t *testing.T, s jobsheet.Sheet) (out struct {
	Totals map[string]float64
	Typed  struct {
		Volume float64 `json:"volume_l"`
	} `json:"typed_in"`
	Jobs []map[string]any
}) {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, s.WriteJSON(&b))
	require.NoError(t, json.Unmarshal(b.Bytes(), &out))
	return out
}

// What is not field is named, with how near the spray ground comes: no sheet says that
// there is nothing to keep off where water lies in the field.
func TestWhatIsNotFieldIsNamed(t *testing.T) {
	const pondOff = "ground left out of the field (pond or the like), 0 m off"
	pond := orb.MultiPolygon{{square(-200, -200, 200, 200), square(-20, -20, 20, 20)}}
	ponds := orb.MultiPolygon{{square(-200, -200, 200, 200), square(-20, -20, 20, 20), square(60, 60, 90, 90)}}
	cut := orb.MultiPolygon{{square(-200, -200, -10, 200)}, {square(10, -200, 200, 200)}}
	beside, plain := orb.MultiPolygon{{square(205, -200, 300, 200)}}, orb.MultiPolygon{{square(-200, -200, 200, 200)}}
	far := orb.MultiPolygon{{square(400, -200, 500, 200)}}
	hive := []handoff.KeepOff{{File: "hive.geojson", SetBack: 30, Features: []geo.Feature{{Geometry: frame(t).Inverse(orb.Point{-220, 0}), Properties: geo.Properties{{Name: "name", Value: "hive"}}}}}}
	for _, c := range []struct {
		name     string
		fields   []orb.MultiPolygon
		keepOffs []handoff.KeepOff
		nearest  string // the row of the nearest keep-off
		others   string // the row of what is not field; "" where there is none
	}{
		{"nothing", []orb.MultiPolygon{plain}, nil, "none named within 1 km", ""},
		{"a pond", []orb.MultiPolygon{pond}, nil, pondOff + "; no keep-off was named", pondOff + ". No set-back: where it is water, keep off as far as the label says"},
		{"two ponds", []orb.MultiPolygon{ponds}, nil, "2 places left out of the field (ponds or the like), 0 m off; no keep-off was named", "2 places left out of the field (ponds or the like), 0 m off. No set-back"},
		{"a waterway", []orb.MultiPolygon{cut}, nil, "gap between parts of the field, 0 m off; no keep-off was named", "gap between parts of the field, 0 m off. No set-back"},
		{"another field", []orb.MultiPolygon{plain, beside}, nil, "field B, 5 m off; no keep-off was named", "field B, 5 m off"},
		{"another field, far", []orb.MultiPolygon{plain, far}, nil, "none named within 1 km", ""},
		{"a pond and hives", []orb.MultiPolygon{pond}, hive, "hive, 30 m off; set-back 30 m", pondOff + ". No set-back"},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := drawn(t, handoff.Settings{Spray: spray.Settings{Swath: 24, Heading: new(float64)}, KeepOffs: c.keepOffs}, c.fields...)
			text := strings.Split(screen(t, s), "\n\n")[0]
			assert.Contains(t, text, "Nearest keep-off:           "+c.nearest)
			page := s.Scenes()[len(c.fields)/2].Description // a page of all fields comes first
			assert.Contains(t, page, "Nearest keep-off: "+c.nearest)
			bars := figuresOf(t, s).Jobs[0]["not_field"].([]any)
			if c.others == "" {
				assert.NotContains(t, text, "Not field, kept off")
				return
			}
			assert.Contains(t, text, "Not field, kept off:        "+c.others)
			assert.Contains(t, page, "Not field, kept off: "+c.others)
			require.Len(t, bars, 1)
			assert.Equal(t, strings.Contains(c.others, "field B"), bars[0].(map[string]any)["name"] == "B")
		})
	}
}

// Sections that spray where the machine could not drive are told of.
func TestSteeringRoundIsTold(t *testing.T) {
	pond := orb.MultiPolygon{{square(-60, -200, 60, 200), square(-3, -8, 3, 8)}}
	set := handoff.Settings{Spray: spray.Settings{Swath: 24, Sections: 12, Heading: new(float64)}}
	s := drawn(t, set, pond)
	require.Greater(t, s.Result.Jobs[0].Plan.Astride, 10.0)
	assert.Contains(t, screen(t, s), "Steer round:                for 16 m the boom's middle would lie over ground that is not field")
	assert.InDelta(t, 16, figuresOf(t, s).Jobs[0]["steer_round_m"], 0.1)
	set.Spray.Sections = 1
	assert.NotContains(t, screen(t, drawn(t, set, pond)), "Steer round")
}

// With a grid, all areas are those of the cells that are on.
func TestAreasAreOfTheGrid(t *testing.T) {
	field := orb.MultiPolygon{{square(-200, -200, 205, 203), square(-23, -20, 20, 20)}}
	set := handoff.Settings{Spray: spray.Settings{Swath: 24, Heading: new(float64)}, Cell: 10}
	s := typed(t, drawn(t, set, field))
	j := s.Result.Jobs[0]
	require.NotNil(t, j.Grid)
	ground := 405.0*403 - 43*40
	assert.InDelta(t, ground, j.Figures().Ground, 1)
	// 40 by 40 whole cells of 10 m, or nearly: equal degrees are not quite equal metres.
	// Those at the pond, 6 by 5 or so, are off.
	assert.InDelta(t, 40*40-5*4.5, float64(j.Grid.On), 25)
	sprayed := float64(j.Grid.On) * 100
	f := figuresOf(t, s)
	for _, k := range []struct {
		name string
		want float64
	}{
		{"sprayed_m2", sprayed}, {"ground_m2", ground}, {"treatable_m2", sprayed}, {"left_m2", ground - sprayed},
		{"out_of_field_m2", 0}, {"overlap_m2", 0}, {"missed_m2", 0}, {"beyond_ground_m2", 0},
	} {
		assert.InDelta(t, k.want, f.Jobs[0][k.name], 2e-4*ground, k.name)
		if total, ok := f.Totals[k.name]; ok {
			assert.InDelta(t, k.want, total, 2e-4*ground, k.name)
		}
	}
	// The sums of what was typed in, too: 15 gal/ac are 140.3 L/ha.
	assert.InEpsilon(t, sprayed/1e4*140.31, f.Typed.Volume, 1e-3)
	grid := f.Jobs[0]["grid"].(map[string]any)
	assert.EqualValues(t, 10, grid["cell_m"])
	assert.EqualValues(t, j.Grid.On, grid["cells_on"])
	assert.EqualValues(t, 0.5, grid["least_share_of_spray_ground"])
	text := screen(t, s)
	assert.Contains(t, text, "\n  Spray "+figures.Metric.Area(sprayed)+" to cover the hatched ground, in ")
	assert.Contains(t, text, "To spray:                   "+figures.Metric.Area(sprayed)+"\n")
	assert.Contains(t, text, "A console switches by its file. Switched by hand, at the places of on and off, "+figures.Metric.Area(j.ByHand())+" is sprayed: mix for that then.")
	assert.Regexp(t, `Areas are of the grid: +1,\d\d\d cells of 10 m on: at least half of each is spray ground, none of it closed, all of it in the field`, text)
	assert.Regexp(t, `0\.\d\d ha stays unsprayed: no cell that is on lies there\.`, text)
	assert.NotContains(t, text, "past the field's edge")

	set.Cell = 0
	s = drawn(t, set, field)
	assert.Nil(t, figuresOf(t, s).Jobs[0]["grid"])
	assert.NotContains(t, screen(t, s), "Areas are of the grid")
	assert.NotContains(t, screen(t, s), "Switched by hand")
	assert.InDelta(t, s.Result.Jobs[0].Plan.Cover.Sprayed, figuresOf(t, s).Totals["sprayed_m2"], 0.01)
}

// The places of on and off are the same in every file, and what they are is said.
func TestSwitchesAreOneSet(t *testing.T) {
	field := orb.MultiPolygon{{square(-60, -200, 60, 200)}, {square(-60, 230, 60, 400)}}
	for _, lag := range []float64{0, 1.5} {
		s := drawn(t, handoff.Settings{Spray: spray.Settings{Swath: 24, Heading: new(float64), Speed: 5, Lag: lag}}, field)
		switches := s.Result.Switches()
		var route []geofile.Placemark
		for _, way := range s.Route().Ways { // a block for each part
			if strings.HasPrefix(way.Name, "Passes") {
				assert.Len(t, way.Points, 10)
				route = append(route, way.Points...)
			}
		}
		var kml []geofile.Placemark
		for _, f := range s.Document().Folders {
			if f.Name == "Boom on and off" {
				kml = f.Placemarks
			}
		}
		require.Len(t, switches, 20)
		require.Len(t, route, 20)
		require.Len(t, kml, 20)
		for i, f := range switches {
			assert.Equal(t, f.Geometry, route[i].Geometry)
			assert.Equal(t, f.Geometry, kml[i].Geometry)
			lon, _ := f.Properties.Get("at_lon")
			lat, _ := f.Properties.Get("at_lat")
			thrown, at := frame(t).Forward(f.Geometry.(orb.Point)), frame(t).Forward(orb.Point{lon.(float64), lat.(float64)})
			assert.InDelta(t, 5*lag, max(thrown[1]-at[1], at[1]-thrown[1]), 0.05)
		}
		want := "places are where the spray begins and ends; no lag was given"
		if lag > 0 {
			want = "places are where the switch is to be thrown. That is 7.5 m before the spray begins or ends, for 1.5 s of lag at 18 km/h."
			assert.Contains(t, screen(t, s), "Switch early by:            7.5 m (18 km/h × 1.5 s); the places of on and off are moved by it")
		}
		assert.Contains(t, s.Route().Description, want)
		assert.Contains(t, s.Document().Description, want)
	}
}

// Names of the points of a route: field, pass, run and whether on or off; those of a
// feature in a viewer.
func TestNamesOfWhatIsHandedOver(t *testing.T) {
	one := orb.MultiPolygon{{square(-11, -200, 11, -150)}, {square(-11, 150, 11, 200)}}
	zones := func(name string, east float64) []geo.Feature {
		move := func(mp orb.MultiPolygon) orb.MultiPolygon {
			out := mp.Clone()
			for _, polygon := range out {
				for _, ring := range polygon {
					for i := range ring {
						ring[i][0] += east
					}
				}
			}
			return frame(t).InversePolygons(geo.Wind(out))
		}
		p := func(zone string) geo.Properties {
			return geo.Properties{{Name: "zone", Value: zone}, {Name: "field", Value: name}}
		}
		return []geo.Feature{
			{Geometry: move(one), Properties: p("treat")},
			{Geometry: move(orb.MultiPolygon{{square(-11, -150, 11, 150)}}), Properties: p("clear")},
		}
	}
	r, err := handoff.Run(append(zones("A", 0), zones("B", 3000)...), handoff.Settings{Spray: spray.Settings{Swath: 24, Heading: new(float64)}})
	require.NoError(t, err)
	s := jobsheet.Sheet{Result: r}
	var names, fields []string
	var ways []string
	for _, way := range s.Route().Ways {
		ways = append(ways, way.Name)
		for _, p := range way.Points {
			names, fields = append(names, p.Name), append(fields, p.Description)
		}
	}
	assert.Equal(t, []string{"Passes, A", "A-B line, A", "Passes, B", "A-B line, B"}, ways)
	assert.Empty(t, s.Route().Points)
	assert.Equal(t, []string{"F1-P1A-ON", "F1-P1A-OFF", "F1-P1B-ON", "F1-P1B-OFF", "F1-A", "F1-B", "F2-P1A-ON", "F2-P1A-OFF", "F2-P1B-ON", "F2-P1B-OFF", "F2-A", "F2-B"}, names)
	assert.Equal(t, []string{"A", "A", "A", "A", "A", "A", "B", "B", "B", "B", "B", "B"}, fields)
	labels := map[string][]string{}
	for i, field := range s.Document().Folders {
		assert.Equal(t, []string{"A", "B"}[i], field.Name)
		assert.Empty(t, field.Placemarks)
		for _, f := range field.Folders {
			assert.NotEmpty(t, f.Placemarks, "%s: no empty folders", f.Name)
			for _, p := range f.Placemarks {
				labels[f.Name] = append(labels[f.Name], p.Name)
			}
		}
	}
	assert.Equal(t, []string{"pass 1", "pass 1"}, labels["Passes"])
	assert.Equal(t, []string{"A–B", "A–B"}, labels["A–B lines"])
	assert.Equal(t, []string{"1 on", "1 off", "1 on", "1 off"}, labels["Boom on and off"][:4])
	assert.Equal(t, []string{"spray ground, 0.22 ha", "spray ground, 0.22 ha"}, labels["Spray ground"])
	var layers []string
	all, err := s.Layers()
	require.NoError(t, err)
	for _, l := range all {
		layers = append(layers, l.Name)
		assert.Equal(t, s.Result.Days.Counted, l.Date)
	}
	assert.Equal(t, []string{"on_off", "ground", "swaths", "passes", "ab_lines", "switches", "boundary"}, layers)
}

// The sheet of a field that a waterway cuts, with a pond; kept to look at where
// GEOCORIS_PICTURES names a folder.
func TestTheSheetOfACutField(t *testing.T) {
	field := orb.MultiPolygon{
		{{{-200, -200}, {-40, -200}, {40, 200}, {-200, 200}, {-200, -200}}, square(-130, -40, -70, 30)},
		{{{-15, -200}, {200, -200}, {200, 200}, {65, 200}, {-15, -200}}},
	}
	s := drawn(t, handoff.Settings{Spray: spray.Settings{Swath: 24, Sections: 4, Heading: new(float64)}, Cell: 0}, field)
	var b bytes.Buffer
	require.NoError(t, scene.WritePNG(&b, s.Scenes()[0], 6))
	assert.True(t, bytes.HasPrefix(b.Bytes(), []byte("\x89PNG")))
	if folder := os.Getenv("GEOCORIS_PICTURES"); folder != "" {
		require.NoError(t, os.WriteFile(filepath.Join(folder, "cut_field.png"), b.Bytes(), 0o644))
	}
}
