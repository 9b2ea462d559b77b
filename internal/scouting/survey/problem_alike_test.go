package survey_test

import (
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
