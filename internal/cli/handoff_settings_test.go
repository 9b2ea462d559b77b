package cli_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestHandoffTakesAFileOfSettings(t *testing.T) {
	mapped(t)
	put(t, "hives.geojson", `{"type":"Feature","properties":{"name":"hives"},"geometry":{"type":"Point","coordinates":[-101.6053,35.8925]}}`)
	code, _, errs := run(t, "handoff", "out", "--swath", "80ft", "--sections", "6", "--heading", "12.5", "--keep-off", "hives.geojson=50m", "--rate", "15gal/ac",
		"--product", "product A=3lb/ac", "--gate", "-101.6053,35.8925", "--margin", "2m", "--units", "us", "--out", "flags")
	require.Zero(t, code, errs)
	put(t, "job.toml", `swath = "80ft"
sections = 6
heading = 12.5
keep-off = ["hives.geojson=50m"]
rate = "15gal/ac"
product = ["product A=3lb/ac"]
gate = ["-101.6053,35.8925"]
margin = "9m"
units = "us"
`)
	code, _, errs = run(t, "handoff", "out", "--settings", "job.toml", "--margin", "2m", "--out", "file")
	require.Zero(t, code, errs)
	flags, file := contents(t, "flags"), contents(t, "file")
	delete(flags, "handoff_run.json") // which tells the folder
	delete(file, "handoff_run.json")
	assert.Equal(t, flags, file)

	for text, want := range map[string]string{
		"swath = 24\n":                    `job.toml:1:9: swath: `,
		"swath = \"24,5m\"\n":             `job.toml:1:9: swath: "24,5m" is not a length`,
		"swathe = \"24m\"\n":              `job.toml:1:1: no setting is called "swathe"`,
		"sections = 1,5\n":                "job.toml:1:13: sections: write 1.5, with a point",
		"keep-off = \"hives.geojson\"\n":  `keep-off: want a list, such as keep-off = ["hives.geojson=50m"]`,
		"spray-on = \"soon\"\n":           "job.toml: spray-on: ",
		"whole-field = \"yes\"\n":         "whole-field: want true or false",
		"swath = \"24m\"\nred-only = 1\n": "job.toml:2:12: red-only: want true or false",
	} {
		put(t, "job.toml", text)
		code, _, errs := run(t, "handoff", "out", "--settings", "job.toml", "--out", "none")
		assert.NotZero(t, code, text)
		assert.Contains(t, errs, want, text)
	}
	assert.NoDirExists(t, "none")
}
