package cli_test

import (
	"encoding/json"
	"fmt"
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
		code, screen, errs := run(t, week("2", append(more, "--force", "--details")...)...)
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

	// Folders of maps that were made so are compared, and shown, by their samples.
	for _, n := range []string{"1", "2"} {
		code, _, errs := run(t, "map", "week"+n+".csv", "--field", "field.geojson", "--out", "m"+n, "--observers", "eyes/observers.json")
		require.Zero(t, code, errs)
	}
	code, _, errs = run(t, "compare", "m1", "m2", "--field", "field.geojson", "--out", "change")
	assert.Zero(t, code, errs)
	code, _, errs = run(t, "report", "m2", "--write", "map.svg")
	assert.Zero(t, code, errs)
}

// noisyEyes writes the file of calibrate for observers whose eyes see about half.
func noisyEyes(t *testing.T, names ...string) {
	t.Helper()
	pairs := "observer,estimated,counted\n"
	for _, v := range []string{"1,3", "2,4", "4,6", "8,20", "15,30", "30,50", "60,130", "120,240", "240,400", "400,900"} {
		for _, name := range names {
			pairs += name + "," + v + "\n"
		}
	}
	require.NoError(t, os.WriteFile("pairs.csv", []byte(pairs), 0o666))
	code, _, errs := run(t, "calibrate", "pairs.csv", "--out", "eyes", "--force")
	require.Zero(t, code, errs)
}

func TestStopsTellTheirBounds(t *testing.T) {
	inFolder(t)
	noisyEyes(t, "scout A")
	bounds := func(more ...string) (wider, all int) {
		code, _, errs := run(t, week("2", append(more, "--force")...)...)
		require.Zero(t, code, errs)
		var stops struct {
			Features []struct {
				Properties struct {
					Observer         string
					Low, Value, High *float64
				}
			}
		}
		require.NoError(t, json.Unmarshal([]byte(contents(t, "out")["stops.geojson"]), &stops))
		for _, f := range stops.Features {
			p := f.Properties
			require.NotNil(t, p.Low)
			require.NotNil(t, p.High)
			if p.Observer != "scout A" || len(more) == 0 || *p.Value == 0 {
				assert.Equal(t, [2]float64{*p.Value, *p.Value}, [2]float64{*p.Low, *p.High}, "nothing widens it")
				continue
			}
			assert.Less(t, *p.Low, *p.Value)
			assert.Greater(t, *p.High, *p.Value)
			wider++
		}
		return wider, len(stops.Features)
	}
	wider, all := bounds()
	assert.Zero(t, wider)
	require.NotZero(t, all)
	wider, _ = bounds("--observers", "eyes/observers.json")
	assert.NotZero(t, wider)
}

func TestCompareNamesObserversWithoutACalibration(t *testing.T) {
	inFolder(t)
	for day, scout := range map[string]string{"14": "scout A", "21": "scout B"} {
		rows := "stop,longitude,latitude,count,leaves,date,observer\n"
		for i := range 12 {
			rows += fmt.Sprintf("%d,%.4f,%.4f,%d,1,2031-08-%s,%s\n", i, -101.602+float64(i%4)/1000, 35.899+float64(i/4)/1000, 10+i, day, scout)
		}
		require.NoError(t, os.WriteFile(day+".csv", []byte(rows), 0o666))
	}
	screen := func(more ...string) string {
		code, out, errs := run(t, append([]string{"compare", "--details", "14.csv", "21.csv", "--field", "field.geojson", "--out", "change", "--treat-at", "20", "--watch-at", "5"}, more...)...)
		require.Zero(t, code, errs)
		return out
	}
	assert.Contains(t, screen(), "no calibration corrects scout A, scout B\n")
	noisyEyes(t, "Scout A")
	assert.Contains(t, screen("--observers", "eyes/observers.json"), "no calibration corrects scout B\n")
	noisyEyes(t, "Scout A", "scout B")
	assert.NotContains(t, screen("--observers", "eyes/observers.json"), "not alike: observers")
}
