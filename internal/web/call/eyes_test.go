package call_test

import (
	"fmt"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/web/call"
)

// lowEye are pairs of an observer who finds four of five insects on every leaf.
func lowEye(n int) call.Given {
	var b strings.Builder
	b.WriteString("observer,estimated,counted,first_guess,series,leaf\n")
	for i := range n {
		fmt.Fprintf(&b, "Scout  A,%d,%d,%d,1,%d\n", 4*(i+1), 5*(i+1), 3*(i+1), i+1)
	}
	return call.Given{Role: call.Pairs, Name: "pairs.csv", Content: []byte(b.String())}
}

func TestWhatPracticeTells(t *testing.T) {
	for n, corrects := range map[int]bool{9: false, 10: true, 14: true} {
		reply, facts := asked(t, "eyes", `{}`, lowEye(n))
		require.Nil(t, reply.Error)
		eye := facts["observers"].([]any)[0].(map[string]any)
		assert.Equal(t, map[string]any{"observer": "Scout  A", "pairs": float64(n), "found": 80.0, "corrects": corrects}, eye)
		assert.Contains(t, string(content(t, reply, "observers.json")), "geocoris observers 1")
	}
	reply, _ := asked(t, "eyes", `{}`)
	assert.Equal(t, "eyes: 0 files of pairs came along, want one", reply.Error.Message)
}

// Pairs correct the counts as the file does that calibrate makes of them: five for every
// four that were counted, on the map and after a stop.
func TestPairsCorrectAsCalibrateDoes(t *testing.T) {
	w := newWalker()
	for i, at := range planned(t, 12) {
		w.leaves(strconv.Itoa(i+1), at, 4*i)
	}
	boundary := given(t, call.Boundary, "field.geojson")
	reply, _ := asked(t, "eyes", `{}`, lowEye(14))
	file := call.Given{Role: call.Observers, Name: "observers.json", Content: content(t, reply, "observers.json")}
	_, raw := asked(t, "map", `{}`, boundary, w.file())
	byPairs, facts := asked(t, "map", `{}`, boundary, w.file(), lowEye(14))
	require.Nil(t, byPairs.Error)
	byFile, _ := asked(t, "map", `{}`, boundary, w.file(), file)
	require.Nil(t, byFile.Error)
	assert.Equal(t, string(content(t, byFile, "zones.geojson")), string(content(t, byPairs, "zones.geojson")))
	mean := func(facts map[string]any) float64 {
		return facts["fields"].([]any)[0].(map[string]any)["mean"].(float64)
	}
	assert.InDelta(t, 1.25*mean(raw), mean(facts), 1e-9)
	_, after := asked(t, "after", `{"only":"Pivot"}`, boundary, w.file(), lowEye(14))
	if answer, ok := after["answer"].(map[string]any); ok {
		assert.InDelta(t, 1.25*mean(raw), answer["mean"].(float64), 1e-9)
	}
	reply, _ = asked(t, "map", `{}`, boundary, w.file(), lowEye(14), file)
	assert.Equal(t, "map: files of observers and of pairs came along, want one of them", reply.Error.Message)
	reply, _ = asked(t, "map", `{}`, boundary, w.file(), call.Given{Role: call.Pairs, Name: "pairs.csv", Content: []byte("a,b\n")})
	assert.Contains(t, reply.Error.Message, "want columns observer, estimated, counted")
}
