package report_test

import (
	"bytes"
	"encoding/json"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/mapping/decision"
	"github.com/geocoris/geocoris/internal/mapping/fieldstats"
	"github.com/geocoris/geocoris/internal/mapping/verdict"
	"github.com/geocoris/geocoris/internal/output/report"
	"github.com/geocoris/geocoris/internal/scouting/survey"
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
	assert.Contains(t, screen.String(), "  verdict: undecided: too few stops lie inside it; walk 10 more stops over the whole field, today; else look again within 3 days")
	assert.Contains(t, strings.Join(strings.Fields(screen.String()), " "), "the map is no better than the field's mean")
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
	assert.Equal(t, 10, s.Fields[0].Verdict.More_stops, "anew, as many as a map of the one over the threshold wants")
	assert.Nil(t, s.Taylor_across_fields, "one field tells no power law")

	summary.Reset()
	require.NoError(t, report.WriteSummary(&summary, r))
	assert.NotContains(t, summary.String(), `"look_again_in_days"`, "without verdicts none is written")
}

// Where the first counts were too old when the last were taken no day of a next look is
// told, whatever the verdict: they are to be counted again at once.
func TestTheHeadingOfStaleCountsAsksForThemAgain(t *testing.T) {
	for kind := verdict.Undecided; kind <= verdict.TreatWhole; kind++ {
		v := verdict.Verdict{Kind: kind, On: "2026-07-15", GoodUntil: "2026-07-15", More: 2}
		assert.Contains(t, report.VerdictHeading(v, figures.Metric), "look again", kind)
		v.GoodUntil, v.Stale = "2025-07-22", true
		heading := report.VerdictHeading(v, figures.Metric)
		assert.Regexp(t, "; count the old stops again today$", heading, kind)
		assert.NotContains(t, heading, "look again on", kind)
		assert.NotContains(t, heading, "2025", kind)
	}
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
		assert.Equal(t, "undecided: too few stops lie inside it; walk 10 more stops over the whole field, today; else look again by 2026-07-18", advice)
		look, _ := f.Properties.Get("look_again")
		assert.Equal(t, "2026-07-18", look)
		_, there := plain[i].Properties.Get("verdict")
		assert.False(t, there, "what was given stays as it was")
	}
	d := report.Document(r, figures.Both)
	before := d.Folders[0].Description
	m := report.DocumentWithVerdicts(d, all, figures.Both)
	assert.Equal(t, report.PlainAnswer(all[0], figures.Both)+" "+report.Sentence(report.Used(all[0], figures.Both))+". The map is good until Wednesday 22 July. "+before, m.Folders[0].Description)
	assert.Equal(t, before, d.Folders[0].Description)
	last := len(d.Folders) - 1
	assert.Equal(t, d.Folders[last].Description, m.Folders[last].Description, "the stops are no field")
	assert.Equal(t, slices.Collect(d.Folders[last].All()), slices.Collect(m.Folders[last].All()))
}

// Whatever decided, a heading says what to do today and when to look next: by the day,
// or where the samples tell none in how many days.
func TestHeadings(t *testing.T) {
	v := verdict.Verdict{Says: "why", Where: "round it", More: 12, Figures: verdict.Figures{TreatArea: 5e4}}
	for kind, want := range map[verdict.Kind][2]string{
		verdict.NoSpray:    {"no spray: why; look again on 2026-07-18", "no spray: why; look again in 3 days"},
		verdict.LookAgain:  {"do not spray now: why; look again on 2026-07-18", "do not spray now: why; look again in 3 days"},
		verdict.SpotSpray:  {"spot spray 5.00 ha, the treat zone; look again on 2026-07-18 if not sprayed by then", "spot spray 5.00 ha, the treat zone; look again after 3 days if not sprayed by then"},
		verdict.TreatWhole: {"treat the whole field: why; look again on 2026-07-18 if not sprayed by then", "treat the whole field: why; look again after 3 days if not sprayed by then"},
		verdict.Undecided: {"undecided: why; walk 12 more stops round it, today; else look again by 2026-07-18",
			"undecided: why; walk 12 more stops round it, today; else look again within 3 days"},
	} {
		v.Kind, v.Days, v.On = kind, 3, "2026-07-18"
		assert.Equal(t, want[0], report.VerdictHeading(v, figures.Metric))
		v.On = ""
		assert.Equal(t, want[1], report.VerdictHeading(v, figures.Metric))
	}
	v = verdict.Verdict{Kind: verdict.Undecided, Days: 3, Says: "why", Where: "round it", More: 4, Round: []string{"WP07"}}
	assert.Equal(t, "undecided: why; walk 4 more stops round stop WP07, today; else look again within 3 days", report.VerdictHeading(v, figures.Both))
	v = verdict.Verdict{Kind: verdict.TreatWhole, Days: 1}
	assert.Equal(t, "treat the whole field; look again after 1 day if not sprayed by then", report.VerdictHeading(v, figures.Both))
	v = verdict.Verdict{Kind: verdict.Undecided, Days: 1, More: 1}
	assert.Equal(t, "undecided; walk 1 more stop, today; else look again within 1 day", report.VerdictHeading(v, figures.Both))
}

// A heading names the rows to be read first, three at the most, and says how many stops
// were used.
func TestHeadingsOfRowsNotRead(t *testing.T) {
	row := func(line int, stop, column, value string) survey.Unread {
		return survey.Unread{Problem: survey.Problem{File: "week2.csv", Line: line, Column: column, Value: value, Severity: survey.Refused, What: "is not a number", Fix: "write a number"},
			Row: survey.Record{Stop: stop}, Placed: true, Most: math.Inf(1)}
	}
	v := verdict.Verdict{Kind: verdict.Undecided, Line: verdict.Unread, Without: verdict.LookAgain, Days: 3, On: "2026-07-18", Figures: verdict.Figures{Stats: fieldstats.Summary{Stops: 12}},
		Unread: []assess.Unread{{Own: true, Rows: []survey.Unread{row(7, "WP07", "count", "1O0")}}}}
	assert.Equal(t, `undecided: the count of stop WP07 could not be read (week2.csv:7, "1O0"): find it out or count it again today, and map again; look again by 2026-07-18; 12 of 13 stops used`, report.VerdictHeading(v, figures.Both))
	assert.Contains(t, report.VerdictReasons(v, figures.Both), `the other stops alone say "look again"`)
	assert.Contains(t, report.VerdictReasons(v, figures.Both), `not read: week2.csv:7: count "1O0": is not a number; write a number`)

	both := v
	both.Without, both.Says, both.Round, both.More = verdict.Undecided, "why", []string{"3", "5", "9"}, 12
	assert.Equal(t, `undecided: the count of stop WP07 could not be read (week2.csv:7, "1O0"): find it out or count it again today, walk 12 more stops round stops 3, 5 and 9 as well, and map again; look again by 2026-07-18; 12 of 13 stops used`, report.VerdictHeading(both, figures.Both))
	assert.Contains(t, report.VerdictReasons(both, figures.Both), `the other stops alone say "undecided": why`)

	for want, change := range map[string]func(*survey.Unread){
		"undecided: the place of stop WP07 could not be read": func(u *survey.Unread) { u.Placed, u.Most = false, u.Least },
		"undecided: place and count of stop WP07 could not":   func(u *survey.Unread) { u.Placed = false },
		"undecided: the count of a stop could not be read":    func(u *survey.Unread) { u.Row.Stop = "" },
		"undecided: a row could not be read":                  func(u *survey.Unread) { u.Shifted, u.Placed = true, false },
	} {
		one := v
		u := row(7, "WP07", "count", "1O0")
		change(&u)
		one.Unread = []assess.Unread{{Own: true, Rows: []survey.Unread{u}}}
		assert.Contains(t, report.VerdictHeading(one, figures.Both), want)
	}

	v.Unread = append(v.Unread, assess.Unread{Rows: []survey.Unread{row(8, "8", "count", "")}}, assess.Unread{Own: true, Loose: true, Rows: []survey.Unread{row(9, "9", "count", strings.Repeat("x", 30)), row(10, "9", "count", "")}})
	v.Undated = 2
	assert.Equal(t, `undecided: 4 rows could not be read: stop WP07 (week2.csv:7, "1O0"), stop 8 (week2.csv:8, blank), stop 9 (week2.csv:9, "`+strings.Repeat("x", 24)+
		`…"), and 1 more: find them out or count them again today, and map again; look again by 2026-07-18; 12 of up to 14 stops used; 1 row of the stops used not read; the day of 2 rows not read`, report.VerdictHeading(v, figures.Both))

	v = verdict.Verdict{Kind: verdict.SpotSpray, Days: 3, On: "2026-07-18", Unread: v.Unread[:1], Figures: v.Figures}
	assert.Equal(t, "spot spray 0.00 ha, the treat zone; look again on 2026-07-18 if not sprayed by then; 12 of 13 stops used", report.VerdictHeading(v, figures.Metric))
	assert.Contains(t, report.VerdictReasons(v, figures.Metric), "what was not read may make the treat ground larger")
}

// What is there never reads as nothing.
func TestSmallAreas(t *testing.T) {
	for _, c := range []struct {
		m2   float64
		u    figures.Units
		want string
	}{
		{0, figures.Metric, "0.00 ha"}, {2, figures.Metric, "2 m²"}, {0.2, figures.Both, "1 m²"}, {49, figures.Both, "49 m²"},
		{50, figures.Metric, "0.01 ha"}, {2, figures.US, "22 sq ft"}, {49, figures.US, "0.01 ac"},
	} {
		assert.Equal(t, c.want, c.u.Area(c.m2))
	}
	v := verdict.Verdict{Figures: verdict.Figures{Area: 50e4, Unscouted: 2}}
	assert.Contains(t, report.VerdictReasons(v, figures.Metric), "there is no treat ground and 2 m² (under 0.1 %) nobody has been near")
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
	text := strings.Join(report.VerdictReasons(v, figures.Metric), "; ")
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
	assert.Contains(t, text, "doubling every 4.2 days the mean outside the treat zone would be over in 6", "of the ground that is left; all of it is over already")
	v.Low = 41 // over by its edge
	surely := strings.Join(report.VerdictReasons(v, figures.Metric), "; ")
	assert.NotContains(t, surely, "not surely")
	assert.Contains(t, surely, "the mean is surely over the threshold: by its own statistic the rule asks for the whole field")
	v.Stats.Interval = fieldstats.Interval{Low: math.NaN(), High: math.NaN()}
	assert.Contains(t, strings.Join(report.VerdictReasons(v, figures.Metric), "; "), "how sure is not known")
}

func TestAMeanThatIsSoonOver(t *testing.T) {
	v := verdict.Verdict{Figures: verdict.Figures{Stats: fieldstats.Summary{Stops: 20, Mean: 37.6}, Treat: 40, Doubling: 4.2, Area: 1}}
	assert.Contains(t, strings.Join(report.VerdictReasons(v, figures.Metric), "; "), "the mean would be over within a day")
	v.Stats.Mean = 20
	assert.Contains(t, strings.Join(report.VerdictReasons(v, figures.Metric), "; "), "the mean would be over in 4")
}

// What choices are expected to cost stands in the order of what is to be done, with how
// near the next is; sums have two digits, savings one.
func TestExpectedCostsInWords(t *testing.T) {
	v := verdict.Verdict{
		Kind: verdict.SpotSpray, Why: "why", Saves: 0.034 * 50e4,
		Figures: verdict.Figures{
			Stats: fieldstats.Summary{Stops: 20, Mean: 24}, Treat: 40, PaysAt: 40, Area: 50e4, TreatArea: 10e4, Believed: true,
			Sums: decision.Sums{Area: 50e4, ZoneArea: 10e4, Nothing: 0.8123 * 50e4, Zone: 0.4166 * 50e4, Whole: 50e4},
		},
	}
	text := func() string { return strings.Join(report.VerdictReasons(v, figures.Metric), "; ") }
	assert.Contains(t, text(), "expected cost in treatments of the field, with what is lost where nothing is sprayed: the treat zone 0.42, the whole field 1.0, doing nothing 0.81 (a treatment is taken to pay at the threshold); 10 more stops would save about as much as treating 3 % of the field, on average over such fields")
	assert.NotContains(t, text(), "close call")
	v.Kind, v.Instead, v.More, v.Close, v.Saves = verdict.Undecided, verdict.LookAgain, 8, true, 0.009*50e4
	assert.Contains(t, text(), "doing nothing 0.81, the treat zone 0.42, the whole field 1.0, a close call")
	assert.Contains(t, text(), "`geocoris plan --after` says where to walk them")
	assert.NotContains(t, text(), "change little", "beside a walk that is asked for")
	assert.NotContains(t, text(), "on average over such fields")
	v.Kind, v.Instead, v.More, v.Costs, v.PaysAt = verdict.TreatWhole, verdict.None, 0, &verdict.Costs{Whole: 3210, Spot: 700, SpotAverts: math.NaN(), WholeAverts: math.NaN()}, 33
	v.Saves, v.StopsCost = 64, 20
	assert.Contains(t, text(), "expected cost, with what is lost where nothing is sprayed: the whole field 3200, the treat zone 1300, doing nothing 2600, a close call (a treatment pays at 33); 10 more stops would save about 60, on average over such fields")
	v.StopsCost = 80
	assert.Contains(t, text(), "10 more stops would cost 80 to walk, more than the about 60 that they would save on average over such fields")
	v.Sums = decision.Sums{}
	assert.NotContains(t, text(), "expected cost")
}

// Where no stop can be added today a heading says what to do in its place.
func TestHeadingsSayWhatToDoInstead(t *testing.T) {
	v := verdict.Verdict{Kind: verdict.Undecided, Says: "why", More: 4, Days: 3, On: "2026-07-18", Figures: verdict.Figures{TreatArea: 5e4}}
	for kind, want := range map[verdict.Kind]string{
		verdict.LookAgain:  "undecided: why; walk 4 more stops, today; else look again by 2026-07-18",
		verdict.SpotSpray:  "undecided: why; walk 4 more stops, today; else spot spray 5.00 ha, the treat zone; look again by 2026-07-18 if not sprayed by then",
		verdict.TreatWhole: "undecided: why; walk 4 more stops, today; else treat the whole field; look again by 2026-07-18 if not sprayed by then",
	} {
		v.Instead = kind
		assert.Equal(t, want, report.VerdictHeading(v, figures.Metric))
	}
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
