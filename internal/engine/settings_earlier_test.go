package engine_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/engine"
	"github.com/geocoris/geocoris/internal/followup/season"
)

// A setting that has another name now is read by both.
func TestASettingsFileMayUseAnEarlierName(t *testing.T) {
	for _, text := range []string{`fix = ["swap", "sign"]`, `mend = ["swap", "sign"]`} {
		o := engine.Defaults()
		require.NoError(t, o.Take(engine.Source{Name: "farm.toml", Content: []byte(text + "\ntreat-at = 50\n[verdict]\nseed = 7\n")}), text)
		want := engine.Defaults()
		want.Fix, want.TreatAt, want.Verdict.Seed = []string{"swap", "sign"}, 50, 7
		assert.Equal(t, want, o, text)
	}
	o := engine.Defaults()
	err := o.Take(engine.Source{Name: "farm.toml", Content: []byte("fix = [\"swap\"]\nmend = [\"sign\"]\n")})
	require.EqualError(t, err, "farm.toml: fix and mend are one setting, given twice")
	err = o.Take(engine.Source{Name: "farm.toml", Content: []byte("\nmends = [\"sign\"]\n")})
	assert.EqualError(t, err, `farm.toml:2:1: no setting is called "mends"`)
}

// A folder of an earlier version is read as it was asked.
func TestARecordMayUseAnEarlierName(t *testing.T) {
	q := morning(t, "week3")
	q.Settings.Fix = []string{"swap"}
	made, err := engine.Map(t.Context(), q)
	require.NoError(t, err)
	folder := mapped(t, q, made)
	const now, before = `"fix": [`, `"mend": [`
	require.Contains(t, string(folder.Run.Content), now)
	for _, name := range []string{now, before} {
		folder.Run.Content = []byte(strings.Replace(string(folder.Run.Content), now, name, 1))
		w, ok, err := engine.Adopted([]engine.Week{{Folder: folder}})
		require.NoError(t, err)
		require.True(t, ok)
		assert.Equal(t, []string{"swap"}, w.Settings.Fix, name)
	}
}

// A season stores a setting by its first name, so that a visit that an earlier version
// stored is known when it is added again, and reads either.
func TestASeasonMayUseAnEarlierName(t *testing.T) {
	q := morning(t, "week3")
	q.Settings.Fix = []string{"swap"}
	v, err := engine.VisitOf(t.Context(), engine.VisitRequest{Setup: q.Setup, Samples: q.Samples, Boundary: q.Boundary})
	require.NoError(t, err)
	const before, now = `"mend":["swap"]`, `"fix":["swap"]`
	require.Contains(t, v.Settings, before)
	assert.NotContains(t, v.Settings, now)
	for _, name := range []string{before, now} {
		kept, err := engine.Kept(season.Visit{Settings: strings.Replace(v.Settings, before, name, 1)})
		require.NoError(t, err)
		assert.Equal(t, []string{"swap"}, kept.Settings.Fix, name)
	}
}

// A value of a wrong kind is told by what the setting takes, not by the program's types.
func TestSettingsOfAWrongKind(t *testing.T) {
	for text, want := range map[string]string{
		`mend = "swap"`:          `1:8: mend: want a list, such as mend = ["swap"]`,
		`fix = [1]`:              `1:8: fix: want a list, such as fix = ["swap"]`,
		`fix = {a = 1}`:          `1:7: fix: want a list, such as fix = ["swap"]`,
		`map = "count"`:          `1:7: map: want a list of texts in quotes, in square brackets`,
		`treat-at = "40"`:        `1:12: treat-at: want a number: write 40, without quotes`,
		`treat-at = 12,5`:        `1:14: treat-at: write 12.5, with a point`,
		`treat-at = `:            `1:11: treat-at: the value is missing: want a number`,
		`min-area = true`:        `1:12: min-area: want a number`,
		"\n[treat-at]":           `2:2: treat-at: want a number`,
		`field = 3`:              `1:9: field: want a text in quotes`,
		`strict = 1`:             `1:10: strict: want true or false`,
		`neighbors = 1979-05-27`: `1:13: neighbors: want a number or a text in quotes`,
	} {
		o := engine.Defaults()
		err := o.Take(engine.Source{Name: "farm.toml", Content: []byte(text)})
		assert.EqualError(t, err, "farm.toml:"+want, text)
	}
}
