package report_test

import (
	"bytes"
	"encoding/json"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/fieldstats"
	"github.com/geocoris/geocoris/internal/report"
	"github.com/geocoris/geocoris/internal/verdict"
)

func verdicts(t *testing.T) []verdict.Verdict {
	t.Helper()
	all, err := verdict.Of(result(t), verdict.Settings{})
	require.NoError(t, err)
	return all
}

// Three stops, nothing to believe: the answer is to count on, in every form.
func TestThreeStopsAreUndecided(t *testing.T) {
	r, all := result(t), verdicts(t)
	require.Len(t, all, 1, "only one field was walked")
	assert.Equal(t, verdict.Undecided, all[0].Kind)
	var screen, summary bytes.Buffer
	require.NoError(t, report.Screen{Result: r, Verdicts: all}.Write(&screen))
	assert.Contains(t, screen.String(), "  verdict: undecided: 2 more stops would settle it\n")
	assert.Contains(t, strings.Join(strings.Fields(screen.String()), " "), "the map is no better than the field's mean, so it tells no spots")
	require.NoError(t, report.WriteSummary(&summary, r, all...))
	var s struct {
		Fields []struct {
			Verdict *struct {
				Verdict    string
				More_stops int
				Stops      struct{ Mean, Mean_low *float64 }
			}
		}
		Taylor_across_fields any
	}
	require.NoError(t, json.Unmarshal(summary.Bytes(), &s))
	require.NotNil(t, s.Fields[0].Verdict)
	assert.Equal(t, "undecided", s.Fields[0].Verdict.Verdict)
	assert.Equal(t, 2, s.Fields[0].Verdict.More_stops, "one of the three stands at the pond")
	assert.Nil(t, s.Taylor_across_fields, "one field tells no power law")

	summary.Reset()
	require.NoError(t, report.WriteSummary(&summary, r))
	assert.NotContains(t, summary.String(), `"look_again_in_days"`, "without verdicts none is written")
}

func TestVerdictsGoToFeaturesAndFolders(t *testing.T) {
	r, all := result(t), verdicts(t)
	all[0].GoodUntil, all[0].On = "2026-07-22", "2026-07-18"
	plain := report.ZoneFeatures(r)
	marked := report.WithVerdicts(plain, all)
	require.Len(t, marked, len(plain))
	for i, f := range marked {
		v, _ := f.Properties.Get("verdict")
		assert.Equal(t, "undecided", v)
		until, _ := f.Properties.Get("good_until")
		assert.Equal(t, "2026-07-22", until)
		advice, _ := f.Properties.Get("advice")
		assert.Equal(t, "undecided: 2 more stops would settle it", advice)
		look, _ := f.Properties.Get("look_again")
		assert.Equal(t, "2026-07-18", look)
		_, there := plain[i].Properties.Get("verdict")
		assert.False(t, there, "what was given stays as it was")
	}
	d := report.Document(r)
	before := d.Folders[0].Description
	m := report.DocumentWithVerdicts(d, all)
	assert.Equal(t, "Verdict: undecided: 2 more stops would settle it. This map is good until 2026-07-22. "+before, m.Folders[0].Description)
	assert.Equal(t, before, d.Folders[0].Description)
	assert.Equal(t, d.Folders[len(d.Folders)-1], m.Folders[len(m.Folders)-1], "the stops are no field")
}

func TestHeadings(t *testing.T) {
	v := verdict.Verdict{Days: 3, On: "2026-07-18", More: 12, Figures: verdict.Figures{TreatArea: 5e4}}
	for kind, want := range map[verdict.Kind]string{
		verdict.NoSpray:    "no spray; look again on 2026-07-18",
		verdict.LookAgain:  "do not spray now; look again on 2026-07-18",
		verdict.SpotSpray:  "spot spray 5.00 ha, the treat zone; look again on 2026-07-18",
		verdict.TreatWhole: "treat the whole field; look again on 2026-07-18",
		verdict.Undecided:  "undecided: 12 more stops would settle it",
	} {
		v.Kind = kind
		assert.Equal(t, want, report.VerdictHeading(v, report.Metric))
	}
	v.On, v.Kind = "", verdict.LookAgain
	assert.Equal(t, "do not spray now; look again in 3 days", report.VerdictHeading(v, report.Both))
	v.Treat, v.Low, v.High = 40, 10.6, 56.9
	assert.Equal(t, "below the threshold, but not surely; look again in 3 days", report.VerdictHeading(v, report.Both))
	v.Kind, v.Days = verdict.TreatWhole, 1
	assert.Equal(t, "treat the whole field; look again after 1 day", report.VerdictHeading(v, report.Both))
}

func TestReasonsInNumbers(t *testing.T) {
	v := verdict.Verdict{
		Kind: verdict.SpotSpray, Why: "why", AllOver: true,
		Figures: verdict.Figures{
			Stats: fieldstats.Summary{
				Stops: 20, Mean: 44, Level: 0.9, Interval: fieldstats.Interval{Low: 20, High: 71},
				Found: fieldstats.Proportion{Hits: 19}, Edge: fieldstats.Edge{EdgeStops: 2, EdgeMean: 90, InteriorMean: 40},
			},
			Treat: 40, Area: 50e4, TreatArea: 20e4, Unscouted: 1e4, RestMean: 13, Believed: true, Skill: 0.31, Doubling: 4.2,
			Costs: &verdict.Costs{Spot: 155, Whole: 300, SpotAverts: 443, WholeAverts: 718},
		},
	}
	text := strings.Join(report.VerdictReasons(v, report.Metric), "; ")
	for _, want := range []string{
		"why; mean 44 against a threshold of 40, with 90 % confidence 20 to 71",
		"40.0 % of the field is treat ground and 1.00 ha (2.0 %) nobody has been near",
		"found at 19 of 20 stops, all over the field, 13 on average outside the treat zone",
		"the map's skill is 0.31",
		"2 stops on the edge with a mean of 90 against 40 inside",
		"a spot job costs 155, the whole field 300; it would save 718 of the crop, 443 of that in the treat zone",
		"the mean is over the threshold, though not surely",
		"treating the whole field stays a choice",
	} {
		assert.Contains(t, text, want)
	}
	assert.NotContains(t, text, "doubling", "it is over already")
	v.Low = 41 // over by its edge
	surely := strings.Join(report.VerdictReasons(v, report.Metric), "; ")
	assert.NotContains(t, surely, "not surely")
	assert.Contains(t, surely, "the mean is surely over the threshold, though by the edge: inside it is below")
	v.Stats.Interval = fieldstats.Interval{Low: math.NaN(), High: math.NaN()}
	assert.Contains(t, strings.Join(report.VerdictReasons(v, report.Metric), "; "), "how sure cannot be told")
}

func TestPowerLawAcrossFields(t *testing.T) {
	r, one := result(t), verdicts(t)[0]
	var all []verdict.Verdict
	for _, mean := range []float64{1, 4, 30} {
		v := one
		v.Stats.Mean, v.Stats.Variance = mean, 3*math.Pow(mean, 1.4)
		all = append(all, v)
	}
	all[1].Field, all[2].Field = "b", "c"
	var screen bytes.Buffer
	require.NoError(t, report.Screen{Result: r, Verdicts: all}.Write(&screen))
	assert.Contains(t, screen.String(), "Across 3 fields: variance between stops = 3·mean^1.4 (Taylor's power law, r² 1)")
}
