package cli_test

import (
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// grown gives fields of farm.geojson a grower.
func grown(t *testing.T, growers map[string]string, rename ...string) {
	t.Helper()
	farm := contents(t, ".")["farm.geojson"]
	for field, grower := range growers {
		farm = strings.Replace(farm, `"name":"`+field+`"`, `"name":"`+field+`","grower":"`+grower+`"`, 1)
	}
	put(t, "farm.geojson", strings.NewReplacer(rename...).Replace(farm))
}

// Two growers may call a field alike: what is known of one is not taken for the other.
func TestFieldsOfOneNameGoByTheirGrower(t *testing.T) {
	args := append(fourFields(t), "--fields", "fields.csv")
	grown(t, map[string]string{"North": "A/B", "South": "A B"}, `"South"`, `"North"`)
	put(t, "fields.csv", "field,grower,treat_at\nNorth,A B,10\n")
	treatAt := func(field string) any {
		return summaryOf(t, "out")[field]["levels"].(map[string]any)["treat_at"]
	}
	code, _, errs := run(t, args...)
	require.Zero(t, code, errs)
	assert.Equal(t, 40.0, treatAt("North"))
	assert.Equal(t, 10.0, treatAt("North (2)"))

	put(t, "fields.csv", "field,grower,treat_at\nNorth,A B,10\nNorth,A/B,20\n")
	code, _, errs = run(t, args...)
	require.Zero(t, code, errs)
	assert.Equal(t, 20.0, treatAt("North"))
	assert.Equal(t, 10.0, treatAt("North (2)"))
	code, _, errs = run(t, append(args, "--by-grower", "--out", "each")...)
	require.Zero(t, code, errs)
	assert.Contains(t, summaryOf(t, filepath.Join("each", "A-B")), "North")
	assert.Contains(t, summaryOf(t, filepath.Join("each", "A-B-2")), "North (2)")

	code, _, errs = run(t, "season", "add", "s.gpkg", "farm.csv", "--field", "farm.geojson", "--fields", "fields.csv")
	require.Zero(t, code, errs)
	code, out, errs := run(t, "season", "show", "s.gpkg", "--json")
	require.Zero(t, code, errs)
	shown := fieldsOf(t, out)
	assert.Equal(t, 20.0, shown["North"]["levels"].(map[string]any)["treat_at"])
	assert.Equal(t, 10.0, shown["North (2)"]["levels"].(map[string]any)["treat_at"])

	for text, want := range map[string]string{
		"field,grower,treat_at\nNorth,Cy,10\n":                  `fields.csv:2: field "North" is of grower "Cy", and the boundary says "A/B"`,
		"field,grower,treat_at\nNorth,A B,10\nNorth,a  b,20\n":  `fields.csv:3: field "North" stands at fields.csv:2 already`,
		"field,grower,treat_at\nHill,A B,10\nHill,Cy,20\n":      `fields.csv:3: field "Hill" stands at fields.csv:2 with another grower, and the boundary tells none`,
		"field,grower,treat_at\nNorth,,10\nNorth,A/B,20\n":      `fields.csv:3: field "North" stands at fields.csv:2 already`,
		"field,grower,treat_at\nNorth (2),A/B,10\nHill,Cy,20\n": `fields.csv:2: field "North (2)" is of grower "A/B", and the boundary says "A B"`,
	} {
		put(t, "fields.csv", text)
		code, _, errs = run(t, append(args, "--out", "none")...)
		assert.Equal(t, 1, code, text)
		assert.Contains(t, errs, want, text)
		assert.NoDirExists(t, "none")
	}
}

// The zones, and so the task data, tell the grower that the list alone knows.
func TestZonesTellTheGrowerOfTheList(t *testing.T) {
	args := append(fourFields(t), "--fields", "fields.csv")
	grown(t, map[string]string{"North": "Ann Example"})
	put(t, "fields.csv", "field,grower\nNorth,ANN example\nSouth,Bo Example\n")
	code, _, errs := run(t, args...)
	require.Zero(t, code, errs)
	zones := contents(t, "out")["zones.geojson"]
	assert.Contains(t, zones, `"customer":"Ann Example"`, "the boundary's writing")
	assert.Contains(t, zones, `"customer":"Bo Example"`)
}

// A season gives back whose fields are and how their rows run, so that the zones, and with
// them the job, are the same as those of the files that came in.
func TestASeasonKeepsWhatGoesToTheApplicator(t *testing.T) {
	args := lattices(t, []lattice{{"North", alike(250)}, {"South", alike(250)}})
	farm := strings.Replace(contents(t, ".")["farm.geojson"], `"name":"North"`, `"name":"North","customer":"Ann Example","farm":"Hill","Rows":"12°","grower":"A. Example"`, 1)
	put(t, "farm.geojson", farm)
	code, _, errs := run(t, args...)
	require.Zero(t, code, errs)
	want := contents(t, "out")["zones.geojson"]
	for _, said := range []string{`"customer":"Ann Example"`, `"farm":"Hill"`, `"rows":"12°"`, `"grower":"A. Example"`} {
		require.Contains(t, want, said)
	}
	code, _, errs = run(t, "season", "add", "s.gpkg", "farm.csv", "--field", "farm.geojson")
	require.Zero(t, code, errs)
	for back, visit := range map[string][]string{"all": nil, "one": {"--visit", "1"}} {
		code, _, errs = run(t, append([]string{"season", "export", "s.gpkg", "--out", back}, visit...)...)
		require.Zero(t, code, errs)
		code, _, errs = run(t, "map", filepath.Join(back, "farm.csv"), "--field", filepath.Join(back, "fields.geojson"), "--out", "again")
		require.Zero(t, code, errs)
		assert.Equal(t, want, contents(t, "again")["zones.geojson"])
	}
}
