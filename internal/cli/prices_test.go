package cli_test

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A level by cost and price: 12/(0.058·9) = 22.99 larvae per square metre (Bracken &
// Bucher 1977), however the area is given, and the loss of the rule goes into the money.
// The counts are invented.
func TestALevelByCostAndPrice(t *testing.T) {
	inFolder(t)
	rows := "stop,longitude,latitude,count,units,pest\n"
	for i := range 12 {
		rows += fmt.Sprintf("%d,%.5f,%.5f,%d,10,bertha armyworm\n", i+1, -101.6035+0.0011*float64(i%4), 35.8985+0.001*float64(i/4), 600*(i%2))
	}
	require.NoError(t, os.WriteFile("larvae.csv", []byte(rows), 0o600))
	by := func(args ...string) (int, string, string) {
		return run(t, append([]string{"map", "larvae.csv", "--details", "--field", "field.geojson", "--out", "out", "--rule", "canola-bertha-armyworm"}, args...)...)
	}
	code, out, errs := by("--cost", "12", "--price", "9", "--per", "acre")
	require.Zero(t, code, errs)
	assert.Contains(t, out, "treat at 23: Bracken & Bucher 1977, in the table of Alberta Agriculture and the Canola Council of Canada: C/(V·0.058) = 12/(9·0.058) = 22.99 per square metre (rule canola-bertha-armyworm)")
	assert.Contains(t, out, "half the treat level: our choice, no source; the rule gives no growth")
	var record struct{ Settings map[string]any }
	require.NoError(t, json.Unmarshal([]byte(contents(t, "out")["run.json"]), &record))
	assert.InDelta(t, 0.058, record.Settings["loss"], 1e-9)

	code, out, errs = by("--cost", "29.652645", "--price", "9") // 12/acre ÷ 0.40468564 ha
	require.Zero(t, code, errs)
	assert.Contains(t, out, "= 22.99 per square metre")
	require.NoError(t, json.Unmarshal([]byte(contents(t, "out")["run.json"]), &record))
	assert.InDelta(t, 0.058/0.40468564, record.Settings["loss"], 1e-6)

	code, _, errs = by("--cost", "12")
	assert.Equal(t, 1, code)
	assert.Contains(t, errs, "rule canola-bertha-armyworm goes by cost and price: give --cost of control, with --per acre or hectare, and --price of a bushel")
}

func TestPlanForARule(t *testing.T) {
	inFolder(t)
	plan := func(args ...string) (int, string, string) {
		return run(t, append([]string{"plan", "--field", "field.geojson", "--only", "Pivot", "--stops", "3", "--out", "walk"}, args...)...)
	}
	code, out, errs := plan("--rule", "sorghum-aphid-high-plains", "--stage", "7")
	require.Zero(t, code, errs)
	out = strings.Join(strings.Fields(out), " ")
	assert.Contains(t, out, "30 % of plants with honeydew and colonies at dough (rule sorghum-aphid-high-plains)")
	assert.Contains(t, out, "at each stop 5 plants, 2 leaves a plant")
	assert.Contains(t, out, "3 stops are fewer than the 4 places that the source asks for")
	files := contents(t, "walk")
	assert.Contains(t, files["stops.csv"], "stop,longitude,latitude,plants,plants_over,at_or_above,date,time,observer,pest,stage,kind,notes\n")
	assert.Contains(t, files["stops.csv"], ",5,,honeydew and colonies,,,,sorghum aphid,dough,planned,\n")
	assert.Contains(t, files["sheet.html"], `colspan="5">5 plants</th><th scope="col" class="cs">plants (5)</th><th scope="col" class="cs">plants with honeydew and colonies</th>`)
	for want, args := range map[string][]string{
		"--stage and --rules go with --rule": {"--stage", "boot"},
		`no rule is called "x"`:              {"--rule", "x"},
		"give --stage, one of":               {"--rule", "sorghum-aphid-kansas"},
		"only to protect the harvest":        {"--rule", "sorghum-aphid-high-plains", "--stage", "9"},
	} {
		require.NoError(t, os.RemoveAll("walk"))
		code, out, errs := plan(args...)
		assert.NotZero(t, code, want)
		assert.Empty(t, out)
		assert.Contains(t, errs, want)
	}
}

// The command that a plan for a rule ends with maps its table, once filled in, by that
// rule; a plan without one names none.
func TestAPlanForARuleSaysHowItIsMapped(t *testing.T) {
	inFolder(t)
	plan := []string{"plan", "--field", "field.geojson", "--only", "Pivot", "--stops", "12", "--out", "walk"}
	code, out, errs := run(t, plan...)
	require.Zero(t, code, errs)
	assert.NotContains(t, out, "--rule")
	require.NoError(t, os.RemoveAll("walk"))
	code, out, errs = run(t, append(plan, "--rule", "sorghum-aphid-high-plains", "--stage", "boot")...)
	require.Zero(t, code, errs)
	_, command, found := strings.Cut(out, "Once the table is filled in, map it by the same rule:\n  geocoris ")
	require.True(t, found, out)
	table := strings.ReplaceAll(contents(t, "walk")["stops.csv"], ",5,,50,", ",5,1,50,")
	require.NoError(t, os.WriteFile(filepath.Join("walk", "stops.csv"), []byte(table), 0o600))
	code, out, errs = run(t, strings.Fields(command)...)
	require.Zero(t, code, errs)
	assert.Contains(t, out, "20 % of plants with a leaf at or above 50")
}
