package features_test

import (
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"net/http/httptest"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/followup/season"
	"github.com/geocoris/geocoris/internal/testkit/given"
	"github.com/geocoris/geocoris/internal/web/features"
)

// The tests are the abstract tests of Annex A of OGC 17-069r4 (class Core), by their names,
// which are from memory: /conf/core/root-op is TestCoreRootOp.

// weeks are three invented visits to two fields that lie on both sides of 101° west; the
// last does not tell its day.
func weeks(t testing.TB) *season.Season {
	t.Helper()
	s, err := season.OpenToAdd(filepath.Join(t.TempDir(), "s.gpkg"))
	require.NoError(t, err)
	t.Cleanup(func() { s.Close() })
	west, east := square("West", -101.02), square("East", -100.99)
	for n, day := range []string{"2031-08-01", "2031-08-08/2031-08-09", ""} {
		v := season.Visit{
			Date: day, Pest: "sorghum aphid", Unit: "mean per leaf", Settings: "{}", Author: "Anna", Fields: []geo.Field{west, east},
			Files: []season.File{{Name: "week.csv", Content: fmt.Appendf(nil, "stop,count\n1,%d\n", n)}},
		}
		for _, f := range v.Fields {
			of := func(more ...geo.Property) geo.Properties {
				return append(geo.Properties{{Name: "field", Value: f.Name}, {Name: "date", Value: day}}, more...)
			}
			v.Stops = append(v.Stops, geo.Feature{Geometry: f.Boundary[0][0][0], Properties: of(geo.Property{Name: "value", Value: 1.5})})
			v.Zones = append(v.Zones, geo.Feature{Geometry: f.Boundary, Properties: of(geo.Property{Name: "zone", Value: "clear"}, geo.Property{Name: "area_ha", Value: 100.5})})
			v.Verdicts = append(v.Verdicts, geo.Feature{Geometry: f.Boundary, Properties: of(geo.Property{Name: "verdict", Value: "no spray"})})
		}
		_, err := s.Add(v)
		require.NoError(t, err)
	}
	_, err = s.AddRecord(season.Record{Date: "2031-08-05", Note: "invented", Ground: west.Boundary})
	require.NoError(t, err)
	return s
}

// square is a field of 0.01° to each side, whose corner in the south-west is at 35° north.
func square(name string, west float64) geo.Field {
	return geo.Field{Name: name, Boundary: given.Rectangle(west, 35, west+0.01, 35.01)}
}

func server(t testing.TB) *httptest.Server {
	t.Helper()
	at := httptest.NewServer(features.Handler("season of the test", weeks(t)))
	t.Cleanup(at.Close)
	return at
}

// got is an answer.
type got struct {
	*http.Response
	text []byte
	JSON map[string]any
}

func get(t testing.TB, address string, accept ...string) (g got) {
	t.Helper()
	r, err := http.NewRequestWithContext(t.Context(), http.MethodGet, address, nil)
	require.NoError(t, err)
	for _, a := range accept {
		r.Header.Add("Accept", a)
	}
	g.Response, err = http.DefaultClient.Do(r)
	require.NoError(t, err)
	defer g.Body.Close()
	g.text, err = io.ReadAll(g.Body)
	require.NoError(t, err)
	if strings.Contains(g.Header.Get("Content-Type"), "json") {
		require.NoError(t, json.Unmarshal(g.text, &g.JSON), string(g.text))
	}
	return g
}

// links are those of an answer, by their relation.
func links(t testing.TB, object map[string]any) map[string]string {
	t.Helper()
	out := map[string]string{}
	for _, l := range object["links"].([]any) {
		link := l.(map[string]any)
		assert.NotEmpty(t, link["type"], "each link tells its type")
		out[link["rel"].(string)] = link["href"].(string)
	}
	return out
}

func (g got) features() []any { return g.JSON["features"].([]any) }

// ids are those of the features of a page.
func (g got) ids() (ids []string) {
	for _, f := range g.features() {
		ids = append(ids, f.(map[string]any)["id"].(string))
	}
	return ids
}

func ok(t testing.TB, address string) got {
	t.Helper()
	g := get(t, address)
	require.Equal(t, http.StatusOK, g.StatusCode, "%s: %s", address, g.text)
	return g
}

// /conf/core/http: HTTP 1.1, and its status codes.
func TestCoreHTTP(t *testing.T) {
	at := server(t)
	for _, c := range []struct {
		method, path, accept string
		want                 int
	}{
		{"GET", "/", "", 200},
		{"HEAD", "/collections/stops/items", "", 200},
		{"GET", "/", "text/html,application/xhtml+xml,*/*;q=0.8", 200},
		{"GET", "/collections/stops/items", "application/json", 200},
		{"GET", "/collections/stops/items", "application/*", 200},
		{"GET", "/collections/stops/items", "text/html", 406},
		{"GET", "/collections/stops/items", "application/geo+json;q=0, text/html", 406},
		{"GET", "/api", "application/vnd.oai.openapi+json;version=3.0", 200},
		{"GET", "/nothing", "", 404},
		{"GET", "/collections/nothing", "", 404},
		{"GET", "/collections/nothing/items", "", 404},
		{"GET", "/collections/nothing/items/1", "", 404},
		{"GET", "/collections/stops/items/99", "", 404},
		{"GET", "/collections/stops/items/01", "", 404},
		{"GET", "/collections/stops/items/x", "", 404},
		{"GET", "/collections/stops/nothing", "", 404},
		{"GET", "/collections/stops/items/1/more", "", 404},
		{"POST", "/collections/stops/items", "", 405},
		{"DELETE", "/collections/stops/items/1", "", 405},
		{"OPTIONS", "/", "", 405},
	} {
		r, err := http.NewRequestWithContext(t.Context(), c.method, at.URL+c.path, nil)
		require.NoError(t, err)
		if c.accept != "" {
			r.Header.Set("Accept", c.accept)
		}
		answer, err := http.DefaultClient.Do(r)
		require.NoError(t, err)
		text, err := io.ReadAll(answer.Body)
		require.NoError(t, err)
		answer.Body.Close()
		assert.Equal(t, c.want, answer.StatusCode, "%s %s", c.method, c.path)
		assert.Equal(t, 1, answer.ProtoMajor)
		if c.want >= 400 {
			var fault struct{ Code, Description string }
			require.NoError(t, json.Unmarshal(text, &fault), c.path)
			assert.NotEmpty(t, fault.Code)
			assert.NotEmpty(t, fault.Description)
		}
		if c.want == 405 {
			assert.Equal(t, "GET, HEAD", answer.Header.Get("Allow"))
		}
		if c.method == "HEAD" {
			assert.Empty(t, text)
		}
	}
}

// /conf/core/root-op
func TestCoreRootOp(t *testing.T) { ok(t, server(t).URL+"/") }

// /conf/core/root-success: links to the definition, the conformance and the data.
func TestCoreRootSuccess(t *testing.T) {
	at := server(t)
	g := ok(t, at.URL+"/")
	assert.Equal(t, "application/json", g.Header.Get("Content-Type"))
	for rel, path := range map[string]string{"self": "/", "service-desc": "/api", "conformance": "/conformance", "data": "/collections"} {
		assert.Equal(t, at.URL+path, links(t, g.JSON)[rel])
	}
}

// /conf/core/api-definition-op
func TestCoreAPIDefinitionOp(t *testing.T) {
	at := server(t)
	g := ok(t, links(t, ok(t, at.URL+"/").JSON)["service-desc"])
	assert.Equal(t, "application/vnd.oai.openapi+json;version=3.0", g.Header.Get("Content-Type"))
}

// /conf/core/api-definition-success, /conf/oas30/oas-definition-2: a definition by OpenAPI
// 3.0 whose references lead somewhere.
func TestCoreAPIDefinitionSuccess(t *testing.T) {
	api := ok(t, server(t).URL+"/api").JSON
	assert.Regexp(t, `^3\.0\.`, api["openapi"])
	assert.NotEmpty(t, api["info"].(map[string]any)["title"])
	assert.NotEmpty(t, api["info"].(map[string]any)["version"])
	seen := 0
	eachReference(api, func(path []string) {
		seen++
		at := any(api)
		for _, name := range path {
			at = at.(map[string]any)[name]
		}
		assert.NotNil(t, at, path)
	})
	assert.Greater(t, seen, 20)
	ids := map[string]bool{}
	for path, item := range api["paths"].(map[string]any) {
		op := item.(map[string]any)["get"].(map[string]any)
		id := op["operationId"].(string)
		assert.False(t, ids[id], "%s: an operation has its own name", path)
		ids[id] = true
		assert.Contains(t, op["responses"], "200")
		assert.Equal(t, strings.Count(path, "{"), pathParameters(api, op), path)
	}
}

func pathParameters(api, op map[string]any) (n int) {
	params, _ := op["parameters"].([]any)
	for _, p := range params {
		name := strings.TrimPrefix(p.(map[string]any)["$ref"].(string), "#/components/parameters/")
		if api["components"].(map[string]any)["parameters"].(map[string]any)[name].(map[string]any)["in"] == "path" {
			n++
		}
	}
	return n
}

func eachReference(v any, f func(path []string)) {
	switch v := v.(type) {
	case map[string]any:
		if ref, is := v["$ref"].(string); is {
			f(strings.Split(strings.TrimPrefix(ref, "#/"), "/"))
		}
		for _, inner := range v {
			eachReference(inner, f)
		}
	case []any:
		for _, inner := range v {
			eachReference(inner, f)
		}
	}
}

// /conf/core/conformance-op
func TestCoreConformanceOp(t *testing.T) { ok(t, server(t).URL+"/conformance") }

// /conf/core/conformance-success
func TestCoreConformanceSuccess(t *testing.T) {
	g := ok(t, server(t).URL+"/conformance")
	for _, class := range []string{"core", "oas30", "geojson"} {
		assert.Contains(t, g.JSON["conformsTo"], "http://www.opengis.net/spec/ogcapi-features-1/1.0/conf/"+class)
	}
}

var allCollections = []string{"fields", "stops", "zones", "verdicts", "treatments"}

// /conf/core/crs84: coordinates are longitude and latitude on WGS 84, in this order.
func TestCoreCRS84(t *testing.T) {
	at := server(t)
	for _, id := range allCollections {
		assert.Contains(t, ok(t, at.URL+"/collections/"+id).JSON["crs"], "http://www.opengis.net/def/crs/OGC/1.3/CRS84")
	}
	stop := ok(t, at.URL+"/collections/stops/items/1").JSON["geometry"].(map[string]any)
	assert.Equal(t, []any{-101.02, 35.0}, stop["coordinates"])
}

// /conf/core/fc-md-op
func TestCoreFCMdOp(t *testing.T) { ok(t, server(t).URL+"/collections") }

// /conf/core/fc-md-success: every collection, with its links, items and extent.
func TestCoreFCMdSuccess(t *testing.T) {
	at := server(t)
	g := ok(t, at.URL+"/collections")
	assert.Equal(t, at.URL+"/collections", links(t, g.JSON)["self"])
	var ids []string
	for _, c := range g.JSON["collections"].([]any) {
		one := c.(map[string]any)
		ids = append(ids, one["id"].(string))
		assert.Equal(t, fmt.Sprintf("%s/collections/%s/items", at.URL, one["id"]), links(t, one)["items"])
		box := one["extent"].(map[string]any)["spatial"].(map[string]any)["bbox"].([]any)[0].([]any)
		assert.Len(t, box, 4)
	}
	assert.Equal(t, allCollections, ids)
}

// /conf/core/sfc-md-op
func TestCoreSFCMdOp(t *testing.T) {
	at := server(t)
	for _, id := range allCollections {
		ok(t, at.URL+"/collections/"+id)
	}
}

// /conf/core/sfc-md-success: a collection says by itself what the list says of it.
func TestCoreSFCMdSuccess(t *testing.T) {
	at := server(t)
	for _, c := range ok(t, at.URL+"/collections").JSON["collections"].([]any) {
		id := c.(map[string]any)["id"].(string)
		assert.Equal(t, c, any(ok(t, at.URL+"/collections/"+id).JSON))
	}
	extent := ok(t, at.URL+"/collections/zones").JSON["extent"].(map[string]any)
	assert.Equal(t, []any{[]any{"2031-08-01T00:00:00Z", "2031-08-09T23:59:59Z"}}, extent["temporal"].(map[string]any)["interval"])
	for i, side := range extent["spatial"].(map[string]any)["bbox"].([]any)[0].([]any) {
		assert.InDelta(t, [...]float64{-101.02, 35, -100.98, 35.01}[i], side, 1e-9)
	}
	assert.NotContains(t, ok(t, at.URL+"/collections/fields").JSON["extent"], "temporal")
}

// /conf/core/fc-op
func TestCoreFCOp(t *testing.T) {
	at := server(t)
	for _, id := range allCollections {
		assert.Equal(t, "application/geo+json", ok(t, at.URL+"/collections/"+id+"/items").Header.Get("Content-Type"))
	}
}

// parameter is one of the definition.
func parameter(t testing.TB, at *httptest.Server, name string) map[string]any {
	t.Helper()
	api := ok(t, at.URL+"/api").JSON
	op := api["paths"].(map[string]any)["/collections/{collectionId}/items"].(map[string]any)["get"].(map[string]any)
	assert.Contains(t, op["parameters"], map[string]any{"$ref": "#/components/parameters/" + name})
	p := api["components"].(map[string]any)["parameters"].(map[string]any)[name].(map[string]any)
	assert.Equal(t, name, p["name"])
	assert.Equal(t, "query", p["in"])
	assert.Equal(t, false, p["required"])
	assert.Equal(t, false, p["explode"])
	return p["schema"].(map[string]any)
}

// /conf/core/fc-bbox-definition
func TestCoreFCBboxDefinition(t *testing.T) {
	schema := parameter(t, server(t), "bbox")
	assert.Equal(t, "array", schema["type"])
	assert.Equal(t, []any{4.0, 6.0}, []any{schema["minItems"], schema["maxItems"]})
	assert.Equal(t, "number", schema["items"].(map[string]any)["type"])
}

// /conf/core/fc-bbox-response: features that have a point in the box, and no others.
func TestCoreFCBboxResponse(t *testing.T) {
	at := server(t)
	for box, want := range map[string][]string{
		"-180,-90,180,90":                     {"1", "2"},
		"-101.5,34,-101.005,36":               {"1"},
		"-101.02,35.01,-101.02,35.01":         {"1"}, // a corner
		"-101.005,34,-100.995,36":             nil,   // between them
		"-101.015,35.004,-101.014,35.005":     {"1"}, // within
		"-101.015,35.004,5,-101.014,35.005,9": {"1"}, // with heights
		"-100.985,35,-100.9,36":               {"2"},
		"170,-90,-101.005,90":                 {"1"},      // over the antimeridian
		"-101.015,34,-101.03,36":              {"1", "2"}, // round the world, but for a strip
		"170,-90,-170,90":                     nil,
		"10,40,11,41":                         nil,
	} {
		g := ok(t, at.URL+"/collections/fields/items?bbox="+box)
		assert.Equal(t, want, g.ids(), box)
		assert.EqualValues(t, len(want), g.JSON["numberMatched"], box)
	}
	// The envelope of a triangle is touched where the triangle is not.
	s := weeks(t)
	v := season.Visit{Settings: "{}", Files: []season.File{{Name: "x"}}, Fields: []geo.Field{{Name: "Corner", Boundary: given.Polygon([2]float64{10, 10}, [2]float64{20, 10}, [2]float64{10, 20})}}}
	_, err := s.Add(v)
	require.NoError(t, err)
	triangle := httptest.NewServer(features.Handler("t", s))
	defer triangle.Close()
	assert.Empty(t, ok(t, triangle.URL+"/collections/fields/items?bbox=18,18,19,19").features())
	assert.Equal(t, []string{"3"}, ok(t, triangle.URL+"/collections/fields/items?bbox=14,14,16,16").ids(), "an edge goes through it")

	for _, box := range []string{"", "1,2,3", "1,2,3,4,5", "1,2,3,4,5,6,7", "a,2,3,4", "NaN,0,1,1", "0,0,Inf,1", "0,1,1,0", "-181,0,1,1", "0,-91,1,1", "0,0,1,91", "0,0,9,1,1,8", "1,,3,4"} {
		assert.Equal(t, http.StatusBadRequest, get(t, at.URL+"/collections/fields/items?bbox="+box).StatusCode, box)
	}
}

// /conf/core/fc-limit-definition
func TestCoreFCLimitDefinition(t *testing.T) {
	schema := parameter(t, server(t), "limit")
	assert.Equal(t, map[string]any{"type": "integer", "minimum": 1.0, "maximum": 10000.0, "default": 100.0}, schema)
}

// /conf/core/fc-limit-response
func TestCoreFCLimitResponse(t *testing.T) {
	at := server(t)
	for limit, want := range map[string]int{"1": 1, "2": 2, "6": 6, "7": 6, "10001": 6, "99999999999999999999999": 6, "007": 6} {
		g := ok(t, at.URL+"/collections/stops/items?limit="+limit)
		assert.Len(t, g.features(), want, limit)
		assert.EqualValues(t, want, g.JSON["numberReturned"])
		assert.EqualValues(t, 6, g.JSON["numberMatched"])
		assert.Equal(t, want < 6, links(t, g.JSON)["next"] != "", limit)
	}
	for _, limit := range []string{"0", "00", "-1", "1.5", "x", "", "+1"} {
		assert.Equal(t, http.StatusBadRequest, get(t, at.URL+"/collections/stops/items?limit="+limit).StatusCode, limit)
	}
}

// /conf/core/fc-time-definition
func TestCoreFCTimeDefinition(t *testing.T) {
	assert.Equal(t, map[string]any{"type": "string"}, parameter(t, server(t), "datetime"))
}

// /conf/core/fc-time-response: features whose days meet the time; days are of UTC.
func TestCoreFCTimeResponse(t *testing.T) {
	at := server(t)
	first, second := []string{"1", "2"}, []string{"3", "4"}
	for time, want := range map[string][]string{
		"2031-08-01":                  first,
		"2031-08-01T23:30:00Z":        first,
		"2031-08-02T01:30:00%2B02:00": first,
		"2031-07-31T23:30:00-02:00":   first,
		"2031-08-02":                  nil,
		"2031-08-08":                  second,
		"2031-08-09":                  second,
		"2031-08-10":                  nil,
		"2031-08-01/2031-08-08":       slices.Concat(first, second),
		"2031-08-02/2031-08-07":       nil,
		"2031-08-09/..":               second,
		"2031-08-09/":                 second,
		"../2031-08-01":               first,
		"/2031-08-01T00:00:00Z":       first,
		"2031-08-01T00:00:00Z/2031-08-01T00:00:00Z": first,
		"1031-01-01/..": slices.Concat(first, second), // what tells no day is in none
	} {
		assert.Equal(t, want, ok(t, at.URL+"/collections/zones/items?datetime="+time).ids(), time)
	}
	assert.Empty(t, ok(t, at.URL+"/collections/fields/items?datetime=2031-08-01").features(), "fields tell no day")
	assert.Len(t, ok(t, at.URL+"/collections/treatments/items?datetime=2031-08-05&bbox=-102,34,-101,36").features(), 1)
	for _, time := range []string{"", "..", "../..", "/", "2031", "2031-13-01", "2031-02-30", "2031-08-01/2031-07-01", "2031-08-01/2031-08-02/2031-08-03", "now", "2031-08-01T06:00"} {
		assert.Equal(t, http.StatusBadRequest, get(t, at.URL+"/collections/zones/items?datetime="+time).StatusCode, time)
	}
}

// /conf/core/query-param-unknown, /conf/core/query-param-invalid
func TestCoreQueryParam(t *testing.T) {
	at := server(t)
	for _, path := range []string{"/?f=json", "/conformance?x=", "/api?x", "/collections?limit=1", "/collections/stops?bbox=1,2,3,4", "/collections/stops/items?field=West", "/collections/stops/items?Limit=1",
		"/collections/stops/items/1?limit=1", "/collections/stops/items?limit=1&limit=2", "/collections/stops/items?after=x", "/collections/stops/items?after=-1", "/collections/stops/items?limit=%zz", "/collections/stops/items?bbox-crs=x"} {
		assert.Equal(t, http.StatusBadRequest, get(t, at.URL+path).StatusCode, path)
	}
}

// /conf/core/fc-response, fc-links, fc-rel-type, fc-numberMatched, fc-numberReturned: pages
// that lead on give each feature once, also where more come in meanwhile.
func TestCoreFCResponse(t *testing.T) {
	s := weeks(t)
	at := httptest.NewServer(features.Handler("t", s))
	defer at.Close()
	for _, query := range []string{"limit=1", "limit=4", "limit=2&datetime=2031-08-01/..", "limit=1&bbox=-101.5,34,-101.005,36"} {
		var seen []string
		matched := 0.0
		for next := at.URL + "/collections/stops/items?" + query; next != ""; {
			g := ok(t, next)
			assert.Equal(t, "FeatureCollection", g.JSON["type"])
			assert.NotContains(t, g.JSON, "timeStamp", "the same bytes at any hour")
			matched = g.JSON["numberMatched"].(float64)
			seen = append(seen, g.ids()...)
			self := links(t, g.JSON)["self"]
			assert.Equal(t, g.text, ok(t, self).text, "a page is where it says it is")
			next = links(t, g.JSON)["next"]
			require.LessOrEqual(t, len(seen), 6)
		}
		assert.Len(t, seen, int(matched), query)
		assert.Len(t, slices.Compact(slices.Sorted(slices.Values(seen))), len(seen), "each once")
	}
	first := ok(t, at.URL+"/collections/zones/items?limit=5")
	_, err := s.Add(season.Visit{Settings: "new", Files: []season.File{{Name: "x"}}, Zones: []geo.Feature{{Geometry: square("", 0).Boundary, Properties: geo.Properties{{Name: "zone", Value: "watch"}}}}})
	require.NoError(t, err)
	assert.Equal(t, []string{"6", "7"}, ok(t, links(t, first.JSON)["next"]).ids())
}

// /conf/core/f-op
func TestCoreFOp(t *testing.T) {
	at := server(t)
	for _, id := range allCollections {
		g := ok(t, at.URL+"/collections/"+id+"/items/1")
		assert.Equal(t, "application/geo+json", g.Header.Get("Content-Type"))
	}
}

// /conf/core/f-success, f-links: each feature by itself is what it is in its collection.
func TestCoreFSuccess(t *testing.T) {
	at := server(t)
	for _, id := range allCollections {
		for _, f := range ok(t, at.URL+"/collections/"+id+"/items").features() {
			one := ok(t, fmt.Sprintf("%s/collections/%s/items/%s", at.URL, id, f.(map[string]any)["id"])).JSON
			assert.Equal(t, fmt.Sprintf("%s/collections/%s/items/%s", at.URL, id, one["id"]), links(t, one)["self"])
			assert.Equal(t, at.URL+"/collections/"+id, links(t, one)["collection"])
			delete(one, "links")
			assert.Equal(t, f, any(one))
		}
	}
}
