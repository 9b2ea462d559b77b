package cli

import (
	"bytes"
	"context"
	"encoding/json"
	"io"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/testkit"
	"github.com/geocoris/geocoris/internal/web/call"
	"github.com/geocoris/geocoris/testdata/demo"
)

// inDemo works in a folder with the demo's files.
func inDemo(t *testing.T) {
	t.Helper()
	t.Chdir(t.TempDir())
	require.NoError(t, os.CopyFS(".", demo.Files()))
}

// brought are files of the folder as the page sends them.
func brought(t *testing.T, files ...string) (all []call.Given) {
	t.Helper()
	for _, f := range files {
		role, name, _ := strings.Cut(f, ":")
		content, err := os.ReadFile(name)
		require.NoError(t, err)
		all = append(all, call.Given{Role: call.Role(role), Name: name, Content: content})
	}
	return all
}

// remembered is by all tests together, as by a server that runs all day.
var remembered = call.NewMemory()

// answered is what the page gets, its facts as JSON has them.
func answered(t *testing.T, do, settings string, files ...call.Given) (call.Reply, map[string]any) {
	t.Helper()
	reply := call.Desk{Version: version(), Seasons: seasonFiles{}, Memory: remembered}.Answer(t.Context(), call.Call{Do: do, Settings: json.RawMessage(settings), Files: files})
	require.Nil(t, reply.Error)
	text, err := json.Marshal(reply.Facts)
	require.NoError(t, err)
	var facts map[string]any
	require.NoError(t, json.Unmarshal(text, &facts))
	return reply, facts
}

// words are those of a command line, as the shell parts them.
func words(t *testing.T, line string) []string {
	t.Helper()
	shell, err := exec.LookPath("sh")
	if err != nil {
		testkit.Missing(t, "sh")
	}
	said, err := exec.Command(shell, "-c", "printf '%s\\0' "+line).Output()
	require.NoError(t, err, line)
	return strings.Split(strings.TrimSuffix(string(said), "\x00"), "\x00")
}

// runsLine runs a command that the page shows.
func runsLine(t *testing.T, line string) {
	t.Helper()
	var out, errs bytes.Buffer
	args := words(t, line)
	require.Equal(t, "geocoris", args[0])
	require.Zero(t, Run(t.Context(), args[1:], Remembering(Streams{Out: &out, Err: &errs})), "%s: %s", line, errs.String())
}

// assertSame holds that a folder has the files of a reply, byte by byte, and no others.
func assertSame(t *testing.T, folder string, reply call.Reply) {
	t.Helper()
	entries, err := os.ReadDir(folder)
	require.NoError(t, err)
	var there, came []string
	for _, e := range entries {
		if !e.IsDir() {
			there = append(there, e.Name())
		}
	}
	for _, f := range reply.Files {
		came = append(came, f.Name)
		content, err := os.ReadFile(filepath.Join(folder, f.Name))
		if assert.NoError(t, err) {
			assert.True(t, bytes.Equal(content, f.Content), "%s is not what the command writes", f.Name)
		}
	}
	assert.ElementsMatch(t, there, came)
}

// The command that the page shows writes the files that the page has.
func TestThePageMapsAsItsCommandDoes(t *testing.T) {
	for name, settings := range map[string]string{
		"as it is":  `{}`,
		"by a rule": `{"rule":"sorghum-aphid-texas-mean","stage":"boot","units":"us"}`,
		"by levels": `{"treat-at":50,"watch-at":12.5,"margin":10,"inner":"hole"}`,
		"by money":  `{"cost":30,"price":0.2,"loss":1.5,"per":"acre","spot-control":0.8}`,
		"to print":  `{"write":["report","map.png","map.pdf"],"language":"es"}`,
		"otherwise": `{"min-area":0,"neighbors":"all","unnamed-stops":true,"fix":["swap","sign"],"utc-offset":"-5","date-order":"day-first"}`,
	} {
		t.Run(name, func(t *testing.T) {
			inDemo(t)
			require.NoError(t, os.Rename("field.geojson", "the field's $5.geojson"))
			reply, facts := answered(t, "map", settings, brought(t, "boundary:the field's $5.geojson", "counts:week2.csv")...)
			runsLine(t, facts["command"].(string))
			assertSame(t, "out", reply)
		})
	}
}

func TestThePageHandsOverAsItsCommandsDo(t *testing.T) {
	for name, settings := range map[string]string{
		"a swath":    `{"map":{},"job":{"swath":"24m"}}`,
		"everything": `{"map":{"units":"us"},"job":{"swath":"80ft","sections":12,"heading":12.5,"rate":"15gal/ac","tank":"600gal","product":["product A=3lb/ac","product B=1.5pt/ac"],"keep-off":["hives.geojson=50m"],"gate":["-101.6053,35.8925"],"speed":"8mph","lag":"1.5s","spray-on":"2026-07-17","growth":"0.5m","iso-version":3,"grid":"3m","units":"us"}}`,
	} {
		t.Run(name, func(t *testing.T) {
			inDemo(t)
			files := []string{"boundary:field.geojson", "counts:week2.csv"}
			if strings.Contains(settings, "hives") {
				hives := `{"type":"FeatureCollection","features":[{"type":"Feature","properties":{"name":"hives"},"geometry":{"type":"Point","coordinates":[-101.6,35.9]}}]}`
				require.NoError(t, os.WriteFile("hives.geojson", []byte(hives), 0o600))
				files = append(files, "keep-off:hives.geojson")
			}
			reply, facts := answered(t, "handoff", settings, brought(t, files...)...)
			for _, line := range facts["commands"].([]any) {
				runsLine(t, line.(string))
			}
			assertSame(t, "job", reply)
		})
	}
}

func TestThePageChecksAsItsCommandDoes(t *testing.T) {
	inDemo(t)
	reply, facts := answered(t, "check", `{"fix":["swap"]}`, brought(t, "boundary:field.geojson", "counts:week3.csv")...)
	runsLine(t, facts["command"].(string))
	assertSame(t, "checked", reply)
}

// inDeskSeason is a folder with a season of the demo's first two weeks and a spray, and the
// page over it.
func inDeskSeason(t *testing.T) call.Desk {
	t.Helper()
	inDemo(t)
	for _, line := range []string{"geocoris season add season.gpkg week1.csv --field field.geojson", "geocoris season add season.gpkg week2.csv --field field.geojson --treat-at 50"} {
		runsLine(t, line)
	}
	folder, err := openDesk(".")
	require.NoError(t, err)
	t.Cleanup(func() { folder.root.Close() })
	return call.Desk{Version: version(), Folder: folder, Seasons: seasonFiles{}, Memory: call.NewMemory()}
}

func factsOf(t *testing.T, desk call.Desk, do, settings string, files ...call.Given) (call.Reply, map[string]any) {
	t.Helper()
	reply := desk.Answer(t.Context(), call.Call{Do: do, Settings: json.RawMessage(settings), Files: files})
	require.Nil(t, reply.Error)
	text, err := json.Marshal(reply.Facts)
	require.NoError(t, err)
	var facts map[string]any
	require.NoError(t, json.Unmarshal(text, &facts))
	return reply, facts
}

func TestThePageComparesAsItsCommandDoes(t *testing.T) {
	desk := inDeskSeason(t)
	reply, facts := factsOf(t, desk, "weeks", `{"units":"us"}`)
	runsLine(t, facts["command"].(string))
	assertSame(t, "change", reply)

	// One field alone, and a season that was brought, say the same.
	one := facts["fields"].([]any)[1].(map[string]any)
	content, err := os.ReadFile("season.gpkg")
	require.NoError(t, err)
	settings := `{"units":"us","field":"` + one["name"].(string) + `"}`
	_, alone := factsOf(t, desk, "weeks", settings)
	assert.Equal(t, []any{one}, alone["fields"])
	desk.Folder = nil
	_, alone = factsOf(t, desk, "weeks", settings, call.Given{Role: call.Season, Name: "s.gpkg", Content: content})
	assert.Equal(t, []any{one}, alone["fields"])
}

// A morning that the page kept is the one that the command keeps: it is refused as known.
func TestThePageKeepsAsItsCommandDoes(t *testing.T) {
	desk := inDeskSeason(t)
	_, facts := factsOf(t, desk, "keep", `{"units":"us","treat-at":45,"fix":["swap"]}`, brought(t, "boundary:field.geojson", "counts:week3.csv")...)
	assert.Equal(t, []any{3.0}, facts["visits"])
	var out, errs bytes.Buffer
	line := facts["command"].(string)
	assert.Equal(t, 1, Run(t.Context(), words(t, line)[1:], Streams{Out: &out, Err: &errs}))
	assert.Contains(t, errs.String(), "the season holds these counts with these settings already, as visit 3", line)
}

// A morning that was corrected after it was kept does not spoil the season: the second of
// the day is refused, and takes the place of the first where that is asked for.
func TestASeasonHoldsADayOnce(t *testing.T) {
	desk := inDeskSeason(t)
	morning := brought(t, "boundary:field.geojson", "counts:week2.csv")
	reply := desk.Answer(t.Context(), call.Call{Do: "keep", Settings: json.RawMessage(`{"treat-at":60}`), Files: morning})
	require.NotNil(t, reply.Error)
	assert.Contains(t, reply.Error.Message, "season.gpkg: the season holds counts of ")
	assert.Contains(t, reply.Error.Message, " on 2026-07-15 already, as visit 2")
	assert.Contains(t, reply.Error.Hint, "--replace")
	_, facts := factsOf(t, desk, "season", `{}`)
	assert.Len(t, facts["visits"], 2)
	_, _ = factsOf(t, desk, "weeks", `{}`)

	var out, errs bytes.Buffer
	add := []string{"season", "add", "season.gpkg", "week2.csv", "--field", "field.geojson", "--treat-at", "60"}
	assert.Equal(t, 1, Run(t.Context(), add, Streams{Out: &out, Err: &errs}))
	assert.Contains(t, errs.String(), "already, as visit 2")
	assert.Contains(t, errs.String(), "--replace")
	errs.Reset()
	require.Zero(t, Run(t.Context(), append(add, "--replace"), Streams{Out: &out, Err: &errs}), errs.String())
	assert.Contains(t, errs.String(), "note: visit 2 was replaced, as asked")
	_, facts = factsOf(t, desk, "season", `{}`)
	assert.Len(t, facts["visits"], 2)
	_, _ = factsOf(t, desk, "weeks", `{}`)
}

// The season's list is there at once, worst first, and each answer is that of the command.
func TestThePageShowsTheSeason(t *testing.T) {
	desk := inDeskSeason(t)
	_, facts := factsOf(t, desk, "season", `{}`)
	fields := facts["fields"].([]any)
	require.Len(t, fields, 2)
	pivot := fields[0].(map[string]any)
	assert.Equal(t, "Pivot", pivot["name"], "it has the red ground")
	cells := pivot["cells"].([]any)
	require.Len(t, cells, 2)
	assert.Equal(t, 43.0, cells[1].(map[string]any)["stops"])
	for _, f := range fields {
		name := f.(map[string]any)["name"].(string)
		_, shown := factsOf(t, desk, "visit", `{"units":"us","visit":2,"field":"`+name+`"}`)
		answer := shown["answer"].(map[string]any)["answer"].(string)
		var out, errs bytes.Buffer
		require.Zero(t, Run(t.Context(), append(words(t, shown["command"].(string))[1:], "--units", "us"), Remembering(Streams{Out: &out, Err: &errs})), errs.String())
		assert.Contains(t, strings.Join(strings.Fields(out.String()), " "), answer)
	}
	reply := desk.Answer(t.Context(), call.Call{Do: "visit", Settings: json.RawMessage(`{"visit":2,"field":"nowhere"}`)})
	require.NotNil(t, reply.Error)
}

// The folder gives what lies in it, and nothing else.
func TestThePageSeesItsFolderAlone(t *testing.T) {
	inDemo(t)
	require.NoError(t, os.Mkdir("in", 0o700))
	for name, text := range map[string]string{"secret.csv": "x", "in/a.csv": "a", "in/notes.exe": "n", "in/b.KML": "b"} {
		require.NoError(t, os.WriteFile(name, []byte(text), 0o600))
	}
	require.NoError(t, os.Symlink("../secret.csv", "in/link.csv"))
	folder, err := openDesk("in")
	require.NoError(t, err)
	defer folder.root.Close()
	all, err := folder.List()
	require.NoError(t, err)
	assert.Equal(t, []call.Lying{{Name: "a.csv", Bytes: 1}, {Name: "b.KML", Bytes: 1}}, all)
	from, err := folder.Load("a.csv")
	require.NoError(t, err)
	assert.Equal(t, "a", string(from.Content))
	for _, name := range []string{"../secret.csv", "link.csv", "..", "", "/etc/hostname", `..\secret.csv`} {
		_, err := folder.Load(name)
		assert.Error(t, err, name)
	}
	_, err = openDesk("nowhere")
	assert.Error(t, err)
}

// A season that is a way out of the folder is none of it.
func TestThePageKeepsInItsFolderAlone(t *testing.T) {
	desk := inDeskSeason(t)
	require.NoError(t, os.Mkdir("in", 0o700))
	before, err := os.ReadFile("season.gpkg")
	require.NoError(t, err)
	require.NoError(t, os.Symlink("../season.gpkg", "in/season.gpkg"))
	folder, err := openDesk("in")
	require.NoError(t, err)
	defer folder.root.Close()
	desk.Folder = folder
	for _, do := range []string{"keep", "season", "weeks"} {
		reply := desk.Answer(t.Context(), call.Call{Do: do, Settings: json.RawMessage(`{}`), Files: brought(t, "boundary:field.geojson", "counts:week3.csv")})
		if assert.NotNil(t, reply.Error, do) {
			assert.Contains(t, reply.Error.Message, "season.gpkg", do)
			assert.Contains(t, reply.Error.Message, "leads out of the folder", do)
		}
	}
	after, err := os.ReadFile("season.gpkg")
	require.NoError(t, err)
	assert.True(t, bytes.Equal(before, after), "nothing was written there")
	_, facts := factsOf(t, desk, "folder", `{}`)
	assert.Empty(t, facts["season"])
}

// serve prints its address, shows the page, and ends with its context as if all was done.
func TestServeEndsCleanly(t *testing.T) {
	inDemo(t)
	ctx, cancel := context.WithCancel(t.Context())
	defer cancel()
	read, written := io.Pipe()
	code := make(chan int, 1)
	var errs bytes.Buffer
	go func() { code <- Run(ctx, []string{"serve", ".", "--no-open"}, Streams{Out: written, Err: &errs}) }()
	said := make([]byte, 200)
	n, err := read.Read(said)
	require.NoError(t, err)
	go func() { _, _ = io.Copy(io.Discard, read) }()
	address := strings.TrimPrefix(strings.SplitN(string(said[:n]), "\n", 2)[0], "The page: ")
	got, err := http.Get(address)
	require.NoError(t, err)
	got.Body.Close()
	assert.Equal(t, http.StatusOK, got.StatusCode)
	cancel()
	select {
	case c := <-code:
		assert.Zero(t, c, errs.String())
	case <-time.After(time.Minute):
		assert.Fail(t, "it never ended")
	}
}
