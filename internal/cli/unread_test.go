package cli_test

import (
	"archive/zip"
	"encoding/json"
	"fmt"
	"io/fs"
	"os"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/testkit"
)

// The hottest stop of the second invented week.
const (
	hotRow   = "27,-101.598137,35.898205,1122,"
	hotCount = ",1122,"
)

// spoiled replaces cells of invented demonstration data.
func spoiled(t *testing.T, file string, pairs ...string) {
	t.Helper()
	text, err := os.ReadFile(file)
	require.NoError(t, err)
	for i := 0; i < len(pairs); i += 2 {
		require.Equal(t, 1, strings.Count(string(text), pairs[i]), pairs[i])
	}
	require.NoError(t, os.WriteFile(file, []byte(strings.NewReplacer(pairs...).Replace(string(text))), 0o600))
}

// A count that cannot be read is named wherever the answer is, drawn as ? wherever stops
// are, and no job is made past it unasked.
func TestARowThatIsNotReadIsNamedEverywhere(t *testing.T) {
	inFolder(t)
	spoiled(t, "week2.csv", hotRow, strings.Replace(hotRow, hotCount, ",1O0,", 1))
	write := []string{"all", "map.svg,report,surface.kmz"}[testkit.Few(0, 1)] // the others hold no words
	code, out, errs := run(t, week("2", "--details", "--write", write, "--treat-at", "90", "--watch-at", "30")...)
	require.Zero(t, code, errs)
	says := `undecided: the count of stop 27 could not be read (week2.csv:28, "1O0"): find it out or count it again today, and map again; look again by 2026-07-18; 42 of 43 stops used`
	assert.Contains(t, out, "verdict: "+says)
	files := contents(t, "out")
	assert.Contains(t, strings.NewReplacer("&#34;", `"`, "&quot;", `"`).Replace(files["report.html"]), strings.TrimPrefix(says, "u")) // which begins a sentence
	for _, name := range []string{"zones.kml", "report.html", "map-Pivot.svg"} {
		assert.Contains(t, regexp.MustCompile(`</text>\s*<text[^>]*>`).ReplaceAllString(files[name], " "), "Not decided yet: the count of stop 27 could not be read", name)
	}
	quoted, _ := json.Marshal(says)
	for _, name := range []string{"zones.geojson", "summary.json"} {
		assert.Contains(t, files[name], string(quoted), name)
	}
	assert.Contains(t, files["summary.json"], `"verdict_by_rows_read": "look again"`)
	for _, name := range []string{"map.svg", "map-Pivot.svg", "report.html"} {
		assert.Contains(t, files[name], ">?</text>", name)
		assert.Contains(t, files[name], "not read, so the map does not know what was counted there", name)
	}
	assert.Contains(t, files["zones.kml"], "<name>?</name>")
	kmz, err := zip.NewReader(strings.NewReader(files["surface.kmz"]), int64(len(files["surface.kmz"])))
	require.NoError(t, err)
	surface, err := fs.ReadFile(kmz, "doc.kml")
	require.NoError(t, err)
	assert.Contains(t, string(surface), "<name>?</name>", "a surface goes through what nobody read")
	var stops struct {
		Features []struct{ Properties map[string]any }
	}
	require.NoError(t, json.Unmarshal([]byte(files["stops.geojson"]), &stops))
	last := stops.Features[len(stops.Features)-1].Properties
	assert.Equal(t, `week2.csv:28: count "1O0": is not a number; is it the letter O? write 100`, last["not_read"])
	assert.NotContains(t, last, "value")
	assert.Equal(t, "Pivot", last["field"])

	code, _, errs = run(t, handOff("--rate", "15gal/ac", "--whole-field")...)
	assert.Equal(t, 1, code)
	assert.Contains(t, errs, "no job: Pivot: no red ground. The map says: not decided yet: the count of stop 27 could not be read. Look again by Saturday 18 July.")
	assert.Empty(t, names(t, "job"))
	code, out, errs = run(t, handOff("--rate", "15gal/ac", "--whole-field", "--against-verdict")...)
	require.Zero(t, code, errs)
	assert.Contains(t, out, "AGAINST THE MAP, which says: not decided yet: the count of stop 27 could not be read")
	code, _, errs = run(t, "record", "out", "--date", "2026-07-16", "--field", "Pivot", "--area", "1ha", "--product", "product A=1 L", "--who", "somebody")
	assert.Zero(t, code, errs)
}

// What was not read at one visit is named wherever visits are compared, beside the growth
// that depends on it.
func TestAComparisonTellsWhatWasNotRead(t *testing.T) {
	inFolder(t)
	spoiled(t, "week2.csv", hotRow, strings.Replace(hotRow, hotCount, ",1O0,", 1))
	code, out, errs := run(t, "compare", "--details", "week1.csv", "week2.csv", "--field", "field.geojson", "--out", "change", "--write", "report")
	require.Zero(t, code, errs)
	const doubt = "; but not read: 1 stop of Wednesday 15 July, so all of this may be wrong"
	assert.Equal(t, 1, strings.Count(out, "  2026-07-15: 42 of 43 stops used\n"), "the other field has all its stops")
	assert.Equal(t, 1, strings.Count(out, doubt))
	files := contents(t, "change")
	var got struct {
		Fields []struct {
			Visits []struct {
				Used int `json:"stops_used"`
				Lost int `json:"stops_not_read"`
			}
			Steps []struct{ Verdict string }
		}
	}
	require.NoError(t, json.Unmarshal([]byte(files["compare.json"]), &got))
	pivot := got.Fields[0]
	assert.Zero(t, pivot.Visits[0].Lost)
	assert.Equal(t, 42, pivot.Visits[1].Used)
	assert.Equal(t, 1, pivot.Visits[1].Lost)
	assert.Contains(t, pivot.Steps[0].Verdict, doubt)
	assert.NotContains(t, got.Fields[1].Steps[0].Verdict, "not read")
	page := files["report.html"]
	assert.Equal(t, 1, strings.Count(page, "<figcaption>42 of 43 stops used, average"))
	assert.Equal(t, 1, strings.Count(page, "; ?: not read, so the map does not know what was counted there"), "the legend of the one field")
	assert.Contains(t, page, doubt)
}

// A field of which no stop was read was scouted: it is undecided wherever the answer is,
// and its rows are to be read.
func TestAFieldOfWhichNoStopIsReadIsUndecided(t *testing.T) {
	inFolder(t)
	text, err := os.ReadFile("week2.csv")
	require.NoError(t, err)
	lines := strings.Split(strings.TrimSpace(string(text)), "\n")
	for i := len(lines) - 11; i < len(lines); i++ { // those of the second field
		cells := strings.Split(lines[i], ",")
		cells[3] = "lots"
		lines[i] = strings.Join(cells, ",")
	}
	require.NoError(t, os.WriteFile("week2.csv", []byte(strings.Join(lines, "\n")), 0o600))
	code, out, errs := run(t, week("2", "--details", "--write", drawn())...)
	require.Zero(t, code, errs)
	says := `undecided: 11 rows could not be read: stop 44 (week2.csv:45, "lots"), stop 45 (week2.csv:46, "lots"), stop 46 (week2.csv:47, "lots"), and 8 more: find them out or count them again today, and map again; look again by 2026-07-18; 0 of 11 stops used`
	assert.Contains(t, out, "Corner block, 9.05 ha (22.4 ac): none of its stops were read, so no zones; nothing here says it is clear\n  verdict: "+says)
	assert.NotContains(t, out, "not scouted")
	assert.Contains(t, out, "  verdict: spot spray 5.17 ha", "the other field stays as it is")
	zone := properties(t, "out/zones.geojson")["Corner block"]
	assert.Equal(t, []any{"watch", "undecided", says, "2026-07-18", 1.0}, []any{zone["zone"], zone["verdict"], zone["advice"], zone["look_again"], zone["share"]})
	files := contents(t, "out")
	var summary struct {
		Fields []struct {
			Field   string
			Verdict struct {
				Heading string
				Used    int   `json:"stops_used"`
				Lost    int   `json:"stops_not_read"`
				NotRead []any `json:"rows_not_read"`
				Stops   struct{ Mean *float64 }
			}
		}
		Unscouted []string `json:"fields_not_scouted"`
	}
	require.NoError(t, json.Unmarshal([]byte(files["summary.json"]), &summary))
	require.Len(t, summary.Fields, 2)
	v := summary.Fields[1].Verdict
	assert.Equal(t, []any{"Corner block", says, 0, 11, 11}, []any{summary.Fields[1].Field, v.Heading, v.Used, v.Lost, len(v.NotRead)})
	assert.Nil(t, v.Stops.Mean)
	assert.Empty(t, summary.Unscouted)
	assert.Contains(t, files["zones.kml"], "<description>Not decided yet: 11 rows could not be read; find them out or count them again today.")
	assert.NotContains(t, files["zones.kml"], "not scouted")
	assert.Contains(t, files["report.html"], "Corner block, 9.05 ha (22.4 ac): none of its stops were read")

	code, out, errs = run(t, handOff()...)
	require.Zero(t, code, errs)
	assert.Contains(t, out, "Corner block: undecided: 11 rows could not be read")
	assert.Contains(t, contents(t, "job")["handoff.json"], "0 of 11 stops used")
}

// A hot stop that one digit threw out of the field stands in the heading; the verdict is
// that of the others.
func TestHotStopsInNoFieldStandInTheHeading(t *testing.T) {
	inFolder(t)
	away := strings.Replace(hotRow, "-101.598137", "-101.698137", 1)
	spoiled(t, "week2.csv", hotRow, away)
	code, out, errs := run(t, week("2", "--details")...)
	require.Zero(t, code, errs)
	assert.Regexp(t, `verdict: spot spray .*, the treat zone; look again on 2026-07-18 if not sprayed by then; 42 of up to 43 stops used, 1 lies in no field\n`, out)
	assert.Contains(t, contents(t, "out")["zones.geojson"], "42 of up to 43 stops used, 1 lies in no field")
	spoiled(t, "week2.csv", away, strings.Replace(away, hotCount, ",1,", 1))
	code, out, errs = run(t, week("2", "--details")...)
	require.Zero(t, code, errs)
	assert.NotContains(t, out, "lies in no field", "a stop below the watch level changes nothing")
}

// Where something is to be sprayed by the rows that were read, it stays so.
func TestAFieldToSprayStaysSoBesideARowNotRead(t *testing.T) {
	inFolder(t)
	spoiled(t, "week2.csv", hotRow, strings.Replace(hotRow, hotCount, ",,", 1))
	code, out, errs := run(t, week("2", "--details")...)
	require.Zero(t, code, errs)
	assert.Regexp(t, `verdict: spot spray .*, the treat zone; look again on 2026-07-18 if not sprayed by then; 42 of 43 stops used\n`, out)
	assert.Contains(t, strings.Join(strings.Fields(out), " "), "what was not read may make the treat ground larger")
	assert.Contains(t, out, "do not spray now: no stop is over the threshold yet; look again on 2026-07-21\n", "the other field has all its stops")

	code, out, errs = run(t, handOff("--rate", "15gal/ac")...)
	require.Zero(t, code, errs)
	assert.Contains(t, out, `  Not read: the count of stop 27. What was counted there may make the red ground larger.`+"\n")
	assert.Contains(t, contents(t, "job")["handoff.json"], `"not_read": "the count of stop 27"`)
	assert.Contains(t, out, `no job for Corner block: no treat zone, and the map's verdict is "do not spray now: no stop is over the threshold yet`)
}

// Of a count without an end one number is taken, and the answer says which.
func TestOpenCountsAreSaidWithTheAnswer(t *testing.T) {
	inFolder(t)
	for name, c := range map[string]struct{ one, two, want string }{
		"none":      {"600", "500-900", ""},
		"one":       {">499", "900", "open.csv: a count of >499 was taken as 707: it may be higher"},
		"two":       {"100+", "500+", "open.csv: 2 counts have no end: the highest, 500+, was taken as 707 and may be higher"},
		"below one": {"<10", "9", ""},
	} {
		table := "stop,longitude,latitude,count,leaves\n"
		for i, count := range []string{c.one, c.two, "5", "7"} {
			table += fmt.Sprintf("%d,-101.602%d,35.89%d,%s,10\n", i, i, 8+i%2, count)
		}
		require.NoError(t, os.WriteFile("open.csv", []byte(table), 0o600))
		code, out, errs := run(t, "map", "open.csv", "--field", "field.geojson", "--out", "out", "--force")
		require.Zero(t, code, errs)
		if out = strings.Join(strings.Fields(out), " "); c.want == "" {
			assert.NotContains(t, out, "be higher", name)
		} else {
			assert.Contains(t, out, c.want, name)
		}
	}
}
