package report_test

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/followup/change"
	"github.com/geocoris/geocoris/internal/followup/compare"
	"github.com/geocoris/geocoris/internal/geometry/zones"
	"github.com/geocoris/geocoris/internal/language/figures"
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

// The heading tells the levels of all fields, or that each has its own, which then stands with
// the field.
func TestTheHeadingOfACompareTellsNoFieldsLevelForAll(t *testing.T) {
	lines := func(r *compare.Result) (all []string) {
		for _, f := range r.Fields {
			f.Steps = []*compare.Step{{From: 0, To: 1, Days: 7}}
		}
		for _, l := range (report.CompareBrief{CompareScreen: report.CompareScreen{Result: r, Units: figures.Metric}, Width: 200}).Lines() {
			all = append(all, strings.TrimSpace(l.Text))
		}
		return all
	}
	const title = "Pest not named, Thursday 14 August to Thursday 21 August 2031: "
	alike := lines(leveled(20, 20))
	assert.Equal(t, title+"spray at 20 a leaf, watch at 5.", alike[0])
	assert.NotContains(t, alike, "Spray at 20 a leaf, watch at 5.", "once")
	differ := lines(leveled(20, 3))
	assert.Equal(t, title+"each field by its own level.", differ[0])
	assert.Contains(t, differ, "Spray at 20 a leaf, watch at 5.")
	assert.Contains(t, differ, "Spray at 3 a leaf, watch at 5.")
}

// Whether sprayed ground is still over the level is asked of the level of its own field, at the
// visit after the spray.
func TestSprayedGroundIsOverItsOwnFieldsLevel(t *testing.T) {
	for mean, over := range map[float64]bool{2.9: false, 3: true, 10: true} {
		r := leveled(20, 3)
		f := r.Fields[1]
		f.Steps = []*compare.Step{{From: 0, To: 1, Days: 7, Parts: []compare.Part{{Lot: compare.TreatedBetween, Dates: []string{"2031-08-15"}, NA: 9, NB: 9, MeanA: 12, MeanB: mean}}}}
		f.Treatments = []compare.TreatmentResult{{Treatment: compare.Treatment{Date: "2031-08-15"}}}
		var said string
		for _, a := range report.Answers(r, f, figures.Metric) {
			said += strings.Join(a.Said, " ")
		}
		assert.Equal(t, over, strings.Contains(said, "not under the spray level"), mean)
	}
}
