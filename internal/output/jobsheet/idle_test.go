package jobsheet_test

import (
	"errors"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/internal/output/jobsheet"
	"github.com/geocoris/geocoris/internal/spraying/handoff"
)

// Fields of which the same is to be said stand in one line of the screen, in their order.
func TestFieldsAlikeWithoutAJobStandTogether(t *testing.T) {
	s := busy(t)
	held := errors.New("held back")
	s.Result.Idle = nil
	for _, f := range [][3]string{{"C", "no spray", "2026-07-22"}, {"D", "look again", "2026-07-20"}, {"E", "no spray", "2026-07-22"}, {"F", "no spray", "2026-07-23"}} {
		s.Result.Idle = append(s.Result.Idle, handoff.Idle{Field: f[0], Why: held, Advice: handoff.Advice{Verdict: f[1], Heading: f[1], LookAgain: f[2]}})
	}
	var lines []string
	for _, line := range (jobsheet.Brief{Sheet: s, Width: 4000}).Lines() {
		if strings.Contains(line.Text, "no job.") {
			lines = append(lines, line.Text)
		}
	}
	const all = " --against-verdict makes one all the same."
	assert.Equal(t, []string{
		"C, E: no job. The map says: do not spray; look again on Wednesday 22 July." + all,
		"D: no job. The map says: do not spray yet; look again on Monday 20 July." + all,
		"F: no job. The map says: do not spray; look again on Thursday 23 July." + all,
	}, lines)
}
