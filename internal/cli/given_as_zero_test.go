package cli_test

import (
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Who types a 0 where a number above 0 is wanted is told, and not given another value.
func TestAZeroIsNotTheDefault(t *testing.T) {
	inFolder(t)
	code, _, errs := run(t, week("3")...)
	require.Zero(t, code, errs)
	for _, c := range []struct {
		args []string
		want string
	}{
		{week("2", "--treat-at", "0"), "--treat-at 0: want a level above 0, or leave it out"},
		{week("2", "--watch-at", "0.0"), "--watch-at 0: want a level above 0, or leave it out"},
		{week("2", "--next-visit", "0"), "--next-visit 0: want days above 0"},
		{week("2", "--revisit", "0"), "--next-visit 0: want days above 0"},
		{week("2", "--doubling", "0"), "--doubling 0: want days above 0"},
		{week("2", "--power", "0"), "--power 0: want a power above 0"},
		{[]string{"compare", "week1.csv", "week2.csv", "--field", "field.geojson", "--treat-at", "0", "--out", "x"}, "--treat-at 0: want"},
		{[]string{"season", "add", "s.gpkg", "week2.csv", "--field", "field.geojson", "--treat-at", "0"}, "--treat-at 0: want"},
		{[]string{"tally", "--plan", "sorghum-tally-50", "--least", "3"}, "--least 3: want 15 stops or more"},
		{[]string{"tally", "--plan", "sorghum-tally-50", "--least", "0"}, "--least 0: want stops above 0"},
		{[]string{"tally", "--plan", "sorghum-tally-50", "--independent", "--least", "3"}, "--least 3: want 4 stops or more"},
		{[]string{"tally", "--plan", "sorghum-tally-50", "--most", "10"}, "--most 10: want 15 stops or more, as no answer comes before"},
		{[]string{"tally", "--plan", "sorghum-tally-50", "--most", "18", "--least", "20"}, "--most 18: want 20 stops or more"},
		{[]string{"tally", "--low", "0.1", "--high", "0.3", "--alpha", "0"}, "--alpha 0: want a chance above 0"},
		{[]string{"tally", "--plan", "sorghum-tally-50", "--rule", "sorghum-aphid-kansas"}, "--plan and --rule are two plans: give one"},
		{handOff("--sections", "0"), "--sections 0: want 1 or more"},
		{handOff("--rate", "0L/ha"), "--rate 0L/ha: want more than 0 and 214748 L/ha at the most, off the label"},
		{handOff("--rate", "90L/ha", "--tank", "0L"), "--tank 0L: want a volume above 0, or leave it out"},
		{handOff("--heading", "-90"), "a heading of -90 degrees: want 0 to 360"},
	} {
		code, _, errs := typed(t, "", c.args...)
		assert.Equal(t, 2, code, c.args)
		assert.Contains(t, errs, c.want)
	}
}

// So it is in a file of settings; what is left out there stays as it is.
func TestAZeroInAFileOfSettingsIsTold(t *testing.T) {
	inFolder(t)
	require.NoError(t, os.WriteFile("own.toml", []byte("treat-at = 0\n"), 0o666))
	code, _, errs := run(t, week("2", "--settings", "own.toml")...)
	assert.Equal(t, 1, code)
	assert.Contains(t, errs, "own.toml: treat-at 0: want a level above 0, or leave it out")
	require.NoError(t, os.WriteFile("own.toml", []byte("watch-at = 10\n"), 0o666))
	code, out, errs := run(t, week("2", "--settings", "own.toml", "--treat-at", "30")...)
	require.Zero(t, code, errs)
	assert.Contains(t, out, "spray at 30 a leaf, watch at 10.")
}

// A level that is far below one is not shown as none.
func TestALowLevelIsShown(t *testing.T) {
	inFolder(t)
	code, out, errs := run(t, week("2", "--treat-at", "0.004", "--watch-at", "0.0012")...)
	require.Zero(t, code, errs)
	assert.Contains(t, out, "spray at 0.004 a leaf, watch at 0.001.")
}
