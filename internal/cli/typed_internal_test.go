package cli

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// A path on Windows is typed so that both of its shells take it for one word.
func TestWordsAreTypedForTheShellsOfWindows(t *testing.T) {
	for word, want := range map[string]string{
		`out`:                       `out`,
		`C:\farm\week2.csv`:         `C:\farm\week2.csv`,
		`C:\My Farm\week 2.csv`:     `"C:\My Farm\week 2.csv"`,
		`C:\My Farm\`:               `"C:\My Farm\\"`,
		`C:\farm\`:                  `C:\farm\`,
		`product A=46.5 lb`:         `"product A=46.5 lb"`,
		`hives.geojson=50m`:         `hives.geojson=50m`,
		`Smith's & Sons`:            `"Smith's & Sons"`,
		`2,3`:                       `"2,3"`,
		`6" high`:                   `"6\" high"`,
		``:                          `""`,
		`\\office\farms\North 3 ü\`: `"\\office\farms\North 3 ü\\"`,
	} {
		assert.Equal(t, want, typedOnWindows(word), word)
	}
}

// A folder that begins with a dash is no flag in a command to copy; a value of a flag, and
// what is read from standard input, stay as they are.
func TestNamesThatBeginWithADash(t *testing.T) {
	assert.Equal(t, "geocoris handoff ./-o --swath WIDTH --out -o-job", shellLine([]string{"geocoris", "handoff", "-o", "--swath", "WIDTH", "--out", "-o-job"}))
	assert.Equal(t, "geocoris map -", shellLine([]string{"geocoris", "map", "-"}))
}
