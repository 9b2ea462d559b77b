package report_test

import (
	"bytes"
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/followup/change"
	"github.com/geocoris/geocoris/internal/followup/compare"
	"github.com/geocoris/geocoris/internal/geometry/zones"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/output/report"
)

// leveled is an invented comparison of fields that go by these treat levels at last.
func leveled(last ...float64) *compare.Result {
	all := &compare.Result{Statistic: assess.Statistic{Unit: "leaf"}, Levels: assess.Levels{Levels: zones.Levels{TreatAt: last[0], WatchAt: 5}}}
	for i, treat := range last {
		_, f, _ := twoVisits()
		f.Name = string(rune('A' + i))
		f.Tracks = &change.Tracks{}
		for _, v := range f.Visits {
			v.Levels.TreatAt, v.Assess.Map = treat, &zones.Map{}
		}
		f.Steps = nil
		f.Next.Within = []compare.Ahead{{}}
		all.Fields = append(all.Fields, f)
	}
	return all
}

func TestFieldsOfACompareTellTheirOwnLevels(t *testing.T) {
	told := func(r *compare.Result) (out struct {
		TreatAt *float64 `json:"treat_at"`
		Fields  []struct {
			TreatAt     *float64 `json:"treat_at"`
			TreatSource string   `json:"treat_source"`
			WatchSource string   `json:"watch_source"`
		} `json:"fields"`
	}) {
		var b bytes.Buffer
		require.NoError(t, report.WriteCompareSummary(&b, r))
		require.NoError(t, json.Unmarshal(b.Bytes(), &out))
		return out
	}
	differ := leveled(20, 30)
	for _, v := range differ.Fields[1].Visits {
		v.Levels.TreatSource, v.Levels.WatchSource = "treat of B", "watch of B"
	}
	own := told(differ)
	assert.Nil(t, own.TreatAt, "no level holds for all")
	assert.Equal(t, 20.0, *own.Fields[0].TreatAt)
	assert.Equal(t, 30.0, *own.Fields[1].TreatAt)
	assert.Equal(t, [2]string{"treat of B", "watch of B"}, [2]string{own.Fields[1].TreatSource, own.Fields[1].WatchSource})
	one := told(leveled(20, 20))
	assert.Equal(t, 20.0, *one.TreatAt)
	assert.Nil(t, one.Fields[1].TreatAt)

	var screen bytes.Buffer
	require.NoError(t, report.CompareScreen{Result: leveled(20, 30)}.Write(&screen))
	assert.Contains(t, screen.String(), "  A: treat at 20: ")
	assert.Contains(t, screen.String(), "  B: treat at 30: ")
	screen.Reset()
	require.NoError(t, report.CompareScreen{Result: leveled(20, 20)}.Write(&screen))
	assert.Contains(t, screen.String(), "\n  treat at 20: ")
	assert.NotContains(t, screen.String(), "A: treat")
}
