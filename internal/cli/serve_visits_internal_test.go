//go:build !js

package cli

import (
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/web/call"
)

// Where the answer asks whether counts are of one visit or of two, the page takes the answer, and
// the command shown says the same.
func TestTheLaptopAsksForOneVisitOrTwo(t *testing.T) {
	inDemo(t)
	p := newLaptop(t, "", 1366)
	p.drop("week1.csv", "field.geojson", "week2.csv")
	p.pressed("#go-answer")
	p.Await(`document.querySelectorAll("#which-visit").length === 1`)
	assert.Contains(t, p.Text(`document.getElementById("sentence").textContent`), "one visit, or two? if it is one walk that was finished later, say so here; if two, keep the rows of one alone; Weeks compares both")
	assert.NotContains(t, p.Text(`document.getElementById("sentence").textContent`), "--one-visit", "a page has no flags")
	assert.Equal(t, "0", p.Text(`document.querySelectorAll("#which-visit :checked").length`), "nothing is presumed")
	p.looks("which-visit")

	p.TabTo("#one-visit")
	p.Key("Space")
	p.Await(`document.querySelector("#map svg") !== null && document.querySelector("#command pre").textContent.includes("--one-visit")`)
	assert.Equal(t, "one-visit", p.Text(`document.activeElement.id`), "who works by keyboard stays where they are")
	runsLine(t, p.Text(`document.querySelector("#command pre").textContent`))
	reply, _ := answered(t, "map", `{"one-visit":true}`, brought(t, "boundary:field.geojson", "counts:week1.csv", "counts:week2.csv")...)
	assertSame(t, "out", reply)

	// It can be taken back.
	p.Key("Space")
	p.Await(`document.querySelector("#map svg") === null && document.getElementById("sentence").textContent.includes("one visit, or two?")`)
	p.quiet()
}

// A column of both angles whose order nothing tells is asked for, and no order is proposed.
func TestTheLaptopAsksWhichAngleIsFirst(t *testing.T) {
	const table = "stop,gps,count,leaves\nA,\"44.5, 8.25\",4,10\nB,\"44.501, 8.25\",7,10\n"
	look := func(settings string) map[string]any {
		_, facts := answered(t, "look", settings, call.Given{Name: "walk.csv", Content: []byte(table)})
		return facts["files"].([]any)[0].(map[string]any)
	}
	open := look(`{}`)
	assert.Equal(t, "counts", open["role"])
	assert.Equal(t, []any{"stop", "gps", "count", "leaves"}, open["columns"], "to say which is which")
	assert.Contains(t, open["wrong"], "nothing tells which of the two is the latitude")
	assert.NotContains(t, open["wrong"], "--map \"", "the page would choose it")
	assert.Empty(t, look(`{"map":["gps=longitude_latitude"]}`)["wrong"])
}

// The question comes with the setting that answers it; another error with none.
func TestTheQuestionNamesItsSetting(t *testing.T) {
	inDemo(t)
	failed := func(settings string, files ...string) (message, setting string) {
		reply := call.Desk{Version: version()}.Answer(t.Context(), call.Call{Do: "map", Settings: json.RawMessage(settings), Files: brought(t, files...)})
		require.NotNil(t, reply.Error)
		return reply.Error.Message, reply.Error.Setting
	}
	message, setting := failed(`{}`, "boundary:field.geojson", "counts:week1.csv", "counts:week2.csv")
	assert.Contains(t, message, "one visit, or two?")
	assert.Equal(t, "one-visit", setting)
	_, setting = failed(`{}`, "boundary:field.geojson", "counts:field.geojson")
	assert.Empty(t, setting)
}
