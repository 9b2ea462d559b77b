package survey_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// Half a file is no smaller morning.
func TestATableThatWasCutOffIsRefused(t *testing.T) {
	whole := slipsHead + walk(8, some, ten)
	at := strings.LastIndex(whole, ",10,") + 3
	for name, c := range map[string]struct {
		text    string
		refused bool
	}{
		"within a row":           {whole[:at], true},
		"within the last cell":   {whole[:len(whole)-4], false},
		"after a row":            {strings.TrimSuffix(whole, "\n"), false},
		"with a line break":      {whole[:at] + "\n", false},
		"with another short row": {strings.Replace(whole[:at], ",2026-07-15T06:02", "", 1), false},
		"five rows before it":    {slipsHead + walk(5, some, ten) + "6,-101.61,35.9", true},
		"a line on who walked":   {whole + "walked by Ann, wind 5 mph", false},
		"an average":             {whole + "Average 8.5", false},
		"a sum":                  {whole + "Total,,,55", false},
		"a sum at once":          {whole + "Total,55", false},
		"four rows before it":    {slipsHead + walk(4, some, ten) + "6,-101.61,35.9,3,10", false},
	} {
		read := func(incoming bool) error {
			_, err := survey.Read([]geofile.Source{{Name: "a.csv", Content: []byte(c.text)}}, survey.Options{Incoming: incoming})
			return err
		}
		require.NoError(t, read(false), "%s: of counts that were kept", name)
		if c.refused {
			assert.ErrorContains(t, read(true), "of the 6 cells of this row: was it cut off?", name)
		} else {
			assert.NoError(t, read(true), name)
		}
	}
}

// A quote that is open where the file ends was cut off with what came after it.
func TestATableThatWasCutOffInQuotesIsRefused(t *testing.T) {
	head := "stop,longitude,latitude,count,notes\nA,1,2,3,\n"
	for name, c := range map[string]struct {
		end     string
		refused bool
	}{
		"within a note":                   {`B,1,2,3,"hot, and`, true},
		"after a quote in it":             {`B,1,2,3,"5"" hi`, true},
		"at its quote":                    {`B,1,2,3,"`, true},
		"a note that is closed":           {`B,1,2,3,"hot, and wet"`, false},
		"of several lines":                {"B,1,2,3,\"hot,\nand wet,\"", false},
		"inches":                          {`B,1,2,3,5" high`, false},
		"a word in quotes":                {`B,1,2,3,"hot" spot`, false},
		"a stray quote, and a line break": {`B,1,2,3,5" high` + "\n", false},
		"a stray quote before":            {`B,1,2,3,5" high` + "\n" + `C,1,2,3,"hot"`, false},
	} {
		_, err := survey.Read([]geofile.Source{{Name: "a.csv", Content: []byte(head + c.end)}}, survey.Options{Incoming: true})
		if c.refused {
			assert.EqualError(t, err, "a.csv:3: the file ends within a cell in quotes: was it cut off?", name)
		} else {
			assert.NoError(t, err, name)
		}
	}
}
