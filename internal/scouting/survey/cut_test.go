package survey_test

import (
	"encoding/csv"
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/geocoris/geocoris/internal/scouting/survey"
	"github.com/geocoris/geocoris/internal/testkit"
	"github.com/geocoris/geocoris/internal/testkit/given"
)

// Lines without a quote are not cut by encoding/csv, which is the reference here:
// whatever the mixture of lines, cells and line numbers are the same.
func TestLinesAreCutAsByEncodingCSV(t *testing.T) {
	word := rapid.SampledFrom([]string{"", "a", " b ", "é", "sep=;", `"quoted"`, `"two,cells"`, "\"two\nlines\"", `"one "" quote"`, `""`, "\"\n\n\""})
	line := rapid.OneOf(
		rapid.Custom(func(t *rapid.T) string {
			return fmt.Sprintf("N,10,50,1,%s,%s", word.Draw(t, "plant"), word.Draw(t, "notes"))
		}),
		rapid.SampledFrom([]string{"", " ", ",,,,,", `""`}),
	)
	testkit.Property(t, func(t *rapid.T) {
		rows := rapid.SliceOfN(line, 1, 20).Draw(t, "rows")
		for i := range rows { // none is the same as another
			rows[i] = strings.Replace(rows[i], "N", fmt.Sprint(i), 1)
		}
		text := "stop,longitude,latitude,count,plant,notes\n" + strings.Join(rows, "\n") + rapid.SampledFrom([]string{"", "\n", "\n\n"}).Draw(t, "end")
		s, err := survey.Read(given.Table(text), survey.Options{})
		want := cutByEncodingCSV(t, text)
		if len(want) == 0 {
			require.ErrorContains(t, err, "no rows below the header")
			return
		}
		require.NoError(t, err)
		var got []string
		for _, stop := range s.Stops {
			for _, r := range stop.Records {
				got = append(got, fmt.Sprintf("%d %s %q %q", r.Line, r.Stop, r.Plant, r.Notes))
			}
		}
		assert.ElementsMatch(t, want, got)
	})
}

func cutByEncodingCSV(t require.TestingT, text string) (out []string) {
	r := csv.NewReader(strings.NewReader(text))
	r.FieldsPerRecord = -1
	_, err := r.Read()
	require.NoError(t, err)
	for {
		cells, err := r.Read()
		if err != nil {
			return out
		}
		if line, _ := r.FieldPos(0); strings.TrimSpace(strings.Join(cells, "")) != "" {
			out = append(out, fmt.Sprintf("%d %s %q %q", line, cells[0], strings.TrimSpace(cells[4]), strings.TrimSpace(cells[5])))
		}
	}
}

// A stray quote is reported on its own line, also between lines of the other kind.
func TestStrayQuotesKeepTheirLines(t *testing.T) {
	s := read(t, "stop,longitude,latitude,count,notes\nA,1,2,3,\nB,1,2,3,\"a\"b\nC,1,2,3,\"two\nlines\"\nD,1,2,3,\"x\"y\nE,1,2,3,\n", survey.Options{})
	require.Len(t, s.Problems, 2)
	assert.Equal(t, []int{3, 6}, []int{s.Problems[0].Line, s.Problems[1].Line})
	require.Len(t, s.Stops, 3)
	assert.Equal(t, []int{2, 4, 7}, []int{s.Stops[0].Records[0].Line, s.Stops[1].Records[0].Line, s.Stops[2].Records[0].Line})

	_, err := decode(t, "c.csv", "stop,longitude,latitude,count\nA,1,2,3\nB,1,2,\"3\nC,1,2,3\n", survey.Options{})
	require.EqualError(t, err, "c.csv: line 3: a quote opens and never closes; close it or take it out")
}

// The calendar of package time is the reference.
func TestDaysAreThoseOfTheCalendar(t *testing.T) {
	testkit.Property(t, func(t *rapid.T) {
		text := fmt.Sprintf("%04d-%02d-%02d", rapid.IntRange(1890, 2210).Draw(t, "year"), rapid.IntRange(0, 13).Draw(t, "month"), rapid.IntRange(0, 32).Draw(t, "day"))
		s, err := survey.Read(given.Table("stop,longitude,latitude,count,date\nA,1,2,3,"+text+"\n"), survey.Options{})
		require.NoError(t, err)
		at, err := time.Parse(time.DateOnly, text)
		if err != nil || at.Year() < 1900 || at.Year() > 2200 {
			assert.Empty(t, s.Stops[0].Date)
			assert.Len(t, s.Problems, 1)
			return
		}
		assert.Equal(t, text, s.Stops[0].Date)
	})
}
