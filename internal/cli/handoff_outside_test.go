package cli_test

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/testkit"
	"github.com/geocoris/geocoris/internal/testkit/given"
)

// columnsOf are the columns of a table as OGR reads them, with their types.
func columnsOf(text string) map[string]string {
	columns := map[string]string{}
	for _, m := range regexp.MustCompile(`(?m)^(\w+): (\w+) \(\d+\.\d+\)`).FindAllStringSubmatch(text, -1) {
		columns[m[1]] = m[2]
	}
	return columns
}

// valuesOf are those of a column in all features, as OGR prints them.
func valuesOf(text, column string) (values []string) {
	for _, m := range regexp.MustCompile(`(?m)^  `+column+` \(\w+\) = (.*)$`).FindAllStringSubmatch(text, -1) {
		values = append(values, m[1])
	}
	return values
}

// areasOf are the areas of the features of a file that OGR wrote anew, m².
func areasOf(t *testing.T, path, layer string) (areas []float64) {
	t.Helper()
	back := filepath.Join(t.TempDir(), "back.geojson")
	testkit.Program(t, nil, "ogr2ogr", "-f", "GeoJSON", back, path, layer)
	c, err := geofile.Read(back, geofile.Limits{})
	require.NoError(t, err)
	for _, f := range c.Features {
		areas = append(areas, given.Area(t, f))
	}
	return areas
}

// OGR reads every Shapefile: geometry, types of the columns, areas. The rate is the only
// number of its file, and rate × ground is the carrier of the sheet.
func TestOGRReadsWhatMachinesTake(t *testing.T) {
	testkit.WantProgram(t, "ogrinfo")
	mapped(t)
	code, _, errs := run(t, handOff(everything...)...)
	require.Zero(t, code, errs)
	var job struct {
		Typed struct {
			Volume float64 `json:"volume_l"`
		} `json:"typed_in"`
		Jobs []struct {
			Ground, Sprayed float64
			GroundArea      float64 `json:"ground_m2"`
			SprayedArea     float64 `json:"sprayed_m2"`
			Field           string
			FieldArea       float64 `json:"field_m2"`
			Passes          int
		}
	}
	text, err := os.ReadFile("job/handoff.json")
	require.NoError(t, err)
	require.NoError(t, json.Unmarshal(text, &job))
	require.Len(t, job.Jobs, 1)

	for layer, want := range map[string]struct {
		kind, features string
		numbers        []string
	}{
		"rate_gal_ac": {"Polygon", "2", []string{"rate"}},
		"ground":      {"Polygon", "1", []string{"area_ac", "area_ha"}},
		"swaths":      {"Polygon", "1", []string{"area_ac", "area_ha"}},
		"keep_off":    {"Polygon", "1", []string{"area_ac", "area_ha"}},
		"boundary":    {"Polygon", "1", []string{"area_ac", "area_ha"}},
		"ab_lines":    {"Line String", "1", []string{"heading"}},
		"passes":      {"Line String", strconv.Itoa(job.Jobs[0].Passes), []string{"heading", "off_m", "on_m"}},
	} {
		text := testkit.Program(t, nil, "ogrinfo", "-ro", "-al", "-mdd", "SHAPEFILE", "/vsizip/job/"+layer+".zip")
		assert.Contains(t, text, "Geometry: "+want.kind+"\n", layer)
		assert.Contains(t, text, "Feature Count: "+want.features+"\n", layer)
		assert.Contains(t, text, `ID["EPSG",4326]`, layer)
		assert.Contains(t, text, "ENCODING_FROM_CPG=UTF-8", layer)
		assert.NotContains(t, text, "Warning", layer)
		columns := columnsOf(text)
		for _, name := range want.numbers {
			assert.Equal(t, "Real", columns[name], "%s: %s", layer, name)
		}
		for name, kind := range columns {
			assert.LessOrEqual(t, len(name), 10)
			if kind == "Real" {
				assert.Contains(t, want.numbers, name, layer)
			}
		}
	}

	rates := testkit.Program(t, nil, "ogrinfo", "-ro", "-al", "/vsizip/job/rate_gal_ac.zip")
	assert.Equal(t, []string{"15.000000", "0.000000"}, valuesOf(rates, "rate"))
	assert.Equal(t, []string{"gal/ac", "gal/ac"}, valuesOf(rates, "unit"))
	areas := areasOf(t, "/vsizip/job/rate_gal_ac.zip", "rate_gal_ac")
	require.Len(t, areas, 2)
	assert.InEpsilon(t, job.Jobs[0].SprayedArea, areas[0], 1e-5)
	litres := areas[0] / geo.SquareMetresPerAcre * 15 * geo.LitresPerGallon
	assert.InEpsilon(t, job.Typed.Volume, litres, 1e-5, "rate × ground is the carrier")
	assert.InEpsilon(t, job.Jobs[0].GroundArea, areasOf(t, "/vsizip/job/ground.zip", "ground")[0], 1e-5)

	// Plain KML: polygons alone, with the same ground.
	var sum float64
	for _, a := range areasOf(t, "job/ground.kml", "spray ground") {
		sum += a
	}
	assert.InEpsilon(t, job.Jobs[0].GroundArea, sum, 1e-5)
	plain, err := os.ReadFile("job/ground.kml")
	require.NoError(t, err)
	assert.NotContains(t, string(plain), "Style")
	assert.NotContains(t, string(plain), "MultiGeometry")
}

// The flight is lines in their order at the height that was typed in, by OGR.
func TestOGRReadsTheFlight(t *testing.T) {
	testkit.WantProgram(t, "ogrinfo")
	mapped(t)
	code, _, errs := run(t, handOff(everything...)...)
	require.Zero(t, code, errs)
	text := testkit.Program(t, nil, "ogrinfo", "-ro", "-al", "job/flight.geojson")
	orders := valuesOf(text, "order")
	for i, order := range orders {
		if order != "(null)" {
			assert.Equal(t, strconv.Itoa(i+1), order)
		}
	}
	require.Greater(t, len(orders), 40)
	assert.Equal(t, "3", valuesOf(text, "height_m")[0])
	assert.Equal(t, "3.576", valuesOf(text, "speed_m_s")[0], "8 mph")
	kml, err := os.ReadFile("job/flight.kml")
	require.NoError(t, err)
	lines := strings.Count(string(kml), "<LineString>")
	assert.Equal(t, lines+strings.Count(string(kml), "<Polygon>"), strings.Count(string(kml), "<altitudeMode>relativeToGround</altitudeMode>"))
	assert.NotContains(t, string(kml), "<tessellate>")
	read := testkit.Program(t, nil, "ogrinfo", "-ro", "-al", "job/flight.kml")
	assert.Equal(t, lines, len(regexp.MustCompile(`LINESTRING Z \([^)]* 3[,)]`).FindAllString(read, -1)))

	// Nothing is preset: without a height it lies on the ground.
	code, _, errs = run(t, handOff("--force")...)
	require.Zero(t, code, errs)
	kml, err = os.ReadFile("job/flight.kml")
	require.NoError(t, err)
	assert.NotContains(t, string(kml), "relativeToGround")
	assert.NotContains(t, testkit.Program(t, nil, "ogrinfo", "-ro", "-al", "job/flight.geojson"), "height_m")
}

// Zones that went through a desktop program and back give the same job, in every format.
func TestZonesThroughOGRGiveTheSameJob(t *testing.T) {
	testkit.WantProgram(t, "ogr2ogr")
	mapped(t)
	type figures struct {
		Jobs []struct {
			Field     string
			Ground    float64 `json:"ground_m2"`
			Sprayed   float64 `json:"sprayed_m2"`
			Heading   float64 `json:"heading_deg"`
			Passes    int
			On        float64 `json:"on_m"`
			Spray     float64 `json:"treat_m2"`
			Counted   string
			Pest      string
			KeepOffs  []struct{ Name string } `json:"keep_offs"`
			Grown     any                     `json:"grown_on_map"`
			Days      any
			Trust     string
			Against   bool `json:"against_the_map"`
			LookAgain string
		}
	}
	job := func(zones string) (f figures) {
		args := append([]string{"handoff", zones, "--swath", "24m", "--out", "job", "--json"}, everything...)
		code, out, errs := run(t, args...)
		require.Zero(t, code, errs)
		require.NoError(t, json.Unmarshal([]byte(out), &f))
		require.Len(t, f.Jobs, 1)
		return f
	}
	require.NoError(t, os.Mkdir("alone", 0o755))
	content, err := os.ReadFile("out/zones.geojson")
	require.NoError(t, err)
	require.NoError(t, os.WriteFile("alone/zones.geojson", content, 0o644))
	want := job("alone/zones.geojson")
	for driver, name := range map[string]string{"GeoJSON": "back.geojson", "ESRI Shapefile": "back.shp", "GPKG": "back.gpkg", "KML": "back.kml", "LIBKML": "libkml.kml"} {
		require.NoError(t, os.RemoveAll("back"))
		require.NoError(t, os.Mkdir("back", 0o755))
		testkit.Program(t, nil, "ogr2ogr", "-f", driver, filepath.Join("back", name), "alone/zones.geojson")
		got := job(filepath.Join("back", name))
		for i, j := range want.Jobs {
			for what, pair := range map[string][2]float64{"ground": {j.Ground, got.Jobs[i].Ground}, "sprayed": {j.Sprayed, got.Jobs[i].Sprayed}, "treat": {j.Spray, got.Jobs[i].Spray}, "way": {j.On, got.Jobs[i].On}} {
				assert.InEpsilon(t, pair[0], pair[1], 1e-4, "%s: %s", driver, what)
			}
			assert.InDelta(t, 0, math.Remainder(j.Heading-got.Jobs[i].Heading, 180), 0.01, driver)
			got.Jobs[i].Ground, got.Jobs[i].Sprayed, got.Jobs[i].Spray, got.Jobs[i].On, got.Jobs[i].Heading = j.Ground, j.Sprayed, j.Spray, j.On, j.Heading
			assert.Equal(t, j, got.Jobs[i], driver)
		}
	}
}

// Another independent reader, the npm package shpjs, finds the same rates, ground and
// lines. It is found where the reader of task data is.
func TestAnotherReaderOfShapefilesFindsTheSame(t *testing.T) {
	modules := os.Getenv("GEOCORIS_ISOXML")
	if _, err := os.Stat(filepath.Join(modules, "node_modules", "shpjs")); modules == "" || err != nil {
		testkit.Missing(t, "npm package shpjs (GEOCORIS_ISOXML names the folder it was installed into)")
	}
	mapped(t)
	code, _, errs := run(t, handOff(everything...)...)
	require.Zero(t, code, errs)
	script := filepath.Join(modules, "geocoris_shapes.mjs")
	require.NoError(t, os.WriteFile(script, []byte(`import shp from 'shpjs';
import fs from 'fs';
console.log(JSON.stringify(await shp(fs.readFileSync(process.argv[2]))));
`), 0o644))
	for layer, columns := range map[string][]string{"rate_gal_ac": {"rate", "unit"}, "keep_off": {"area_ha"}, "boundary": {"area_ha"}, "passes": {"pass", "heading"}, "ab_lines": {"heading"}} {
		out := testkit.Program(t, nil, "node", script, filepath.Join("job", layer+".zip"))
		there, err := geofile.Decode("there.geojson", strings.NewReader(out), geofile.Limits{})
		require.NoError(t, err, layer)
		here, err := geofile.Read(filepath.Join("job", layer+".geojson"), geofile.Limits{})
		require.NoError(t, err, layer)
		require.Len(t, there.Features, len(here.Features), layer)
		for i, f := range here.Features {
			for _, name := range columns {
				want, _ := f.Properties.Get(name)
				got, _ := there.Features[i].Properties.Get(name)
				assert.EqualValues(t, want, got, "%s: %s", layer, name)
			}
			if line := given.Line(f); line != nil {
				got := given.Line(there.Features[i])
				require.Len(t, got, len(line))
				for k := range line {
					assert.InDeltaSlice(t, line[k], got[k], 1e-10, layer)
				}
				continue
			}
			assert.InEpsilon(t, given.Area(t, f), given.Area(t, there.Features[i]), 1e-9, layer)
		}
	}
}

// layersOf are the layers of a file as OGR reads them, with how many features each has.
func layersOf(t *testing.T, path string) map[string]int {
	t.Helper()
	out := testkit.Program(t, nil, "ogrinfo", "-ro", "-al", "-so", path)
	assert.NotContains(t, out, "Warning", path)
	layers, name := map[string]int{}, ""
	for _, m := range regexp.MustCompile(`(?m)^(Layer name|Feature Count): (.*)$`).FindAllStringSubmatch(out, -1) {
		if m[1] == "Layer name" {
			name = m[2]
			continue
		}
		n, err := strconv.Atoi(m[2])
		require.NoError(t, err)
		layers[name] += n
	}
	return layers
}

func summed(areas []float64) (sum float64) {
	for _, a := range areas {
		sum += a
	}
	return sum
}

// OGR reads the files that no other test hands to it: each layer of the GeoPackage and of
// the GeoJSON beside it, KML and KMZ, routes, the table, and what map wrote.
func TestOGRReadsAllElseOfAJob(t *testing.T) {
	testkit.WantProgram(t, "ogrinfo")
	mapped(t)
	code, _, errs := run(t, handOff(everything...)...)
	require.Zero(t, code, errs)
	tables := layersOf(t, "job/handoff.gpkg")
	require.Len(t, tables, 9)
	for name, n := range tables {
		file := filepath.Join("job", name+".geojson")
		assert.Equal(t, map[string]int{name: n}, layersOf(t, file))
		if tables := map[string]bool{"passes": true, "ab_lines": true, "switches": true}; !tables[name] {
			assert.InDelta(t, summed(areasOf(t, file, name)), summed(areasOf(t, "job/handoff.gpkg", name)), 20, "%s: corners have 7 decimals in one of them", name)
		}
	}
	assert.InDelta(t, summed(areasOf(t, "job/keep_off.geojson", "keep_off")), summed(areasOf(t, "job/keep_off.kml", "closed ground")), 1)
	shown := layersOf(t, "job/handoff.kml")
	assert.Equal(t, shown, layersOf(t, "job/handoff.kmz"))
	assert.Equal(t, tables["passes"], shown["Passes"])
	assert.Equal(t, tables["switches"], shown["Boom on and off"])
	assert.InDelta(t, summed(areasOf(t, "job/ground.geojson", "ground")), summed(areasOf(t, "job/handoff.kmz", "Spray ground")), 1)
	assert.Equal(t, tables["switches"]+2, layersOf(t, "job/passes.gpx")["route_points"], "and the A–B line")
	assert.Equal(t, tables["switches"]/2, layersOf(t, "job/passes.csv")["passes"])
	assert.Equal(t, map[string]int{"stops": 58}, layersOf(t, "out/stops.geojson"))
}

// So it does each file of each field in the archive of several.
func TestOGRReadsTheFolderOfEachField(t *testing.T) {
	testkit.WantProgram(t, "ogr2ogr")
	code, _, errs := run(t, lattices(t, []lattice{{"North", alike(600)}, {"South", alike(600)}})...)
	require.Zero(t, code, errs)
	code, _, errs = run(t, handOff("--rate", "140L/ha")...)
	require.Zero(t, code, errs)
	unzip(t, "job/fields.zip", "each")
	areas := areasOf(t, "job/boundary.geojson", "boundary")
	require.Len(t, areas, 2)
	for i, field := range []string{"North", "South"} {
		folder := filepath.Join("each", field)
		for file, layer := range map[string]string{"boundary.shp": "boundary", "ground.shp": "ground", "ground.kml": "spray ground", "swaths.shp": "swaths"} {
			assert.InEpsilon(t, areas[i], summed(areasOf(t, filepath.Join(folder, file), layer)), 0.03, "%s of %s", file, field)
		}
		rates := testkit.Program(t, nil, "ogrinfo", "-ro", "-al", filepath.Join(folder, "rate_l_ha.shp"))
		assert.Equal(t, "140.000000", valuesOf(rates, "rate")[0])
		assert.Equal(t, field, valuesOf(rates, "field")[0])
		for _, file := range []string{"passes.shp", "ab_lines.shp", "passes.gpx", "flight.kml", "flight.geojson"} {
			assert.NotEmpty(t, layersOf(t, filepath.Join(folder, file)), file)
		}
	}
}
