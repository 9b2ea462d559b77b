package survey_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// Marks for the same again stand for the cell above, but for counts.
func TestDittoMarks(t *testing.T) {
	const header = "stop,longitude,latitude,leaf,count,leaves,date\n"
	table := func(mark string) string {
		text := header
		for s := range 3 {
			text += fmt.Sprintf("S%d,%g,35.9,1,%d,1,2026-07-15\n", s, -101.6+0.001*float64(s), s)
			for k := range 2 {
				text += fmt.Sprintf("S%d,%g,35.9,%d,%d,1,2026-07-15\n", s, -101.6+0.001*float64(s), k+2, 7*s)
				if mark != "" {
					at := strings.LastIndex(text[:len(text)-1], "\n") + 1
					text = text[:at] + fmt.Sprintf("%[1]s,%[1]s,%[1]s,%[2]d,%[3]d,%[1]s,%[1]s\n", mark, k+2, 7*s)
				}
			}
		}
		return text
	}
	whole := read(t, table(""), survey.Options{})
	for _, mark := range []string{`""""`, "''", "〃", "”"} {
		s := read(t, table(mark), survey.Options{})
		assert.Equal(t, fmt.Sprintf("%+v", whole.Stops), fmt.Sprintf("%+v", s.Stops), mark)
		assert.Contains(t, s.Notes, "counts.csv: ditto marks are read as the cell above: 30")
	}
	for name, rows := range map[string]string{
		"nothing above":   `"""",-101.6,35.9,1,4,1,2026-07-15` + "\nB,-101.601,35.9,1,4,1,2026-07-15\n",
		"a count":         "A,-101.6,35.9,1,4,1,2026-07-15\n" + `A,-101.6,35.9,2,"""",1,2026-07-15` + "\n",
		"a row cut apart": "A,-101.6,35.9,1,4,1,2026-07-15\n\n" + `"""","""","""",2,4,1,2026-07-15` + "\n",
	} {
		s := read(t, header+rows, survey.Options{})
		assert.Equal(t, survey.Tally{Read: 2, Used: 1, SetAside: 1}, s.Tally, name)
		for _, u := range s.Unread {
			assert.NotEqual(t, `"`, u.Row.Stop, name)
		}
	}
}
