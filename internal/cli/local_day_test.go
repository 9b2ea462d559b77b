package cli_test

import (
	"encoding/json"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo/geofile"
)

// lateWalk is the evening's walk at times that are of the 14th by the sun and by the
// clocks of the country, and of the 15th in UTC.
func lateWalk(t *testing.T) {
	walk := eveningWalk()
	text := "stop,longitude,latitude,count,leaves,time\n"
	for _, s := range walk {
		text += strings.Join([]string{s.name, degrees(s.lon), degrees(s.lat), "12", "10", "2026-07-15T04:30:00Z"}, ",") + "\n"
	}
	require.NoError(t, os.WriteFile("late.csv", []byte(text), 0o600))
	require.NoError(t, os.WriteFile("next.csv", []byte(strings.ReplaceAll(text, "2026-07-15T04:30:00Z", "2026-07-21")), 0o600))
	require.NoError(t, os.WriteFile("late.gpx", []byte(strings.NewReplacer("<time>2026-07-14T23", "<time>2026-07-15T04", "<time>2026-07-15T00", "<time>2026-07-15T04", "<time>2026-07-15T01", "<time>2026-07-15T04").Replace(string(waypoints(walk)))), 0o600))
}

// Every command that reads samples takes the offset, keeps it, and does without it.
func TestEveryCommandTakesTheOffset(t *testing.T) {
	const clocks, sun, utc = "2026-07-14", "2026-07-14", "2026-07-15"
	for offset, want := range map[string]string{"": sun, "-5": clocks, "0": utc} {
		inFolder(t)
		lateWalk(t)
		more := func(args ...string) []string {
			if offset == "" {
				return args
			}
			return append(args, "--utc-offset", offset)
		}
		date := func(args ...string) string {
			t.Helper()
			code, out, errs := run(t, args...)
			require.Zero(t, code, errs)
			return out
		}
		assert.Contains(t, date(more("check", "late.gpx", "--json")...), `"`+want+`"`)
		date(more("map", "late.gpx", "--field", "field.geojson", "--out", "out", "--quiet")...)
		assert.Contains(t, contents(t, "out")["zones.geojson"], `"date":"`+want+`"`)
		date(more("season", "add", "s.gpkg", "late.gpx", "--field", "field.geojson")...)
		assert.Contains(t, date("season", "list", "s.gpkg", "--json"), want)
		assert.NotContains(t, date("season", "list", "s.gpkg"), map[string]string{utc: clocks, clocks: utc}[want])
		date(more("compare", "next.csv", "late.gpx", "--field", "field.geojson", "--out", "a")...)
		assert.Contains(t, contents(t, "a")["compare.json"], `"`+want+`"`)
		// What a season and a folder keep stands in for the flag.
		date("compare", "s.gpkg", "next.csv", "--field", "field.geojson", "--out", "b")
		assert.Contains(t, contents(t, "b")["compare.json"], `"`+want+`"`)
		date("compare", "out", "next.csv", "--field", "field.geojson", "--out", "c")
		assert.Contains(t, contents(t, "c")["compare.json"], `"`+want+`"`)
	}
}

// A settings file may give the offset as a number or as text, and the flag goes before.
func TestTheOffsetInSettings(t *testing.T) {
	inFolder(t)
	lateWalk(t)
	for text, want := range map[string]string{"utc-offset = 0": `"+00:00"`, "utc-offset = -5": `"-05:00"`, `utc-offset = "-05:00"`: `"-05:00"`} {
		require.NoError(t, os.WriteFile("s.toml", []byte(text+"\n"), 0o600))
		code, _, errs := run(t, "map", "late.csv", "--field", "field.geojson", "--out", "out", "--quiet", "--settings", "s.toml")
		require.Zero(t, code, errs)
		assert.Contains(t, contents(t, "out")["run.json"], `"utc-offset": `+want, text)
		code, _, errs = run(t, "map", "late.csv", "--field", "field.geojson", "--out", "out", "--quiet", "--settings", "s.toml", "--utc-offset", "+5:30")
		require.Zero(t, code, errs)
		assert.Contains(t, contents(t, "out")["run.json"], `"utc-offset": "+05:30"`, text)
	}
	require.NoError(t, os.WriteFile("s.toml", []byte("utc-offset = 99\n"), 0o600))
	code, _, errs := run(t, "map", "late.csv", "--field", "field.geojson", "--out", "out", "--settings", "s.toml")
	assert.Equal(t, 1, code)
	assert.Contains(t, errs, `utc offset "99": want hours before or behind UTC`)
	code, _, errs = run(t, "map", "late.csv", "--field", "field.geojson", "--out", "out", "--utc-offset", "noon")
	assert.Equal(t, 2, code)
	assert.Contains(t, errs, `utc offset "noon": want hours before or behind UTC`)
	code, _, errs = run(t, week("2")...)
	require.Zero(t, code, errs)
	assert.NotContains(t, contents(t, "out")["run.json"], "utc-offset", "what was not given is not kept")
}

// Zones and treated ground that went through a program which made dates of their days,
// or dates with a time, keep their days.
func TestZonesInAGeoPackageKeepTheirDays(t *testing.T) {
	type sheet struct {
		Days json.RawMessage
	}
	mapped(t)
	require.NoError(t, os.WriteFile("sprayed.geojson", []byte(sprayed), 0o600))
	code, _, errs := run(t, handOff("--spray-on", "2026-07-24", "--growth", "0.5m")...)
	require.Zero(t, code, errs)
	var want sheet
	require.NoError(t, json.Unmarshal([]byte(contents(t, "job")["handoff.json"]), &want))
	require.Contains(t, string(want.Days), "2026-07-22")
	c, err := geofile.Read("out/zones.geojson", geofile.Limits{})
	require.NoError(t, err)
	treated, err := geofile.Read("sprayed.geojson", geofile.Limits{})
	require.NoError(t, err)
	code, _, errs = run(t, "compare", "week1.csv", "week2.csv", "--field", "field.geojson", "--out", "plain", "--treated", "sprayed.geojson")
	require.Zero(t, code, errs)
	for kind, time := range map[string]string{"DATE": "", "DATETIME": "T00:00:00.000Z", "TIMESTAMP": " 00:00:00"} {
		for _, f := range append(c.Features, treated.Features...) {
			for i, p := range f.Properties {
				if p.Name == "date" {
					f.Properties[i].Value = p.Value.(string)[:10] + time
				}
			}
		}
		require.NoError(t, os.WriteFile("zones.gpkg", retyped(t, geofile.Layer{Name: "zones", Features: c.Features}, "date", kind), 0o600))
		code, _, errs := run(t, "handoff", "zones.gpkg", "--swath", "24m", "--out", "job2", "--spray-on", "2026-07-24", "--growth", "0.5m", "--force")
		require.Zero(t, code, errs)
		var got sheet
		require.NoError(t, json.Unmarshal([]byte(contents(t, "job2")["handoff.json"]), &got))
		assert.JSONEq(t, string(want.Days), string(got.Days), kind)

		require.NoError(t, os.WriteFile("sprayed.gpkg", retyped(t, geofile.Layer{Name: "sprayed", Features: treated.Features}, "date", kind), 0o600))
		code, _, errs = run(t, "compare", "week1.csv", "week2.csv", "--field", "field.geojson", "--out", "same", "--treated", "sprayed.gpkg")
		require.Zero(t, code, errs)
		assert.Equal(t, contents(t, "plain")["compare.json"], contents(t, "same")["compare.json"], kind)
	}
}
