package cli_test

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// sweptAt writes a walk over the larger field of the demo: 25 to 33 weevils at each of its
// stops, on so many of what a column says.
func sweptAt(t *testing.T, name, column, n string) {
	rows := "stop,longitude,latitude,count,date,pest"
	if column != "" {
		rows += "," + column
	}
	for i := range 24 {
		rows += fmt.Sprintf("\n%d,%.6f,%.6f,%d,2026-07-15,cabbage seedpod weevil", i+1, -101.6028+0.001*float64(i%6), 35.8976+0.0014*float64(i/6), 25+i%9)
		if column != "" {
			rows += "," + n
		}
	}
	require.NoError(t, os.WriteFile(name, []byte(rows+"\n"), 0o666))
}

// A rule by the 10 sweeps answers in 10 sweeps, whatever the table calls them, and does not
// take leaves for them.
func TestARuleOnSweepsIsInSweeps(t *testing.T) {
	inFolder(t)
	args := func(counts string, more ...string) []string {
		return append([]string{"map", counts, "--field", "field.geojson", "--only", "Pivot", "--rule", "canola-seedpod-weevil", "--out", "out", "--force"}, more...)
	}
	sweptAt(t, "sweeps.csv", "sweeps", "10")
	code, out, errs := run(t, args("sweeps.csv")...)
	require.Zero(t, code, errs)
	plain := strings.Join(strings.Fields(out), " ")
	assert.Contains(t, plain, "spray at 25 in 10 sweeps, watch at 12.5.")
	assert.Contains(t, plain, "Spray the whole field")
	assert.Regexp(t, `Average 2[89]\.?\d* in 10 sweeps`, plain)
	assert.NotContains(t, plain, "Add a column named")

	sweptAt(t, "none.csv", "", "")
	code, out, errs = run(t, args("none.csv", "--language", "es")...)
	require.Zero(t, code, errs)
	plain = strings.Join(strings.Fields(out), " ")
	assert.Contains(t, plain, "aplique desde 25 en 10 pases de red")
	assert.Contains(t, plain, "¿Cuál es el número de pases de red de cada conteo? Se tomó como 10 pases de red. Agregue una columna llamada sweeps.")

	sweptAt(t, "leaves.csv", "leaves", "10")
	code, _, errs = run(t, args("leaves.csv")...)
	assert.Equal(t, 1, code)
	assert.Equal(t, "geocoris: leaves.csv: column \"leaves\" says how many leaves were looked at, and counts are asked for in 10 sweeps: write how many sweeps in a column sweeps (--map \"leaves=sweeps\" if that is what it tells)\n", errs)
	code, out, errs = run(t, args("leaves.csv", "--map", "leaves=sweeps")...)
	require.Zero(t, code, errs)
	assert.Contains(t, out, "Spray the whole field")
}

// Fields of rules on different units are not read from one table.
func TestFieldsOfOtherUnitsAreNotReadAsOne(t *testing.T) {
	inFolder(t)
	sweptAt(t, "sweeps.csv", "sweeps", "10")
	require.NoError(t, os.WriteFile("fields.csv", []byte("field,rule,treat_at,watch_at\nPivot,canola-seedpod-weevil,,\nCorner block,cotton-aphid,,\n"), 0o666))
	code, _, errs := run(t, "map", "sweeps.csv", "--field", "field.geojson", "--fields", "fields.csv", "--out", "out")
	assert.Equal(t, 1, code)
	assert.Contains(t, errs, "rule canola-seedpod-weevil: fields go by different units: here counts are asked for per 10 sweeps, and sweeps.csv:2 was read per sweep; map the fields of one unit alone, with --only and their --rule")
}

// A field without a rule is not taken for one of the unit of the others.
func TestAFieldWithoutARuleIsOfItsOwnUnit(t *testing.T) {
	inFolder(t)
	week, err := os.ReadFile("week2.csv")
	require.NoError(t, err)
	require.NoError(t, os.WriteFile("plants.csv", []byte(strings.Replace(string(week), ",leaves,", ",plants,", 1)), 0o666))
	require.NoError(t, os.WriteFile("own.toml", []byte("[[rule]]\nname = \"per-plant\"\npest = \"sorghum aphid\"\nsource = \"invented\"\nstatistic = \"mean\"\nunit = \"plant\"\nbands = [{ value = 250 }]\n"), 0o666))
	require.NoError(t, os.WriteFile("fields.csv", []byte("field,rule\nPivot,per-plant\n"), 0o666))
	for _, counts := range []string{"plants.csv", "week2.csv"} {
		code, _, errs := run(t, "map", counts, "--field", "field.geojson", "--fields", "fields.csv", "--rules", "own.toml", "--out", "out")
		assert.Equal(t, 1, code)
		assert.Contains(t, errs, "fields go by different units: here counts are asked for per ", counts)
	}
	require.NoError(t, os.WriteFile("fields.csv", []byte("field,rule\nPivot,per-plant\nCorner block,per-plant\n"), 0o666))
	code, out, errs := run(t, "map", "plants.csv", "--field", "field.geojson", "--fields", "fields.csv", "--rules", "own.toml", "--out", "out")
	require.Zero(t, code, errs)
	assert.Contains(t, out, "spray at 250 a plant")
}

// A tally of sweeps is typed as sweeps, and asks on how many a number alone is.
func TestATallyOfSweeps(t *testing.T) {
	args := []string{"tally", "--rule", "canola-seedpod-weevil", "--counts", "poisson"}
	code, out, errs := typed(t, "30/10\n60/20\n", args...)
	require.Zero(t, code, errs)
	assert.Contains(t, out, "count insects in samples of 10 sweeps")
	assert.Contains(t, out, "Where the truth is 16.7 in 10 sweeps, it wrongly says over")
	assert.Contains(t, out, "stop 2: 90 on 30 sweeps so far.")
	code, _, errs = typed(t, "30\n", args...)
	assert.Equal(t, 1, code)
	assert.Equal(t, "geocoris: typed line 1: 30 on how many sweeps? Write 30/10\n", errs)
	code, out, errs = typed(t, "", append(args, "--card", "--per-stop", "20")...)
	require.Zero(t, code, errs)
	assert.Contains(t, out, "Look at 20 sweeps at each stop.")
	assert.Regexp(t, `\n +15 +300 `, out)

	inFolder(t)
	code, _, errs = run(t, "tally", "week2.csv", "--field", "field.geojson", "--counts", "poisson", "--low", "25", "--high", "60")
	assert.Equal(t, 1, code)
	assert.Contains(t, errs, "hint: choose one with --only NAME\n")
	sweptAt(t, "sweeps.csv", "sweeps", "10")
	code, out, errs = run(t, append(args, "sweeps.csv")...)
	require.Zero(t, code, errs)
	assert.Contains(t, out, "stop 2: 51 on 20 sweeps so far.")
	code, _, errs = run(t, "tally", "sweeps.csv", "--counts", "poisson", "--low", "25", "--high", "60")
	assert.Equal(t, 1, code)
	assert.Contains(t, errs, `column "sweeps" says how many sweeps were looked at, and counts are asked for per leaf`)
}
