package cli

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/web/call"
)

// savedSettings keeps the files of settings that the page offers, and runs the commands
// that take them.
func savedSettings(t *testing.T, facts map[string]any) {
	t.Helper()
	for _, f := range facts["settings"].([]any) {
		file := f.(map[string]any)
		require.NoError(t, os.WriteFile(file["name"].(string), []byte(file["text"].(string)), 0o600))
		runsLine(t, file["command"].(string))
	}
}

// withoutInput is run.json without the input of a name.
func withoutInput(t *testing.T, record []byte, name string) string {
	t.Helper()
	var all map[string]any
	require.NoError(t, json.Unmarshal(record, &all))
	inputs := all["inputs"].([]any)
	kept := slices.DeleteFunc(slices.Clone(inputs), func(in any) bool { return in.(map[string]any)["path"] == name })
	require.Len(t, kept, len(inputs)-1)
	all["inputs"] = kept
	text, err := json.Marshal(all)
	require.NoError(t, err)
	return string(text)
}

// assertSameBySettings holds that the folder of a map that read its settings from a file
// has the files of a reply, byte by byte, but that run.json names that file besides.
func assertSameBySettings(t *testing.T, folder string, reply call.Reply) {
	t.Helper()
	for i, f := range reply.Files {
		if f.Name != "run.json" {
			continue
		}
		path := filepath.Join(folder, f.Name)
		record, err := os.ReadFile(path)
		require.NoError(t, err)
		assert.JSONEq(t, string(f.Content), withoutInput(t, record, "map.toml"))
		reply.Files[i].Content = record
	}
	assertSame(t, folder, reply)
}

// The settings that the page saves give what the page gave. What names all inputs, as
// run.json, report and pictures do, names the file of settings besides.
func TestThePagesSettingsMapTheSame(t *testing.T) {
	for name, settings := range map[string]string{
		"as it is":  `{}`,
		"by a rule": `{"rule":"sorghum-aphid-texas-mean","stage":"boot","units":"us"}`,
		"by levels": `{"treat-at":50,"watch-at":12.5,"margin":10,"inner":"hole"}`,
		"by money":  `{"cost":30,"price":0.2,"loss":1.5,"per":"acre","spot-control":0.8}`,
		"one field": `{"language":"es","only":["Pivot"]}`,
		"otherwise": `{"min-area":0,"neighbors":"all","unnamed-stops":true,"fix":["swap","sign"],"utc-offset":"-5","date-order":"month-first","map":["x\"y'=z\\=notes"],"verdict":{"least-stops":9,"whole-share":0.8}}`,
	} {
		t.Run(name, func(t *testing.T) {
			inDemo(t)
			require.NoError(t, os.Rename("field.geojson", "the field's $5.geojson"))
			reply, facts := answered(t, "map", settings, brought(t, "boundary:the field's $5.geojson", "counts:week2.csv")...)
			savedSettings(t, facts)
			assertSameBySettings(t, "out", reply)
		})
	}
}

func TestThePagesSettingsHandOverTheSame(t *testing.T) {
	for name, settings := range map[string]string{
		"a swath":    `{"map":{},"job":{"swath":"24m"}}`,
		"everything": `{"map":{"units":"us"},"job":{"swath":"80ft","sections":12,"heading":12.5,"rate":"15gal/ac","tank":"600gal","product":["product A=3lb/ac","product \"B\"=1.5pt/ac"],"keep-off":["hives.geojson=50m"],"gate":["-101.6053,35.8925"],"speed":"8mph","lag":"1.5s","spray-on":"2026-07-17","growth":"0.5m","iso-version":3,"grid":"3m","units":"us","red-only":true}}`,
	} {
		t.Run(name, func(t *testing.T) {
			inDemo(t)
			hives := `{"type":"FeatureCollection","features":[{"type":"Feature","properties":{"name":"hives"},"geometry":{"type":"Point","coordinates":[-101.6,35.9]}}]}`
			require.NoError(t, os.WriteFile("hives.geojson", []byte(hives), 0o600))
			files := []string{"boundary:field.geojson", "counts:week2.csv"}
			if bytes.Contains([]byte(settings), []byte("hives")) {
				files = append(files, "keep-off:hives.geojson")
			}
			reply, facts := answered(t, "handoff", settings, brought(t, files...)...)
			savedSettings(t, facts)
			assertSame(t, "job", reply)
		})
	}
}
