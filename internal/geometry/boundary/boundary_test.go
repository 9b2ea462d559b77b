package boundary_test

import (
	"slices"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/geometry/boundary"
	"github.com/geocoris/geocoris/internal/geometry/planar"
	"github.com/geocoris/geocoris/internal/testkit"
)

// box is about 89 m by 111 m.
func box(lon, lat float64) orb.Polygon {
	return orb.Polygon{{{lon, lat}, {lon + 0.001, lat}, {lon + 0.001, lat + 0.001}, {lon, lat + 0.001}, {lon, lat}}}
}

func feature(g orb.Geometry, props ...geo.Property) geo.Feature {
	return geo.Feature{Geometry: g, Properties: props}
}

func named(name string) geo.Property { return geo.Property{Name: "name", Value: name} }

func TestWhatOutlinesAField(t *testing.T) {
	b := box(-101.6, 35.9)
	hole := orb.Ring{{-101.5997, 35.9003}, {-101.5993, 35.9003}, {-101.5993, 35.9007}, {-101.5997, 35.9007}, {-101.5997, 35.9003}}
	for name, c := range map[string]struct {
		geometry orb.Geometry
		want     orb.MultiPolygon
	}{
		"polygon":            {b, orb.MultiPolygon{b}},
		"clockwise":          {reversed(b), orb.MultiPolygon{b}},
		"from another start": {orb.Polygon{append(append(orb.Ring{}, b[0][2:]...), b[0][1], b[0][2])}, orb.MultiPolygon{b}},
		"hole wound as ring": {orb.Polygon{b[0], hole}, orb.MultiPolygon{{b[0], reverse(hole)}}},
		"multipolygon":       {orb.MultiPolygon{b, box(-101.5, 35.9)}, orb.MultiPolygon{b, box(-101.5, 35.9)}},
		"collection":         {orb.Collection{orb.Point{0, 0}, b}, orb.MultiPolygon{b}},
		"closed line":        {orb.LineString(b[0]), orb.MultiPolygon{b}},
		"a walked line":      {append(orb.LineString(slices.Clone(b[0][:4])), orb.Point{-101.6, 35.90005}), orb.MultiPolygon{{append(slices.Clone(b[0][:4]), orb.Point{-101.6, 35.90005}, b[0][0])}}},
		"closed lines":       {orb.MultiLineString{orb.LineString(b[0])}, orb.MultiPolygon{b}},
	} {
		t.Run(name, func(t *testing.T) {
			fields, _, err := boundary.Fields([]geo.Feature{feature(c.geometry, named("North"))}, boundary.Settings{})
			require.NoError(t, err)
			require.Len(t, fields, 1)
			assert.Equal(t, "North", fields[0].Name)
			assert.Equal(t, c.want, fields[0].Boundary, "valid outlines keep their vertices to the bit")
		})
	}
}

func reversed(p orb.Polygon) orb.Polygon { return orb.Polygon{reverse(p[0])} }

func reverse(r orb.Ring) orb.Ring {
	r = slices.Clone(r)
	slices.Reverse(r)
	return r
}

func TestNames(t *testing.T) {
	features := []geo.Feature{
		feature(box(0, 0), geo.Property{Name: "id", Value: int64(7)}, geo.Property{Name: "FIELD", Value: "East\n side"}),
		{ID: "f-12", Geometry: box(1, 0)},
		feature(box(2, 0)),
		feature(box(3, 0), named("East side")),
		feature(orb.Point{0, 0}),
	}
	var written []string
	got := func(set boundary.Settings) (names []string, notes []string) {
		fields, notes, err := boundary.Fields(features, set)
		require.NoError(t, err)
		written = nil
		for _, f := range fields {
			names, written = append(names, f.Name), append(written, f.Written)
		}
		return names, notes
	}
	names, notes := got(boundary.Settings{})
	assert.Equal(t, []string{"East side", "f-12", "field 3", "East side (2)"}, names)
	assert.Equal(t, []string{"East side", "", "", "East side"}, written)
	assert.Equal(t, []string{
		`a second field is named "East side": it is called "East side (2)" here`,
		"NOT taken off the field, as it bounds no ground: 1 × Point",
	}, notes)
	names, _ = got(boundary.Settings{NameProperty: "id"})
	assert.Equal(t, []string{"7", "field 2", "field 3", "field 4"}, names)
	assert.Equal(t, []string{"7", "", "", ""}, written)
	_, notes = got(boundary.Settings{NameProperty: "farm"})
	assert.Contains(t, notes, `no feature has a property "farm": fields are numbered`)
}

func TestRefused(t *testing.T) {
	for name, c := range map[string]struct {
		features []geo.Feature
		want     string
	}{
		"nothing":         {nil, "no features"},
		"points only":     {[]geo.Feature{feature(orb.Point{1, 2}), feature(nil)}, "1 × Point, 1 × feature without geometry; is this the file of the stops?"},
		"an open line":    {[]geo.Feature{feature(orb.LineString{{0, 0}, {0, 1}, {1, 1}})}, "end the line where it began"},
		"empty polygon":   {[]geo.Feature{feature(orb.Polygon{})}, "1 × empty Polygon"},
		"no ground":       {[]geo.Feature{feature(orb.Polygon{{{0, 0}, {0.001, 0}, {0, 0}}})}, "holds 0 m² of ground"},
		"not degrees":     {[]geo.Feature{feature(orb.Polygon{{{500000, 4e6}, {500100, 4e6}, {500100, 4000100}, {500000, 4e6}}})}, "not a longitude and latitude"},
		"a county":        {[]geo.Feature{feature(orb.Polygon{{{0, 0}, {1, 0}, {1, 1}, {0, 0}}})}, "111 km across"},
		"across the line": {[]geo.Feature{feature(orb.Polygon{{{179.999, 0}, {-179.999, 0}, {-179.999, 0.001}, {179.999, 0}}})}, "longitude 180"},
		"hole for field":  {[]geo.Feature{{Line: 9, Geometry: orb.Polygon{box(0, 0)[0], box(0, 0)[0]}}}, `feature 1 (line 9), field "field": the outline holds 0 m²`},
	} {
		t.Run(name, func(t *testing.T) {
			_, _, err := boundary.Fields(c.features, boundary.Settings{})
			assert.ErrorContains(t, err, c.want)
		})
	}
}

// The areas are nonzero_shell_minus_holes_area of the table, found with GEOS 3.11.1
// (see SOURCE.md): in a shell, in none of its holes, parts united. What a ring runs
// round twice is left out, as in its column even_odd_fill_area. What touched exactly in metres need not in degrees, so figures
// that rest on exact touching may differ by what ten decimals move: 10 µm along
// the edge.
func TestNastyOutlinesAreRepairedOrRefused(t *testing.T) {
	table := testkit.ReadTable(t, testkit.Testdata(t, "reference", "nasty-polygons", "nasty_expected.csv"))
	area, valid := map[string]float64{}, map[string]bool{}
	for row := range table.Len() {
		name := table.Text(t, row, "name")
		column := "nonzero_shell_minus_holes_area"
		if name == "pentagram" {
			column = "even_odd_fill_area"
		}
		area[name], _ = table.Number(t, row, column)
		valid[name] = table.Text(t, row, "geos_is_valid") == "yes"
	}
	nasty := testkit.NastyPolygons[orb.Polygon, orb.MultiPolygon](t, "nasty_lonlat.geojson")
	require.Len(t, nasty, 44)
	said := map[string]bool{}
	for _, f := range nasty {
		name, outline := f.Name, f.Geometry.(orb.Geometry)
		t.Run(name, func(t *testing.T) {
			fields, notes, err := boundary.Fields([]geo.Feature{feature(outline, named(name))}, boundary.Settings{})
			if area[name] < 1 {
				assert.ErrorContains(t, err, "of ground")
				return
			}
			require.NoError(t, err)
			frame, err := geo.FrameOf(fields[0].Boundary)
			require.NoError(t, err)
			xy := frame.ForwardPolygons(fields[0].Boundary)
			// The figures were laid in UTM, whose scale there is 0.9996 along
			// the meridian and a little more beside it.
			assert.InEpsilon(t, area[name], geo.Area(xy), 0.002)
			assert.NoError(t, planar.Valid(xy))
			said[name] = len(notes) > 0
			if !valid[name] && !said[name] {
				// Rounding to ten decimals may have parted what touched.
				require.NoError(t, planar.Valid(frame.ForwardPolygons(asMulti(outline))))
			}
		})
	}
	assert.True(t, said["bow_tie"] && said["nested_holes"] && said["clockwise_multipart_overlap"], "repaired, but not said")
	assert.False(t, said["spiral"] || said["comb_64_teeth"], "valid, but repaired")
}

func asMulti(g orb.Geometry) orb.MultiPolygon {
	if p, ok := g.(orb.Polygon); ok {
		return orb.MultiPolygon{p}
	}
	return g.(orb.MultiPolygon)
}
