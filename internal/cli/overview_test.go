package cli_test

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// tableOf reads the overview of a folder.
func tableOf(t *testing.T, folder string) [][]string {
	t.Helper()
	table, err := csv.NewReader(strings.NewReader(contents(t, folder)["overview.csv"])).ReadAll()
	require.NoError(t, err)
	assert.True(t, strings.HasPrefix(contents(t, folder)["overview.xlsx"], "PK"))
	return table
}

func TestOverviewOfManyFields(t *testing.T) {
	args := append(lattices(t, twelve()), "--write", "overview")
	code, _, errs := run(t, args...)
	require.Zero(t, code, errs)
	first := contents(t, "out")
	table := tableOf(t, "out")
	assert.Equal(t, []string{"field", "answer", "to spray, ha", "to spray, acres", "look again by", "field, ha", "field, acres", "stops", "average", "spray level", "counted as", "day of the count"}, table[0])
	assert.Equal(t, []string{"North 3", "spray all", "15.89", "39.27", "2031-08-17", "15.89", "39.27", "12", "75.25", "40", "mean per leaf", "2031-08-14"}, table[1], "the worst first")
	require.Len(t, table, 13)
	assert.Equal(t, []string{"Far", "not scouted", "", "", "", "15.89", "39.27", "0", "", "", "", ""}, table[12], "what nobody walked is last, and not clear")

	code, _, errs = run(t, args...)
	require.Zero(t, code, errs)
	assert.Equal(t, first, contents(t, "out"), "the same bytes again")
	code, _, errs = run(t, append(args, "--units", "us", "--language", "es")...)
	require.Zero(t, code, errs)
	table = tableOf(t, "out")
	assert.Equal(t, []string{"campo", "respuesta", "por aplicar, acres", "revisar a más tardar"}, table[0][:4])
	assert.Equal(t, []string{"North 3", "aplique en todo", "39.27"}, table[1][:3])
	code, _, errs = run(t, "report", "out", "--write", "overview")
	require.Zero(t, code, errs)
	assert.Equal(t, table, tableOf(t, "out"))
}

func TestFolderOfEachGrower(t *testing.T) {
	args := append(lattices(t, twelve()), "--fields", "fields.csv", "--by-grower")
	put(t, "fields.csv", "field,grower\nNorth 1,=Ann & Co.\nNorth 3,=ann & co.\nHome,Bo/Example\nCrest,Bo Example\nFar,Cy Example\n")
	code, out, errs := run(t, args...)
	require.Zero(t, code, errs)
	assert.Equal(t, []string{"Ann-Co", "Bo-Example", "Bo-Example-2", "no-grower", "overview.csv", "overview.xlsx"}, names(t, "out"))
	assert.Contains(t, errs, `note: fields.csv: tells nothing of "North 2", "North 4", "South 1"`)
	assert.Contains(t, errs, "note: Cy Example: nobody counted in Far")
	assert.Contains(t, out, "=Ann & Co.\n")
	for folder, fields := range map[string][]string{"Ann-Co": {"North 1", "North 3"}, "Bo-Example": {"Crest"}, "Bo-Example-2": {"Home"}} {
		got := summaryOf(t, filepath.Join("out", folder))
		require.Len(t, got, len(fields))
		for _, f := range fields {
			assert.Contains(t, got, f)
		}
		code, _, errs := run(t, "report", filepath.Join("out", folder))
		require.Zero(t, code, errs)
		assert.NotContains(t, contents(t, filepath.Join("out", folder))["report.html"], "South 3", "no grower sees what is another's")
	}
	for _, folder := range []string{"Ann-Co", "Bo-Example", "Bo-Example-2", "no-grower"} {
		require.NoError(t, os.RemoveAll(filepath.Join("out", folder)))
	}
	table := tableOf(t, "out")
	assert.Equal(t, []string{"field", "grower", "answer"}, table[0][:3])
	assert.Equal(t, []string{"North 3", "'=ann & co.", "spray all"}, table[1][:3], "no cell becomes a formula")
	require.Len(t, table, 13)
	assert.Equal(t, []string{"Far", "Cy Example", "not scouted"}, table[12][:3], "of a grower for whom nobody counted")

	require.NoError(t, os.RemoveAll("out"))
	code, _, errs = run(t, append(lattices(t, twelve()), "--by-grower")...)
	assert.Equal(t, 2, code)
	assert.Contains(t, errs, "--by-grower wants to know who grows which field")
	put(t, "fields.csv", "field,grower\nNorth 1,Ann Example\n")
	require.NoError(t, os.Mkdir("out", 0o700))
	put(t, "out/letter.txt", "mine")
	code, _, errs = run(t, args...)
	assert.Equal(t, 1, code)
	assert.Contains(t, errs, "out holds other files, such as letter.txt")
	assert.Equal(t, []string{"letter.txt"}, names(t, "out"))
}
