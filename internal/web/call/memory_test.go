package call_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/testkit"
	"github.com/geocoris/geocoris/internal/web/call"
)

// remembering are calls that have much in common: each differs from others in what a result
// might be found by.
func remembering(t *testing.T) (all []call.Call) {
	t.Helper()
	boundary, counts, other := given(t, call.Boundary, "field.geojson"), given(t, call.Counts, "week2.csv"), given(t, call.Counts, "week3.csv")
	renamed, nudged, more := other, boundary, counts
	renamed.Name = "week2.csv"
	nudged.Content = bytes.Replace(boundary.Content, []byte("-101.595"), []byte("-101.5951"), 1)
	require.NotEqual(t, boundary.Content, nudged.Content)
	lines := bytes.SplitAfter(counts.Content, []byte("\n"))
	more.Content = bytes.Join(lines[:len(lines)-3], nil)
	changed := counts // one figure, and no place
	changed.Content = bytes.Replace(counts.Content, []byte(",9,10,"), []byte(",19,10,"), 1)
	require.NotEqual(t, counts.Content, changed.Content)
	add := func(do, settings string, files ...call.Given) {
		if !strings.Contains(settings, `"cell"`) { // wider than it would be: the same work at fewer nodes
			settings = strings.Replace(`{"cell":12,`+settings[1:], ",}", "}", 1)
		}
		all = append(all, call.Call{Do: do, Settings: json.RawMessage(settings), Files: files})
	}
	for _, settings := range []string{
		`{}`, `{"treat-at":39}`, `{"treat-at":41,"watch-at":20}`, `{"treat-at":40,"watch-at":5}`, `{"doubling":2}`, `{"next-visit":3}`,
		`{"rule":"sorghum-aphid-mean-40","stage":"boot"}`, `{"rule":"sorghum-aphid-texas-mean","stage":"boot"}`, `{"rule":"sorghum-aphid-texas-mean","stage":"dough"}`,
		`{"rule":"sorghum-aphid-high-plains","stage":"pre-boot"}`, `{"rule":"sorghum-aphid-high-plains","stage":"boot"}`, `{"rule":"sorghum-aphid-high-plains","stage":"bloom to milk"}`,
		`{"surface":"chance"}`, `{"surface":"loss"}`, `{"catch":0.9}`, `{"treat-at":39,"catch":0.9}`, `{"cell":8}`, `{"margin":5}`, `{"power":3}`, `{"neighbors":4}`, `{"tune":true}`, `{"radius":150}`,
		`{"spray-in":3}`, `{"cost":20,"price":5,"loss":0.3}`, `{"language":"es"}`, `{"units":"us"}`,
	} {
		add("map", settings, boundary, counts)
	}
	for _, c := range [][]call.Given{{boundary, other}, {boundary, renamed}, {nudged, counts}, {boundary, more}, {boundary, changed}, {boundary, counts, other}} {
		add("map", `{}`, c...)
		add("map", `{"treat-at":39}`, c...)
	}
	add("after", `{}`, boundary, counts)
	add("after", `{"treat-at":39}`, boundary, counts)
	return all
}

// said is all that a page gets of a call.
func said(t testing.TB, c call.Call) string {
	t.Helper()
	reply := call.Answer(t.Context(), c)
	text, err := json.Marshal(reply)
	require.NoError(t, err)
	var b bytes.Buffer
	fmt.Fprintf(&b, "%s\n", text)
	for _, f := range reply.Files {
		fmt.Fprintf(&b, "%s\n%s\n", f.Name, f.Content)
	}
	return b.String()
}

// Whatever was asked before, in whatever order, an answer is that of an engine which
// remembers nothing, to the byte.
func TestWhatIsRememberedChangesNoByte(t *testing.T) {
	calls := remembering(t)
	calls = calls[:testkit.Few(len(calls), min(8, len(calls)))]
	fresh := make([]string, len(calls))
	for i, c := range calls {
		fresh[i] = said(t, c)
	}
	lots := rand.New(rand.NewPCG(1996, 7))
	memory, order := call.NewMemory(), []int{}
	for i := range calls { // each after the one that it differs from in one thing, and after any
		order = append(order, 0, i)
	}
	for range testkit.Few(30, 10) {
		order = append(order, lots.IntN(len(calls)))
	}
	for k, i := range order {
		c := calls[i]
		c.Memory = memory
		require.True(t, fresh[i] == said(t, c), "%s %s of %d files, after %s", c.Do, c.Settings, len(c.Files), calls[order[max(0, k-1)]].Settings)
	}
}

// Several may ask at once: a laptop's page does.
func TestWhatIsRememberedIsSharedAtOnce(t *testing.T) {
	calls := remembering(t)[:6]
	memory, done := call.NewMemory(), make(chan string)
	for range 2 {
		for _, c := range calls {
			c.Memory = memory
			go func() { done <- string(c.Settings) + said(t, c) }()
		}
	}
	found := map[string]int{}
	for range 2 * len(calls) {
		found[<-done]++
	}
	assert.Len(t, found, len(calls), "each said the same twice")
}
