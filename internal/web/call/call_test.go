package call_test

import (
	"bytes"
	"encoding/json"
	"io/fs"
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	_ "github.com/geocoris/geocoris/internal/testkit" // knows -fields
	"github.com/geocoris/geocoris/internal/web/call"
	"github.com/geocoris/geocoris/testdata/demo"
)

func given(t testing.TB, role call.Role, name string) call.Given {
	t.Helper()
	content, err := fs.ReadFile(demo.Files(), name)
	require.NoError(t, err)
	return call.Given{Role: role, Name: name, Content: content}
}

// asked is the reply to a call with the demo's boundary and counts, its facts as a page
// gets them.
func asked(t testing.TB, do, settings string, files ...call.Given) (reply call.Reply, facts map[string]any) {
	t.Helper()
	reply = call.Answer(t.Context(), call.Call{Do: do, Settings: json.RawMessage(settings), Files: files})
	text, err := json.Marshal(reply)
	require.NoError(t, err)
	var read struct{ Facts map[string]any }
	require.NoError(t, json.Unmarshal(text, &read))
	return reply, read.Facts
}

func content(t testing.TB, reply call.Reply, name string) []byte {
	t.Helper()
	for _, f := range reply.Files {
		if f.Name == name {
			return f.Content
		}
	}
	require.Fail(t, "no file is called "+name)
	return nil
}

// The zones of a page are those of the command line, byte by byte, here and under
// WebAssembly: CI keeps those of the machine and holds the others against them.
func TestZonesAreTheSameOnAPage(t *testing.T) {
	reply, _ := asked(t, "map", `{}`, given(t, call.Boundary, "field.geojson"), given(t, call.Counts, "week2.csv"))
	require.Nil(t, reply.Error)
	zones := content(t, reply, "zones.geojson")

	if path := os.Getenv("GEOCORIS_KEEP_ZONES"); path != "" {
		require.NoError(t, os.WriteFile(path, zones, 0o644))
	}
	if path := os.Getenv("GEOCORIS_HOLD_ZONES"); path != "" {
		want, err := os.ReadFile(path)
		require.NoError(t, err)
		assert.True(t, bytes.Equal(want, zones), "the zones are not those of %s", path)
	}
}

func TestMapInFacts(t *testing.T) {
	reply, facts := asked(t, "map", `{"units":"metric"}`, given(t, call.Boundary, "field.geojson"), given(t, call.Counts, "week2.csv"))
	require.Nil(t, reply.Error)
	fields := facts["fields"].([]any)
	require.Len(t, fields, 2)
	pivot := fields[0].(map[string]any)
	assert.Equal(t, "Spray the red ground, 5.17 ha, by Saturday 18 July. If it is not sprayed by then, look again.", pivot["answer"])
	assert.Len(t, pivot["zones"], 3)
	assert.Len(t, pivot["stops"], 43)
	areas := pivot["areas_ha"].(map[string]any)
	assert.InDelta(t, pivot["area_ha"].(float64), areas["treat"].(float64)+areas["watch"].(float64)+areas["clear"].(float64), 0.001)
	for _, list := range []string{"notes", "problems", "cautions"} {
		assert.IsType(t, []any{}, facts[list], list)
	}
}

func TestWhatGoesWrongIsInTheReply(t *testing.T) {
	boundary, counts := given(t, call.Boundary, "field.geojson"), given(t, call.Counts, "week2.csv")
	for name, c := range map[string]struct {
		do, settings string
		files        []call.Given
		want, hint   string
	}{
		"an unknown call":     {"spray", `{}`, nil, `nothing is called "spray"`, ""},
		"no boundary":         {"map", `{}`, []call.Given{counts}, "map: 0 files of boundary came along, want one", ""},
		"no counts":           {"map", `{}`, []call.Given{boundary}, "map: no file of counts came along", ""},
		"an unknown setting":  {"map", `{"colour":"red"}`, []call.Given{boundary, counts}, `settings of map: json: unknown field "colour"`, ""},
		"a file of no kind":   {"fields", `{}`, []call.Given{{Role: call.Boundary, Name: "x.txt", Content: []byte("hello")}}, "", "?"},
		"pictures":            {"map", `{"write":["map.png"]}`, []call.Given{boundary, counts}, "--write map.png: this program draws no pictures", ""},
		"two corners":         {"draw", `{"corners":[[1,2],[3,4]]}`, nil, "2 corners make no field", "walk on and tap at least three"},
		"a centre alone":      {"draw", `{"centre":[1,2]}`, nil, "a circle wants its centre and one place on its edge, and no corners", ""},
		"a circle too small":  {"draw", `{"centre":[1,2],"edge":[1,2]}`, nil, "the edge is 0 m from the centre: want 5 to 2000 m", "?"},
		"two things for JSON": {"rules", `{} {}`, nil, "settings of rules: want one object", ""},
	} {
		reply, _ := asked(t, c.do, c.settings, c.files...)
		if !assert.NotNil(t, reply.Error, name) {
			continue
		}
		if c.want != "" {
			assert.Equal(t, c.want, reply.Error.Message, name)
		}
		if c.hint == "?" {
			assert.NotEmpty(t, reply.Error.Hint, name)
		} else {
			assert.Equal(t, c.hint, reply.Error.Hint, name)
		}
		assert.Empty(t, reply.Files, name)
	}
}
