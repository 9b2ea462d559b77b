package cli_test

import (
	"encoding/json"
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// twoStages is an invented morning: the larger field at one stage, where a rule asks for
// plants over a tally, the smaller at another, where it asks for honeydew and colonies.
func twoStages(pivot, corner string) string {
	rows := []string{"stop,longitude,latitude,plants,plants_over,at_or_above,honeydew,colonies,predators,mummies,pest,stage"}
	for i := range 12 {
		over := 0
		if i%4 < 2 {
			over = 4
		}
		rows = append(rows, fmt.Sprintf("P%d,%.5f,%.5f,10,%d,50,,,3,few,sorghum aphid,%s", i+1, -101.6035+0.0011*float64(i%4), 35.8985+0.001*float64(i/4), over, pivot))
	}
	for i := range 8 {
		colonies := 0
		if i%4 < 2 {
			colonies = 6
		}
		rows = append(rows, fmt.Sprintf("C%d,%.5f,%.5f,10,,,10,%d,1,,sorghum aphid,%s", i+1, -101.5962+0.0004*float64(i%4), 35.9034+0.0004*float64(i/4), colonies, corner))
	}
	return strings.Join(rows, "\n") + "\n"
}

var byStage = []string{"--field", "field.geojson", "--rule", "sorghum-aphid-high-plains"}

// Each field goes by the stage of its own rows, and every file shows the level that is
// its own (Texas A&M AgriLife 2016, 2018: 20 % with a leaf at or above 50 at boot, 30 %
// with honeydew and colonies at dough).
func TestEachFieldByItsOwnStage(t *testing.T) {
	inFolder(t)
	require.NoError(t, os.WriteFile("two.csv", []byte(twoStages("5", "7")), 0o600))
	code, out, errs := run(t, append([]string{"map", "two.csv", "--details", "--out", "out", "--write", "report,map.pdf,surface.kmz,surface.tif,overview"}, byStage...)...)
	require.Zero(t, code, errs)
	boot, dough := "% of plants with a leaf at or above 50", "% of plants with honeydew and colonies"
	for _, want := range []string{
		"sorghum aphid, each field by its own level",
		"Pivot: " + boot + ", treat at 20: Texas A&M AgriLife Extension 2016, 2018: 20 " + boot + " at boot",
		"Corner block: " + dough + ", treat at 30: Texas A&M AgriLife Extension 2016, 2018: 30 " + dough + " at dough",
		"against a threshold of 20", "against a threshold of 30",
		`field "Corner block": the rule is taken at dough, the stage of its rows`,
		`field "Pivot": written down beside the counts: predators 36, at 12 of 12 stops; mummies 0, at 0 of 12 stops`,
		"honeydew 80, at 8 of 8 stops; colonies 24, at 4 of 8 stops; predators 8, at 8 of 8 stops",
	} {
		assert.Contains(t, strings.Join(strings.Fields(out), " "), want)
	}
	files := contents(t, "out")
	threshold := map[string]float64{"Pivot": 20, "Corner block": 30}
	unit := map[string]string{"Pivot": boot, "Corner block": dough}
	table := tableOf(t, "out")
	for _, row := range table[1:] {
		assert.Equal(t, unit[row[0]], row[slices.Index(table[0], "counted as")], row[0])
	}
	var zones struct {
		Features []struct {
			Properties struct {
				Field, Zone, Unit string
				Cut, Threshold    float64
			}
		}
	}
	require.NoError(t, json.Unmarshal([]byte(files["zones.geojson"]), &zones))
	seen := map[string]int{}
	for _, f := range zones.Features {
		p := f.Properties
		seen[p.Field+" "+p.Zone]++
		assert.Equal(t, threshold[p.Field], p.Threshold)
		assert.Equal(t, unit[p.Field], p.Unit)
		assert.Equal(t, map[string]float64{"treat": threshold[p.Field], "watch": threshold[p.Field] / 2}[p.Zone], p.Cut)
	}
	assert.Equal(t, 1, seen["Pivot treat"])
	assert.Equal(t, 1, seen["Corner block treat"])
	var summary struct {
		Statistic string
		Levels    *struct{}
		Fields    []struct {
			Field, Statistic string
			Levels           struct{ Treat_at float64 }
		}
	}
	require.NoError(t, json.Unmarshal([]byte(files["summary.json"]), &summary))
	assert.Nil(t, summary.Levels, "no level is that of all")
	for _, f := range summary.Fields {
		assert.Equal(t, threshold[f.Field], f.Levels.Treat_at)
		assert.Equal(t, unit[f.Field], f.Statistic)
	}
	for _, page := range []string{"report.html", "zones.kml"} {
		assert.Contains(t, files[page], "Corner block: "+dough+", treat at 30", page)
		assert.NotContains(t, files[page], "Treat at 20:", page)
	}
	handsOver(t, "out")
	readAgain(t, files)
}

// handsOver takes the zones to a job: each part of it shows its field's own level.
func handsOver(t *testing.T, folder string) {
	code, out, errs := run(t, "handoff", folder, "--swath", "24m", "--out", "job", "--against-verdict", "--details")
	require.Zero(t, code, errs)
	assert.Contains(t, out, "Spray job: Pivot\n  Sorghum aphid · spray at 20 % of plants with a leaf at or above 50\n")
	assert.Contains(t, out, "Spray job: Corner block\n  Sorghum aphid · spray at 30 % of plants with honeydew and colonies\n")
}

// readAgain maps stops.geojson and clean.csv: nothing that decides was lost.
func readAgain(t *testing.T, first map[string]string) {
	code, _, errs := run(t, "check", "two.csv", "--field", "field.geojson", "--out", "checked")
	require.Zero(t, code, errs)
	clean, err := os.ReadFile("checked/clean.csv")
	require.NoError(t, err)
	assert.Contains(t, string(clean), "plants,plants_over,at_or_above,honeydew,colonies,predators,mummies")
	assert.Contains(t, string(clean), ",10,4,50,,,3,few,")
	assert.NotContains(t, strings.Split(string(clean), "\n")[0], "count", "nobody counted")
	for _, file := range []string{"out/stops.geojson", "checked/clean.csv"} {
		code, _, errs := run(t, append([]string{"map", file, "--out", "again"}, byStage...)...)
		require.Zero(t, code, errs)
		again := contents(t, "again")
		assert.Equal(t, first["zones.geojson"], again["zones.geojson"], file)
		assert.Equal(t, first["stops.geojson"], again["stops.geojson"], file)
		require.NoError(t, os.RemoveAll("again"))
	}
}

func TestStagesThatCannotBeMeant(t *testing.T) {
	for name, c := range map[string]struct{ pivot, corner, stage, want string }{
		"rows that disagree":      {"5", "7\nx,-101.5962,35.9038,10,1,50,0,0,,,sorghum aphid,5", "", `field "Corner block": its rows are of several growth stages, dough (stop C1), boot (stop x), and rule sorghum-aphid-high-plains has a level of its own at each`},
		"a field that tells none": {"5", "", "", `field "Corner block": its rows give no growth stage, and rule sorghum-aphid-high-plains has a level of its own at each`},
		"no number at its stage":  {"5", "9", "", `field "Corner block": rule sorghum-aphid-high-plains gives no number at black layer: only to protect the harvest`},
		"another tally":           {"6", "2", "", `stop C1 does not say for each plant whether a leaf had 1 or more`},
		"the tally of boot":       {"2", "7", "", `stop P1 gives plants at or above 50, and the rule asks for 1: the one is never taken for the other`},
	} {
		t.Run(name, func(t *testing.T) {
			inFolder(t)
			require.NoError(t, os.WriteFile("two.csv", []byte(twoStages(c.pivot, c.corner)), 0o600))
			code, out, errs := run(t, append([]string{"map", "two.csv", "--out", "out"}, byStage...)...)
			assert.Equal(t, 1, code)
			assert.Empty(t, out)
			assert.Contains(t, errs, c.want)
			assert.Empty(t, names(t, "out"))
		})
	}
}

// The same level at all stages is one level; the stage asked for is taken for all.
func TestOneLevelStaysOne(t *testing.T) {
	inFolder(t)
	text := strings.ReplaceAll(twoStages("5", "5"), ",10,,,10,", ",10,1,50,10,")
	require.NoError(t, os.WriteFile("two.csv", []byte(text), 0o600))
	code, out, errs := run(t, append([]string{"map", "two.csv", "--details", "--out", "out"}, byStage...)...)
	require.Zero(t, code, errs)
	assert.Contains(t, out, "  treat at 20: ")
	assert.NotContains(t, out, "by its own level")
	code, out, errs = run(t, append([]string{"map", "two.csv", "--details", "--out", "out", "--stage", "milk"}, byStage...)...)
	require.Zero(t, code, errs)
	assert.Contains(t, out, "  treat at 30: ")
}

// A stop whose leaves were counted together is neither the end nor left out: with 60 on
// each of its leaves it may hold the answer.
func TestTallyGoesOnPastAnOpenStop(t *testing.T) {
	t.Chdir(t.TempDir())
	stops := func(sum int) string {
		rows := "stop,longitude,latitude,count,leaves\n"
		for i := range 20 {
			count := 0
			if i == 2 {
				count = sum
			}
			rows += fmt.Sprintf("%d,%.4f,37,%d,10\n", i+1, -100+0.001*float64(i), count)
		}
		return rows
	}
	plan := []string{"--low", ".1", "--high", ".2", "--tally", "50", "--json"}
	for _, sum := range []int{49, 700} {
		require.NoError(t, os.WriteFile("walk.csv", []byte(stops(sum)), 0o600))
		code, out, errs := run(t, append([]string{"tally", "walk.csv"}, plan...)...)
		require.Zero(t, code, errs)
		lines := strings.Split(strings.TrimSpace(out), "\n")
		last := lines[len(lines)-1]
		if sum == 49 { // surely none at or above 50
			assert.Len(t, lines, 19)
			assert.Contains(t, last, `"verdict":"under"`)
			assert.Empty(t, errs)
			continue
		}
		assert.Len(t, lines, 20, "ten hot leaves at one stop are not surely under, and the walk goes on past it")
		assert.NotContains(t, out, `"verdict":"under"`)
		assert.Contains(t, errs, "stop 3 does not say which of its 10 were at or above the tally: from 1 to 10, and both are tried")
	}
	require.NoError(t, os.WriteFile("plants.csv", []byte(twoStages("5", "5")), 0o600))
	code, out, errs := run(t, "tally", "plants.csv", "--rule", "sorghum-aphid-high-plains", "--stage", "boot")
	require.Zero(t, code, errs)
	assert.Contains(t, out, "stop 1: 4 of 10 plants")
}

// Weeks whose fields go by different statistics are not laid over one another.
func TestCompareWantsOneStatistic(t *testing.T) {
	inFolder(t)
	for _, week := range []string{"one.csv", "two.csv"} {
		require.NoError(t, os.WriteFile(week, []byte(twoStages("5", "7")), 0o600))
	}
	code, _, errs := run(t, append([]string{"compare", "one.csv", "two.csv", "--dates", "2026-07-01,2026-07-08", "--out", "change"}, byStage...)...)
	assert.Equal(t, 1, code)
	assert.Contains(t, errs, "the fields of 2026-07-01 were assessed by different statistics, as their growth stages ask: compare the fields of each stage by themselves")
}
