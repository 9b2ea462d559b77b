package call_test

import (
	"encoding/json"
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/web/call"
)

// A pivot of 400 m from its centre to its edge is π·400² m², whatever its corners.
func TestDrawACentrePivot(t *testing.T) {
	const lat, radius = 35.9, 400.0
	east := radius / (111_412.84*math.Cos(lat*math.Pi/180) - 93.5*math.Cos(3*lat*math.Pi/180)) // degrees, of the WGS 84 ellipsoid by its series
	reply, facts := asked(t, "draw", fmt.Sprintf(`{"name":"Pivot","centre":[-101.6,%v],"edge":[%v,%v]}`, lat, -101.6+east, lat))
	require.Nil(t, reply.Error)
	assert.InDelta(t, radius, facts["radius_m"].(float64), 0.5)
	field := facts["fields"].([]any)[0].(map[string]any)
	assert.Equal(t, "Pivot", field["name"])
	assert.InDelta(t, math.Pi*radius*radius/1e4, field["area_ha"].(float64), 0.15)

	boundary := call.Given{Role: call.Boundary, Name: "field.geojson", Content: content(t, reply, "field.geojson")}
	_, again := asked(t, "fields", `{}`, boundary)
	assert.Equal(t, facts["fields"], again["fields"], "the file is the field that was shown")
}

func TestDrawCorners(t *testing.T) {
	reply, facts := asked(t, "draw", `{"name":"Block","corners":[[-101.60,35.90],[-101.59,35.90],[-101.59,35.91],[-101.60,35.91]]}`)
	require.Nil(t, reply.Error)
	assert.Empty(t, facts["notes"])
	assert.InDelta(t, 100.2, facts["fields"].([]any)[0].(map[string]any)["area_ha"].(float64), 0.5)

	// Walked across one's own way: two triangles, which is said.
	reply, facts = asked(t, "draw", `{"name":"Bow","corners":[[-101.60,35.90],[-101.59,35.91],[-101.59,35.90],[-101.60,35.91]]}`)
	require.Nil(t, reply.Error)
	assert.NotEmpty(t, facts["notes"], "that the edge crosses itself")
	assert.InDelta(t, 50.1, facts["fields"].([]any)[0].(map[string]any)["area_ha"].(float64), 0.5)
}

func TestRulesSayHowTheyAreCounted(t *testing.T) {
	reply, facts := asked(t, "rules", `{"pest":"sorghum aphid"}`)
	require.Nil(t, reply.Error)
	assert.NotEmpty(t, facts["caution"])
	counted := map[string]string{}
	for _, r := range facts["rules"].([]any) {
		rule := r.(map[string]any)
		for _, b := range rule["bands"].([]any) {
			band := b.(map[string]any)
			for _, s := range band["stages"].([]any) {
				counted[rule["name"].(string)+" "+s.(string)] = band["counted"].(string)
			}
		}
	}
	assert.Equal(t, "number", counted["sorghum-aphid-mean-40 boot"])
	assert.Equal(t, "over", counted["sorghum-aphid-high-plains boot"])
	assert.Equal(t, "sign", counted["sorghum-aphid-high-plains dough"])
	assert.Equal(t, "none", counted["sorghum-aphid-high-plains black layer"])
}

func TestPlanInFacts(t *testing.T) {
	reply, facts := asked(t, "plan", `{"only":"Pivot","stops":12,"order":"spread","rule":"sorghum-aphid-mean-40","stage":"boot"}`, given(t, call.Boundary, "field.geojson"))
	require.Nil(t, reply.Error)
	require.Len(t, facts["stops"], 12)
	var file struct{ Features []json.RawMessage }
	require.NoError(t, json.Unmarshal(content(t, reply, "stops.geojson"), &file))
	assert.NotEmpty(t, file.Features)
}
