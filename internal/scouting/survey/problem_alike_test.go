package survey_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/internal/scouting/survey"
)

func TestProblemsAlikeAreOneLine(t *testing.T) {
	swapped := func(line int, value string) survey.Problem {
		return survey.Problem{File: "a.csv", Line: line, Column: "longitude", Value: value, Severity: survey.Refused, What: "is swapped", Fix: "give --fix swap"}
	}
	lines := func(problems ...survey.Problem) (lines []string) {
		for _, g := range survey.TogetherAlike(problems) {
			lines = append(lines, g.String())
		}
		return lines
	}
	other := survey.Problem{File: "a.csv", Line: 4, Column: "count", Value: "x", Severity: survey.Refused, What: "is not a number"}
	assert.Equal(t, []string{
		`a.csv:2: longitude "37.1": is swapped; give --fix swap`, `a.csv:3: longitude "37.2": is swapped; give --fix swap`,
		`a.csv:4: count "x": is not a number`, `a.csv:5: longitude "37.3": is swapped; give --fix swap`,
	}, lines(swapped(2, "37.1"), swapped(3, "37.2"), other, swapped(5, "37.3")), "three stay apart")
	assert.Equal(t, []string{
		`a.csv:2, 3, 5 and 1 more row: longitude "37.1" and the like: is swapped; give --fix swap`, `a.csv:4: count "x": is not a number`,
	}, lines(swapped(2, "37.1"), swapped(3, "37.2"), other, swapped(5, "37.3"), swapped(6, "37.4")))
	few := func(line int, stop string) survey.Problem {
		return survey.Problem{File: "a.csv", Line: line, Column: "leaves", Value: "2", Stop: stop, What: "has fewer than 5 leaves"}
	}
	assert.Equal(t, []string{`a.csv:2, 3, 4 and 2 more rows: leaves "2": each stop has fewer than 5 leaves`},
		lines(few(2, "A"), few(3, "B"), few(4, "C"), few(5, "D"), few(6, "E")))
	assert.Equal(t, []string{`a.csv:2: leaves "2": stop A has fewer than 5 leaves`}, lines(few(2, "A")))
	elsewhere := swapped(6, "37.4")
	elsewhere.File = "b.csv"
	assert.Len(t, lines(swapped(2, "37.1"), swapped(3, "37.2"), swapped(5, "37.3"), elsewhere), 4, "another file is another matter")
	assert.Empty(t, lines())
}

// A table that was put under itself has a row for each that stands twice, and each names another.
func TestRowsThatStandTwiceAreOneLine(t *testing.T) {
	table := func(rows int, shift int) (text string) {
		for i := range rows {
			text += fmt.Sprintf("S%d,-101.60%02d,35.90%02d,%d,10\n", i, i, i, 7*i+shift)
		}
		return text
	}
	const header = "stop,longitude,latitude,count,leaves\n"
	lines := func(text string) (lines []string) {
		for _, g := range survey.TogetherAlike(read(t, text, survey.Options{}).Problems) {
			lines = append(lines, g.String())
		}
		return lines
	}
	const fix = "; drop one of the two, or number plants and leaves"
	assert.Equal(t, []string{`counts.csv:9, 10, 11 and 4 more rows: stop "S0" and the like: each is the same as another row, the first as line 2` + fix},
		lines(header+table(7, 0)+table(7, 0)))
	assert.Equal(t, []string{
		`counts.csv:9: stop "S0": the same row as line 2 once more` + fix, `counts.csv:10: stop "S1": the same row as line 3 once more` + fix, `counts.csv:11: stop "S2": the same row as line 4 once more` + fix,
	}, lines(header+table(7, 0)+table(3, 0)), "three stay apart")
	assert.Equal(t, []string{`counts.csv:14, 15, 16 and 2 more rows: stop "S0" and the like: each stands in another row too with another count, the first on line 2, and both are used; take out the one that is wrong`},
		lines(header+table(12, 0)+table(5, 1)))
}
