package cli_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A column that is not read is said, and one that looks like a level is no note.
func TestColumnsOfFieldsThatAreNotRead(t *testing.T) {
	args := append(fourFields(t), "--fields", "fields.csv", "--details")
	put(t, "fields.csv", "field,treat_at,acres,crop\nNorth,20,30,sorghum\n")
	code, out, errs := run(t, args...)
	require.Zero(t, code, errs)
	assert.Contains(t, out, "fields.csv: columns not used: acres, crop")
	for header, want := range map[string]string{
		"field,grower,teat_at":             `fields.csv: column "teat_at" is not known`,
		"field,grower,treat at (per leaf)": `fields.csv: column "treat at (per leaf)" is not known`,
		"field,grower,Watch":               `fields.csv: column "Watch" is not known`,
		"field,grower,thresh":              `fields.csv: column "thresh" is not known`,
	} {
		put(t, "fields.csv", header+"\nNorth,10,10,10\n")
		code, _, errs = run(t, append(args, "--out", "none")...)
		assert.Equal(t, 1, code, header)
		assert.Contains(t, errs, want)
		assert.Contains(t, errs, "hint: ")
	}
}

// A watch level of all fields is in the unit of all, not of the rule of one.
func TestWatchLevelOfAllIsNotOfAFieldsRule(t *testing.T) {
	args := append(fourFields(t), "--fields", "fields.csv", "--watch-at", "30")
	put(t, "fields.csv", "field,rule,stage,watch_at\nSouth,sorghum-aphid-mean-40,boot,\nHill,sorghum-aphid-mean-40,boot,35\n")
	code, _, errs := run(t, args...)
	require.Zero(t, code, errs)
	watchAt := func(field string) any {
		return summaryOf(t, "out")[field]["levels"].(map[string]any)["watch_at"]
	}
	assert.Equal(t, 30.0, watchAt("North"))
	assert.InDelta(t, 12.6, watchAt("South"), 0.01, "by the growth, as without --watch-at")
	assert.Equal(t, 35.0, watchAt("Hill"))
}
