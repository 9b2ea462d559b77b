package cli

import (
	"bytes"
	"encoding/json"
	"io"
	"net/http"
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
	assert.Empty(t, facts["notes"])
	server.Query(t, name, "INSERT INTO geocoris.records (geom, date, note, reentry_hours, sha256) SELECT geom, 'no day', '', 0, 'x' FROM geocoris.fields LIMIT 1")
	_, noted := factsOf(t, desk, "season", `{}`)
	assert.Equal(t, []any{name + `: treatment of "no day": it is not what was stored; left out`}, noted["notes"], "as season list says it")
	text, err := json.Marshal([]any{facts, weeks, reply})
	require.NoError(t, err)
	assert.NotContains(t, string(text), "s3cret")
}

// Map programs get of a season in a database what they get of its file, under a name that
// tells neither who is logged in nor how.
func TestADatabaseIsShownToMapPrograms(t *testing.T) {
	server := testkit.StartPostgres(t)
	inSeasonOfDemo(t)
	name := server.Database(t)
	at := strings.Replace(server.Address("postgres", name), "@", ":s3cret@", 1)
	runsLine(t, "geocoris season copy s.gpkg "+at)
	file := addressIn(t, showing(t, "--features", "s.gpkg")[0])
	printed := showing(t, "--features", at)
	assert.NotContains(t, strings.Join(printed, "\n"), "s3cret")
	base := addressIn(t, printed[0])
	for _, path := range []string{"", "conformance", "collections", "collections/fields/items", "collections/verdicts/items?datetime=2026-07-16/..",
		"collections/zones/items?limit=2", "collections/stops/items?bbox=-101.6,35.898,-101.598,35.901", "collections/stops/items/7", "collections/treatments"} {
		want := strings.ReplaceAll(gotten(t, file+path), file, base)
		got := strings.Replace(gotten(t, base+path), `"title":"`+name+`"`, `"title":"s"`, 1)
		assert.Equal(t, want, got, path)
	}
	assert.Contains(t, gotten(t, base+"collections/stops/items?bbox=-101.6,35.898,-101.598,35.901"), `"type":"Feature",`)
	assert.Contains(t, gotten(t, base+"collections/verdicts/items"), `"numberMatched":4`)

	var out, errs bytes.Buffer
	assert.Equal(t, 1, Run(t.Context(), []string{"serve", "--features", strings.Replace(at, "/"+name, "/none", 1)}, Streams{Out: &out, Err: &errs}))
	assert.Contains(t, errs.String(), "geocoris: none: there is no such database on the server\nhint: ")
	assert.Empty(t, out.String())
}

func gotten(t *testing.T, address string) string {
	t.Helper()
	answer, err := http.Get(address)
	require.NoError(t, err)
	defer answer.Body.Close()
	text, err := io.ReadAll(answer.Body)
	require.NoError(t, err)
	require.Equal(t, http.StatusOK, answer.StatusCode, "%s: %s", address, text)
	return string(text)
}
