package cli

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/web/call"
)

// aJob is the page's hand-off of the second week, its folders written by the commands
// shown, and what a record of it goes by.
func aJob(t *testing.T, job string) (facts map[string]any, with []call.Given) {
	t.Helper()
	_, facts = answered(t, "handoff", `{"map":{},"job":`+job+`}`, brought(t, "boundary:field.geojson", "counts:week2.csv")...)
	for _, line := range facts["commands"].([]any) {
		runsLine(t, line.(string))
	}
	for role, name := range map[string]string{"summary": "out/summary.json", "ground": "job/swaths.geojson"} {
		one := brought(t, role+":"+name)[0]
		one.Name = filepath.Base(name)
		with = append(with, one)
	}
	return facts, with
}

const entered = `{"date":"2026-07-17","field":"Pivot","area":"6.1ha","product":["product A (0000)=12 kg","product B=3 L"],"who":"the applicator","wind":"2 m/s from \"SW\"","notes":"=1+1","ground":"x"`

// A record of the page is that of its command, byte by byte.
func TestThePageRecordsAsItsCommandDoes(t *testing.T) {
	inDemo(t)
	_, with := aJob(t, `{"swath":"24m"}`)
	reply, facts := answered(t, "record", entered+`}`, with...)
	require.Len(t, reply.Files, 3)
	runsLine(t, facts["command"].(string))
	for _, f := range reply.Files {
		content, err := os.ReadFile(filepath.Join("out", f.Name))
		require.NoError(t, err)
		assert.Equal(t, string(content), string(f.Content), f.Name)
	}
}

// Where the page has a folder the record goes there, beside those that are there already.
func TestThePageKeepsARecordInItsFolder(t *testing.T) {
	inDemo(t)
	_, with := aJob(t, `{"swath":"24m"}`)
	for _, name := range []string{"page", "line"} {
		require.NoError(t, os.Mkdir(name, 0o700))
	}
	folder, err := openDesk("page")
	require.NoError(t, err)
	defer folder.root.Close()
	desk := call.Desk{Folder: folder, Seasons: seasonFiles{}}
	var lines []string
	for _, more := range []string{`,"keep":true}`, `,"start":"6:40","keep":true}`} {
		_, facts := factsOf(t, desk, "record", entered+more, with...)
		assert.Equal(t, "page", facts["folder"])
		lines = append(lines, facts["command"].(string))
	}
	before := filesIn(t, "page")
	require.Len(t, before, 5, "two records, the ground of each, one table")
	reply := desk.Answer(t.Context(), call.Call{Do: "record", Settings: json.RawMessage(entered + `,"keep":true}`), Files: with})
	require.NotNil(t, reply.Error)
	assert.Contains(t, reply.Error.Message, "this record stands in the table already")
	assert.Equal(t, before, filesIn(t, "page"), "the same one twice is refused, and nothing written")
	_, err = folder.List()
	require.NoError(t, err)
	_, err = folder.Load("applied.csv")
	require.NoError(t, err, "the folder is still the one that the page holds")

	require.NoError(t, os.Rename("job", "line/job"))
	t.Chdir("line")
	for _, line := range lines {
		runsLine(t, line)
	}
	require.NoError(t, os.RemoveAll("job"))
	assert.Equal(t, before, filesIn(t, "."))
}

// Nothing is written through a link out of the folder.
func TestARecordStaysInItsFolder(t *testing.T) {
	inDemo(t)
	_, with := aJob(t, `{"swath":"24m"}`)
	require.NoError(t, os.Mkdir("page", 0o700))
	const elsewhere = "date,start,end,field,area,area_unit,products,carrier,wind,weather,who,licence,notes\n"
	require.NoError(t, os.WriteFile("elsewhere.csv", []byte(elsewhere), 0o600))
	require.NoError(t, os.Symlink("../elsewhere.csv", "page/applied.csv"))
	folder, err := openDesk("page")
	require.NoError(t, err)
	defer folder.root.Close()
	reply := call.Desk{Folder: folder, Seasons: seasonFiles{}}.Answer(t.Context(), call.Call{Do: "record", Settings: json.RawMessage(entered + `,"keep":true}`), Files: with})
	require.NotNil(t, reply.Error)
	assert.Equal(t, "applied.csv is no file", reply.Error.Message)
	after, err := os.ReadFile("elsewhere.csv")
	require.NoError(t, err)
	assert.Equal(t, elsewhere, string(after))
	assert.Len(t, filesIn(t, "page"), 1)
}

// filesIn are the files of a folder by their names.
func filesIn(t *testing.T, path string) map[string]string {
	t.Helper()
	entries, err := os.ReadDir(path)
	require.NoError(t, err)
	all := map[string]string{}
	for _, e := range entries {
		content, err := os.ReadFile(filepath.Join(path, e.Name()))
		require.NoError(t, err)
		all[e.Name()] = string(content)
	}
	return all
}

// A record begins with what the job planned, and with nothing that nobody typed.
func TestARecordBeginsWithTheJob(t *testing.T) {
	inDemo(t)
	facts, _ := aJob(t, `{"swath":"24m"}`)
	bare := facts["planned"].([]any)
	require.Len(t, bare, 1)
	first := bare[0].(map[string]any)
	assert.Equal(t, "Pivot", first["field"])
	assert.Regexp(t, `^\d+\.\d+ha$`, first["area"])
	delete(first, "field")
	delete(first, "area")
	for name, value := range first {
		assert.Empty(t, value, name)
	}

	facts, with := aJob(t, `{"swath":"80ft","rate":"15gal/ac","spray-on":"2026-07-17","product":["product A=3lb/ac"],"units":"us"}`)
	full := facts["planned"].([]any)[0].(map[string]any)
	assert.Equal(t, "2026-07-17", full["date"])
	assert.Regexp(t, `^\d+(\.\d+)?ac$`, full["area"])
	assert.Regexp(t, `^\d+ gal$`, full["carrier"])
	assert.Regexp(t, `^product A=\d+(\.\d+)? lb$`, full["product"].([]any)[0])
	assert.Empty(t, full["who"])
	full["who"] = "the applicator"
	settings, err := json.Marshal(full)
	require.NoError(t, err)
	reply, _ := answered(t, "record", string(settings), with...)
	assert.True(t, bytes.Contains(reply.Files[0].Content, []byte(`"product": "product A"`)), "what it begins with can be read")
}
