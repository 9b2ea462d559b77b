package jobsheet_test

import (
	"errors"
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/internal/output/jobsheet"
	"github.com/geocoris/geocoris/internal/spraying/handoff"
)

// Where no field has a job, why is said in the words of the map, days as people say them,
// with what to do where the rest cannot be found out; how to make one is the hint.
func TestWhyThereIsNoJob(t *testing.T) {
	undecided := handoff.Advice{Verdict: "undecided", LookAgain: "2026-07-19",
		Heading: "undecided: the count of stop 10 could not be read (blankhot.csv:11, blank); else spot spray 0.38 ha (0.95 ac), the treat zone; look again by 2026-07-19; 11 of 12 stops used"}
	held := errors.New("held back")
	says, hint := jobsheet.NoJob([]handoff.Idle{{Field: "B", Why: held, Advice: handoff.Advice{Verdict: "look again", LookAgain: "2026-07-21"}}, {Field: "East forty", Why: held, Advice: undecided}})
	assert.Equal(t, "no job: East forty: The map says: not decided yet: the count of stop 10 could not be read. Look again by Sunday 19 July. "+
		"If you cannot, spray the red ground, 0.38 ha (0.95 ac). B: The map says: do not spray yet; look again on Tuesday 21 July", says)
	assert.Equal(t, "--against-verdict makes a job all the same", hint)
	_, hint = jobsheet.NoJob([]handoff.Idle{{Field: "East forty", Why: held, Advice: undecided}})
	assert.Equal(t, "find that out first; only where you cannot, --against-verdict makes the job", hint)
	for instead, want := range map[string]string{
		"spot spray":            "find that out first; only where you cannot, --fallback makes the job that the map names for that",
		"treat the whole field": "find that out first; only where you cannot, --fallback makes the job that the map names for that",
		"look again":            "find that out first; only where you cannot, --against-verdict makes the job",
	} {
		undecided.Instead = instead
		_, hint = jobsheet.NoJob([]handoff.Idle{{Field: "East forty", Why: held, Advice: undecided}})
		assert.Equal(t, want, hint, instead)
	}
	undecided.Instead = ""
	undecided.Heading = "undecided: walk 8 more stops; else treat the whole field; look again by 2026-07-19"
	says, _ = jobsheet.NoJob([]handoff.Idle{{Field: "A", Why: held, Advice: undecided}})
	assert.Contains(t, says, "If you cannot, spray the whole field")
	undecided.Heading = "undecided: walk 8 more stops; else look again by 2026-07-19"
	says, _ = jobsheet.NoJob([]handoff.Idle{{Field: "A", Why: held, Advice: undecided}})
	assert.NotContains(t, says, "If you cannot")
	for heading, want := range map[string]string{ // where many are named in brackets, none is
		`11 rows could not be read: stop 44 (a.csv:45, "lots"), stop 45 (a.csv:46), and 9 more: find them out`:           "not decided yet: 11 rows could not be read. Look again",
		"2 stops have the place of another: stop 4 (a.csv:5), stop 7 (a.csv:8): find them out or count them again today": "not decided yet: 2 stops have the place of another. Look again",
		"stop 4 has the place of stop 3 (a.csv:5): find it out or count it again today":                                  "not decided yet: stop 4 has the place of stop 3. Look again",
	} {
		undecided.Heading = "undecided: " + heading + "; look again by 2026-07-19"
		says, _ = jobsheet.NoJob([]handoff.Idle{{Field: "A", Why: held, Advice: undecided}})
		assert.Contains(t, says, want)
	}
}
