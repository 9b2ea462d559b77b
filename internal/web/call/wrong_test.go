package call_test

import (
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/web/call"
)

// Numbers that no phone can mean are refused in one clear line, not worked on.
func TestPlacesThatAreNoneAreRefused(t *testing.T) {
	boundary, counts := given(t, call.Boundary, "field.geojson"), given(t, call.Counts, "week2.csv")
	for name, c := range map[string]struct {
		do, settings, want string
		files              []call.Given
	}{
		"a walk from nowhere":   {"plan", `{"only":"Pivot","stops":5,"start":[500,500]}`, "start 500, 500: want longitude and latitude in degrees", []call.Given{boundary}},
		"a walk for nobody":     {"plan", `{"only":"Pivot","stops":201}`, "201 stops: want 1 to 200, as a page cannot stop the work on more", []call.Given{boundary}},
		"a phone with no fix":   {"plan", `{"only":"Pivot","stops":5,"start":[0,0]}`, "start 0, 0 is more than 100 km from field Pivot", []call.Given{boundary}},
		"a heading of no sense": {"plan", `{"only":"Pivot","stops":5,"heading":1e308}`, "a heading of 1e+308: want degrees from north, -360 to 360", []call.Given{boundary}},
		"a stop nowhere":        {"after", `{"only":"Pivot","last":[1e308,1]}`, "last 1e+308, 1: want longitude and latitude in degrees", []call.Given{boundary, counts}},
		"a stop far away":       {"after", `{"only":"Pivot","last":[0,0]}`, "last 0, 0 is more than 100 km from field Pivot", []call.Given{boundary, counts}},
		"an area below 0":       {"after", `{"only":"Pivot","area":-5}`, "area -5: want hectares, 0 to 100000", []call.Given{boundary, counts}},
		"an area of no field":   {"after", `{"only":"Pivot","area":1e308}`, "area 1e+308: want hectares, 0 to 100000", []call.Given{boundary, counts}},
		"two files of rules":    {"map", `{}`, "map: 2 files of rules came along, want one at most", []call.Given{boundary, counts, {Role: call.Rules, Name: "a.toml"}, {Role: call.Rules, Name: "b.toml"}}},
		"two observers":         {"after", `{"only":"Pivot"}`, "after: 2 files of observers came along, want one at most", []call.Given{boundary, counts, {Role: call.Observers, Name: "a.json"}, {Role: call.Observers, Name: "b.json"}}},
		"two rules for a plan":  {"plan", `{"only":"Pivot","stops":5,"rule":"own"}`, "plan: 2 files of rules came along, want one at most", []call.Given{boundary, {Role: call.Rules, Name: "a.toml"}, {Role: call.Rules, Name: "b.toml"}}},
		"an unknown setting":    {"after", `{"only":"Pivot","planned":2}`, `settings of after: json: unknown field "planned"`, []call.Given{boundary, counts}},
		"a text for a number":   {"map", `{"treat-at":"50"}`, "settings of map: treat-at: want a number, not a text", []call.Given{boundary, counts}},
	} {
		reply, _ := asked(t, c.do, c.settings, c.files...)
		if assert.NotNil(t, reply.Error, name) {
			assert.Equal(t, c.want, reply.Error.Message, name)
		}
	}
}

// A table of extra stops alone says nothing of a field's mean.
func TestExtraStopsAloneAreNotEnough(t *testing.T) {
	w := newWalker()
	for i, at := range planned(t, 14) {
		w.leaves(string(rune('a'+i)), at, 90)
	}
	for i := range w.rows[1:] {
		w.rows[i+1] = strings.Replace(w.rows[i+1], ",planned,", ",extra,", 1)
	}
	reply, facts := asked(t, "after", `{"only":"Pivot"}`, given(t, call.Boundary, "field.geojson"), w.file())
	require.Nil(t, reply.Error)
	assert.Equal(t, "keep_going", facts["state"])
	assert.Nil(t, facts["answer"])
	assert.Equal(t, []any{"Only extra stops were counted, where it was hot: the planned ones tell what the field holds."}, facts["says"])
}

// The worth of a stop goes by the prices of the answer: where a treatment pays at 400 a
// leaf alone there is less to be lost.
func TestStopsAreWeighedByThePricesGiven(t *testing.T) {
	w := newWalker()
	for i, at := range planned(t, 14) {
		w.leaves(strconv.Itoa(i+1), at, []int{0, 2, 90, 4, 70, 3, 1, 60, 2, 0, 40, 5, 1, 2}[i])
	}
	more := func(settings string) any {
		reply, facts := asked(t, "after", settings, given(t, call.Boundary, "field.geojson"), w.file())
		require.Nil(t, reply.Error)
		return facts["more"]
	}
	bare := more(`{"only":"Pivot"}`)
	priced := more(`{"only":"Pivot","cost":20,"price":1,"loss":0.05}`)
	assert.NotEqual(t, bare, priced)
}
