package cli_test

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/testkit"
)

// dataTolerance is how far numbers of the golden data may be off: processors round
// differently, by far less than the seventh decimal of a degree, the last that is
// written.
const dataTolerance = 2e-7

// The data of the demo, as people's programs take them: what a command writes is
// compared member by member, not byte by byte.
func TestDataOfTheDemo(t *testing.T) {
	inFolder(t)
	for _, c := range []struct {
		name  string
		args  []string
		files []string
	}{
		{"week1", week("1"), []string{"zones.geojson", "stops.geojson", "summary.json", "run.json"}},
		{"week2", week("2"), []string{"zones.geojson", "stops.geojson", "summary.json", "run.json"}},
		{"week3", week("3"), []string{"zones.geojson", "stops.geojson", "summary.json", "run.json"}},
		{"week3_rule", week("3", "--rule", "sorghum-aphid-texas-mean", "--stage", "boot"), []string{"summary.json"}},
		{"weeks", []string{"compare", "week1.csv", "week2.csv", "week3.csv", "--field", "field.geojson", "--forecast", "2026-07-29", "--out", "out"},
			[]string{"change.geojson", "hotspots.geojson", "forecast.geojson", "compare.json", "run.json"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			require.NoError(t, os.RemoveAll("out"))
			code, _, errs := run(t, c.args...)
			require.Zero(t, code, errs)
			for _, file := range c.files {
				got, err := os.ReadFile(filepath.Join("out", file))
				require.NoError(t, err)
				if file == "run.json" {
					got = withoutDigests(t, got)
				}
				testkit.GoldenJSON(t, filepath.Join("data", c.name, file), got, dataTolerance)
			}
		})
	}
}

// withoutDigests is a record without those of what was written, which are others where a
// last digit is; that they are those of the files is held here.
func withoutDigests(t *testing.T, text []byte) []byte {
	t.Helper()
	before, digests, found := strings.Cut(string(text), ",\n \"outputs\": ")
	if !found {
		return text
	}
	var outputs []struct {
		Path   string
		SHA256 string
	}
	require.NoError(t, json.Unmarshal([]byte(strings.TrimSuffix(strings.TrimSpace(digests), "}")), &outputs))
	require.Len(t, outputs, len(names(t, "out"))-1)
	for _, o := range outputs {
		sum := sha256.Sum256([]byte(contents(t, "out")[o.Path]))
		assert.Equal(t, hex.EncodeToString(sum[:]), o.SHA256, o.Path)
	}
	return []byte(before + "\n}\n")
}
