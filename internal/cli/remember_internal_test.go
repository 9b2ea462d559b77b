//go:build !js

package cli

import (
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/recall"
	"github.com/geocoris/geocoris/internal/testkit"
)

// mornings is what the tests have mapped, most of them the same mornings of the demo.
var mornings = recall.New(100)

// Remembering are streams of a run that knows what the tests before it mapped. In CI each
// works everything out by itself: so all tests are seen both ways.
func Remembering(s Streams) Streams {
	if !testkit.Strict() {
		s.memory = mornings
	}
	return s
}

// What runs remember of one another changes none of their files.
func TestRunsThatRememberWriteTheSame(t *testing.T) {
	t.Chdir(t.TempDir())
	code, _, errs := ran(t, Streams{}, "demo", ".")
	require.Zero(t, code, errs)
	memory, want := recall.New(1), map[string]string{}
	for i, s := range []Streams{{}, {memory: memory}, {memory: memory}} {
		for command, args := range map[string][]string{
			"map":     {"map", "week2.csv", "--field", "field.geojson", "--out", "map"},
			"compare": {"compare", "week1.csv", "week2.csv", "--field", "field.geojson", "--out", "compare"},
		} {
			code, out, errs := ran(t, s, args...)
			require.Zero(t, code, errs)
			files, err := os.ReadDir(command)
			require.NoError(t, err)
			for _, f := range files {
				text, err := os.ReadFile(command + "/" + f.Name())
				require.NoError(t, err)
				out += "\n" + f.Name() + "\n" + string(text)
			}
			if i == 0 {
				want[command] = out
			}
			assert.True(t, want[command] == out, "%s is not the same, time %d", command, i+1)
		}
	}
}
