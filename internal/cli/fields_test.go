package cli_test

import (
	"encoding/json"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// fourFields are those of lattices, alike but for their names.
func fourFields(t *testing.T) []string {
	t.Helper()
	return lattices(t, []lattice{{"North", alike(250)}, {"South", alike(250)}, {"Hill", alike(250)}, {"Brook", alike(250)}})
}

func TestFieldsHaveRulesAndLevelsOfTheirOwn(t *testing.T) {
	args := append(fourFields(t), "--fields", "fields.csv")
	put(t, "fields.csv", "field;grower;treat at;watch_at;rule;stage;acres\nnorth;Ann Example;20;6,5;;;12\nSouth;Bo Example;;;sorghum-aphid-mean-40;boot;\nHill;;;;;;\n\nNowhere;;30;;;;\n")
	code, out, errs := run(t, append(args, "--details")...)
	require.Zero(t, code, errs)
	fields := summaryOf(t, "out")
	assert.Equal(t, 20.0, fields["North"]["levels"].(map[string]any)["treat_at"], "%v", fields["North"])
	assert.Contains(t, out, `fields.csv: the boundary has no field called "Nowhere" (line 6)`)
	assert.Contains(t, out, `fields.csv: tells nothing of "Brook"`)

	// What a field is judged by is what it would be by itself.
	code, _, errs = run(t, append(args[:6:6], "--treat-at", "20", "--watch-at", "6.5")...)
	require.Zero(t, code, errs)
	alone := summaryOf(t, "out")
	assert.Equal(t, alone["North"]["verdict"], fields["North"]["verdict"])
	assert.Equal(t, alone["North"]["zones"], fields["North"]["zones"])
	code, _, errs = run(t, append(args[:6:6], "--rule", "sorghum-aphid-mean-40", "--stage", "boot")...)
	require.Zero(t, code, errs)
	alone = summaryOf(t, "out")
	assert.Equal(t, alone["South"]["verdict"], fields["South"]["verdict"])
	code, _, errs = run(t, args[:6:6]...)
	require.Zero(t, code, errs)
	alone = summaryOf(t, "out")
	assert.Equal(t, alone["Hill"]["verdict"], fields["Hill"]["verdict"], "nothing is told of it")
	assert.Equal(t, alone["Brook"]["verdict"], fields["Brook"]["verdict"])

	// The record keeps the table, and a page is of the same levels.
	code, _, errs = run(t, args...)
	require.Zero(t, code, errs)
	assert.Contains(t, inputsOf(t, "out"), "fields.csv")
	code, _, errs = run(t, "report", "out")
	require.Zero(t, code, errs)
	code, _, errs = run(t, "season", "add", "s.gpkg", "farm.csv", "--field", "farm.geojson", "--fields", "fields.csv")
	require.Zero(t, code, errs)
	put(t, "fields.csv", "field,treat_at\nNorth,21\n")
	code, _, errs = run(t, "report", "out")
	assert.Equal(t, 1, code)
	assert.Contains(t, errs, "fields.csv has changed since it was mapped")
	code, out, errs = run(t, "season", "show", "s.gpkg", "--json")
	require.Zero(t, code, errs)
	var shown struct{ Fields []map[string]any }
	require.NoError(t, json.Unmarshal([]byte(out), &shown))
	assert.Equal(t, fields["North"]["verdict"], shown.Fields[0]["verdict"], "the season keeps the table")
}

func TestFieldsTellTheirDay(t *testing.T) {
	args := append(fourFields(t), "--fields", "farm.geojson")
	farm := contents(t, ".")["farm.geojson"]
	put(t, "farm.csv", strings.ReplaceAll(contents(t, ".")["farm.csv"], "2031-08-14", ""))
	put(t, "farm.geojson", strings.Replace(farm, `"name":"Hill"`, `"name":"Hill","date":"14 August 2031","watch_at":12`, 1))
	code, _, errs := run(t, args...)
	require.Zero(t, code, errs)
	assert.Contains(t, contents(t, "out")["stops.geojson"], "2031-08-14", "properties of the boundary will do")
	assert.Equal(t, 12, strings.Count(contents(t, "out")["stops.geojson"], `"date":"2031-08-14"`), "of the 12 stops in the field")
}

func TestFieldsThatCannotBeMeant(t *testing.T) {
	args := append(fourFields(t), "--fields", "fields.csv")
	for text, want := range map[string]string{
		"field,treat_at\nNorth,\"12,5\"\n":                      `fields.csv:2: treat_at: "12,5": write 12.5, with a point`,
		"field,treat_at\nNorth,many\n":                          `fields.csv:2: treat_at: "many": want a number above 0`,
		"field,treat_at\nNorth,0\n":                             `want a number above 0`,
		"field,treat_at\nNorth,30\nNORTH,20\n":                  `fields.csv:3: field "NORTH" stands at fields.csv:2 already`,
		"plot,treat_at\nNorth,30\n":                             "fields.csv: want a column field",
		"field,acres\nNorth,30\n":                               "fields.csv: tells nothing of the fields",
		"field,treat_at\nWest,30\n":                             `fields.csv: names none of the fields of the boundary, which are called "North", "South", "Hill", "Brook"`,
		"field,treat_at\nHill,30\nNoth,20\n":                    `fields.csv:3: the boundary has no field called "Noth", and no line names its field "North"`,
		"field,rule\nNorth,sorghum\n":                           `fields.csv:2: no rule is called "sorghum"`,
		"field,stage\nNorth,boot\n":                             `fields.csv:2: field "North": --stage goes with --rule`,
		"field,rule,treat_at\nNorth,sorghum-aphid-mean-40,30\n": `fields.csv:2: field "North": --rule sets treat level and tally`,
		"field,rule\nNorth,soybean-aphid\n":                     `fields.csv:2: field "North": rule soybean-aphid is for soybean aphid`,
		"field,date\nNorth,2031-08-13\n":                        `fields.csv:2: field "North" was counted on 2031-08-13, and farm.csv:2 says 2031-08-14`,
		"field,date\nNorth,soon\n":                              `fields.csv:2: date: `,
		"field,treat_at\n":                                      "fields.csv: ",
	} {
		put(t, "fields.csv", text)
		code, _, errs := run(t, args...)
		assert.NotZero(t, code, text)
		assert.Contains(t, errs, want, text)
		assert.NoDirExists(t, "out", text)
	}
	// The counts are looked over all the same, and what a season keeps is shown as it was.
	put(t, "fields.csv", "field,treat_at\nHill,30\nNoth,20\n")
	code, out, errs := run(t, "check", args[1], "--field", "farm.geojson", "--fields", "fields.csv")
	require.Zero(t, code, errs)
	assert.Contains(t, out, `note: fields.csv:3: the boundary has no field called "Noth", and no line names its field "North"`)
}
