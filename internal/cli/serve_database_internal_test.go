package cli

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/testkit"
	"github.com/geocoris/geocoris/internal/web/call"
)

// The page over a season in a database keeps, lists, shows and compares as its commands
// do, and shows no password.
func TestThePageOverADatabase(t *testing.T) {
	server := testkit.StartPostgres(t)
	inDemo(t)
	folder, err := openDesk(".")
	require.NoError(t, err)
	t.Cleanup(func() { folder.root.Close() })
	name := server.Database(t)
	folder.season = strings.Replace(server.Address("postgres", name), "@", ":s3cret@", 1)
	desk := call.Desk{Version: version(), Folder: folder, Seasons: seasonFiles{}}
	reply := desk.Answer(t.Context(), call.Call{Do: "season", Settings: json.RawMessage(`{}`)})
	require.NotNil(t, reply.Error)
	assert.Equal(t, name+": is empty, no season yet", reply.Error.Message)

	for n, week := range []string{"week1.csv", "week2.csv"} {
		_, facts := factsOf(t, desk, "keep", `{}`, brought(t, "boundary:field.geojson", "counts:"+week)...)
		assert.Equal(t, []any{float64(n + 1)}, facts["visits"])
		var out, errs bytes.Buffer
		assert.Equal(t, 1, Run(t.Context(), words(t, facts["command"].(string))[1:], Streams{Out: &out, Err: &errs}))
		assert.Contains(t, errs.String(), name+": the season holds these counts with these settings already, as visit")
	}
	_, facts := factsOf(t, desk, "season", `{}`)
	assert.Len(t, facts["visits"], 2)
	assert.Len(t, facts["fields"], 2)
	reply, weeks := factsOf(t, desk, "weeks", `{}`)
	runsLine(t, weeks["command"].(string))
	assertSame(t, "change", reply)
	text, err := json.Marshal([]any{facts, weeks, reply})
	require.NoError(t, err)
	assert.NotContains(t, string(text), "s3cret")
}
