package report_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/followup/season"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/output/report"
)

// What people wrote on several lines is one row of the list, and one cell of it.
func TestTheListHasARowForEachVisit(t *testing.T) {
	list := report.SeasonList{
		Visits:     []season.Line{{ID: 1, Date: "2031-08-14", Pest: "aphid\n2\tmites", Unit: "mean per leaf", Author: "A\u2028B", Files: []string{"a\nb.csv"}}},
		Treatments: []season.Record{{Date: "2031-08-15", Note: "west\n3      2031-08-20"}},
	}
	var out strings.Builder
	require.NoError(t, list.Write(&out, figures.Both))
	lines := strings.Split(strings.TrimRight(out.String(), "\n"), "\n")
	require.Len(t, lines, 3)
	assert.Equal(t, "1          2031-08-14  0      aphid 2 mites  average per leaf  A B  a b.csv", lines[1])
	assert.Contains(t, lines[2], "west 3 2031-08-20")
}
