//go:build !small

package keyed_test

import (
	"errors"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/files/keyed"
	_ "github.com/geocoris/geocoris/internal/testkit" // knows -fields
)

// side takes left or right.
type side string

func (s *side) UnmarshalText(text []byte) error {
	if string(text) != "left" && string(text) != "right" {
		return errors.New("want left or right")
	}
	*s = side(text)
	return nil
}

type inner struct {
	Level float64 `toml:"level"`
	Whole int     `toml:"whole"`
	Seed  uint64  `toml:"seed"`
}

type example struct {
	inner
	Name  string   `toml:"name"`
	Sure  bool     `toml:"sure"`
	Least *float64 `toml:"least"`
	Side  side     `toml:"side"`
	Fix   []string `toml:"fix"`
	Table inner    `toml:"table"`
	Rows  []inner  `toml:"rows"`
}

func TestWhatIsWrongIsSaidInPlainWords(t *testing.T) {
	for text, want := range map[string]string{
		"level = 12,5\n":                       "f:1:11: level: write 12.5, with a point",
		"\nlevel = -0,25 # a comment\n":        "f:2:11: level: write -0.25, with a point",
		"rows = [{ level = 12,5 }]\n":          "level: write 12.5, with a point",
		"level = \"12,5\"\n":                   "f:1:9: level: want a number: write 12.5, without quotes",
		"level = \"40\"\n":                     "level: want a number: write 40, without quotes",
		"least = \"40\"\n":                     "least: want a number: write 40, without quotes",
		"level = true\n":                       "level: want a number",
		"level = forty\n":                      "level: want a number",
		"level = \n":                           "level: the value is missing: want a number",
		"level: 40\n":                          "level: want an equals sign between name and value: level = 40",
		"level 40\n":                           "level: want an equals sign between name and value: level = 40",
		"sure = yes\n":                         "sure: want true or false",
		"sure = 1\n":                           "sure: want true or false",
		"name = field.csv\n":                   `name: want a text in quotes: name = "field.csv"`,
		"name = 3\n":                           "name: want a text in quotes",
		"side = 3\n":                           "f:1:8: side: want left or right",
		"name = \"side = 3\"\nside = \"up\"\n": "f:2:8: side: want left or right",
		"fix = \"swap\"\n":                     `fix: want a list, such as fix = ["swap"]`,
		"table = 3\n":                          "table: want a table: [table] on a line of its own, its names below",
		"[table]\nwhole = 4.5\n":               "f:2:9: table.whole: want a whole number",
		"[table]\nwhole = \"4,5\"\n":           "table.whole: want a whole number",
		"[table]\nseed = -1\n":                 "table.seed: want a whole number of 0 or more",
		"rows = 3\n":                           "rows: want tables, in square brackets",
		"[[rows]]\nlevel = \"x\"\n":            "level: want a number",
		"level = 1\nlevel = 2\n":               "f:2:1: key level is already defined",
		"levl = 1\n":                           `f:1:1: no name is "levl"`,
		"[table]\nlevl = 1\n":                  `f:2:1: no name is "table.levl"`,
		"level = “40”\n":                       "f:1:9: level: want a number: write 40, without quotes",
		"name = “up”\n":                        `name: write straight quotes: name = "up"`,
		"name = \"up\n":                        "f:1:11: a quote opens and never closes",
		"name = 'up\n":                         "a quote opens and never closes",
		"name = \"C:\\maps\"\n":                `a \ in double quotes stands for something else: put the text in single quotes`,
		"[table\nlevel = 1\n":                  "f:1:7: a square bracket opens and never closes",
		"fix = [\"swap\"\n":                    "a list opens with [ and does not close, or lacks a comma",
		"le vel = 40\n":                        "want an equals sign between name and value, and no blank in the name",
		"= 40\n":                               "f:1:1: the name before the equals sign is missing",
		"// a remark\n":                        "f:1:1: a remark begins with #",
		"{ \"level\": 40 }\n":                  "f:1:1: want a name, an equals sign and a value on each line",
		"level = 1e400\n":                      "level: the number is too large",
		"level = 1\nLevel = 2\n":               "f:1:9: level: is there twice, in small letters and in capitals",
		"[[rows]]\nlevel = 1\nLEVEL = 1\n":     "f:2:9: level: is there twice",
		"level = 1\nname = \"se\xf1or\"\n":     "f:2:11: holds a sign that is not in UTF-8",
		"\xff\xfel\x00":                        "f:1:1: holds a sign that is not in UTF-8",
	} {
		var into example
		err := keyed.File{Name: "f", Text: []byte(text), Unknown: "no name is", Lists: map[string]string{"fix": "swap"}}.Decode(&into)
		var wrong *keyed.Error
		if !assert.ErrorAs(t, err, &wrong, text) {
			continue
		}
		assert.Contains(t, wrong.Error(), want, text)
		assert.NotRegexp(t, `toml|struct|strconv|engine\.|float64|U\+00|keyed_test`, wrong.Error(), text)
	}
	var into example
	require.NoError(t, keyed.File{Text: []byte("\xEF\xBB\xBFlevel = 12.5\nside = \"left\"\n[table]\nwhole = 3\n[[rows]]\nseed = 4\n")}.Decode(&into))
	assert.Equal(t, example{inner: inner{Level: 12.5}, Side: "left", Table: inner{Whole: 3}, Rows: []inner{{Seed: 4}}}, into)
}
