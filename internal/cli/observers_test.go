package cli_test

import (
	"encoding/json"
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// An eye that sees half of what is there, exactly: the counts double.
func TestMapCorrectsByObserver(t *testing.T) {
	inFolder(t)
	pairs := "observer,estimated,counted\n"
	for _, v := range []string{"1,2", "2,4", "4,8", "8,16", "15,30", "30,60", "60,120", "120,240", "240,480", "400,800"} {
		pairs += "Scout A," + v + "\nScout B," + v + "\n"
	}
	require.NoError(t, os.WriteFile("pairs.csv", []byte(pairs), 0o666))
	code, _, errs := run(t, "calibrate", "pairs.csv", "--out", "eyes")
	require.Zero(t, code, errs)
	mean := func(more ...string) (float64, string) {
		code, out, errs := run(t, week("2", append(more, "--json", "--force")...)...)
		require.Zero(t, code, errs)
		var summary struct {
			Fields []struct{ Mean float64 }
			Notes  []string
		}
		require.NoError(t, json.Unmarshal([]byte(out), &summary))
		code, screen, errs := run(t, week("2", append(more, "--force")...)...)
		require.Zero(t, code, errs)
		return summary.Fields[0].Mean, screen
	}
	before, screen := mean()
	assert.NotContains(t, screen, "calibration")
	after, screen := mean("--observers", "eyes/observers.json")
	assert.InEpsilon(t, 2*before, after, 0.01)
	assert.Contains(t, screen, "scout A:")
	assert.Contains(t, screen, "rows corrected by calibration, 2.00 times as many in all")
	assert.Contains(t, contents(t, "out")["run.json"], "eyes/observers.json")
	code, _, errs = run(t, week("2", "--observers", "pairs.csv", "--force")...)
	assert.Equal(t, 1, code)
	assert.Contains(t, errs, "calibrate")
	code, _, errs = run(t, week("2", "--observers", "none.json", "--force")...)
	assert.Equal(t, 1, code)
	assert.Contains(t, errs, "none.json")
}
