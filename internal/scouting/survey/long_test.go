package survey_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// long is a table of rows of which every hundredth has no count, in runs of three
// to a stop; each stop comes twice, in the two halves of the table.
func long(rows int) string {
	var b strings.Builder
	b.WriteString("stop,longitude,latitude,count,notes\n")
	for i := range rows {
		count := fmt.Sprint(i % 7)
		if i%100 == 50 {
			count = ""
		}
		fmt.Fprintf(&b, "s%d,10,50,%s,row %d\n", i%(rows/2)/3, count, i)
	}
	return b.String()
}

// Rows are read by several processors at once; nothing of it shows.
func TestLongTablesKeepTheirOrder(t *testing.T) {
	const rows = 90_000
	s := read(t, long(rows), survey.Options{})
	assert.Equal(t, survey.Tally{Read: rows, Used: rows - rows/100, SetAside: rows / 100}, s.Tally)
	require.Len(t, s.Problems, rows/100)
	for i, p := range s.Problems {
		require.Equal(t, 100*i+50+2, p.Line)
	}
	require.Len(t, s.Stops, rows/2/3)
	for i, stop := range s.Stops {
		require.Equal(t, fmt.Sprintf("s%d", i), stop.Name)
		for k, r := range stop.Records {
			require.Equal(t, fmt.Sprintf("row %d", r.Line-2), r.Notes)
			require.Equal(t, float64((r.Line-2)%7), r.Total)
			require.True(t, k == 0 || r.Line > stop.Records[k-1].Line)
		}
	}
}

// The file is given up at the same row, however many processors read it.
func TestTheRowThatIsOneTooManyIsNamed(t *testing.T) {
	text := "stop,longitude,latitude,count\n" + strings.Repeat("A,1,2,3\n", 40_000) + strings.Repeat("A,1,2,\n", 40_000)
	_, err := decode(t, "c.csv", text, survey.Options{})
	require.ErrorContains(t, err, "c.csv: more than 10000 rows cannot be used")
	assert.ErrorContains(t, err, "c.csv:50002: count")
}

// Records of a stop that stand together share their memory with no other stop's.
func TestRecordsOfAStopMayBeAppendedTo(t *testing.T) {
	s := read(t, "stop,longitude,latitude,count\nA,1,2,3\nB,1,3,4\n", survey.Options{})
	require.Len(t, s.Stops, 2)
	_ = append(s.Stops[0].Records, survey.Record{Stop: "C"})
	assert.Equal(t, "B", s.Stops[1].Records[0].Stop)
}
