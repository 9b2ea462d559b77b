package survey_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// whens are the days and times of the stops of a survey.
func whens(s *survey.Survey) (out []string) {
	for _, stop := range s.Stops {
		out = append(out, strings.TrimSpace(stop.Date+" "+stop.Time))
	}
	return out
}

// placemarks stand as the waypoints of [gpx] do.
func placemarks(inside ...string) string {
	var b strings.Builder
	b.WriteString("<kml><Document>\n")
	for i, p := range inside {
		fmt.Fprintf(&b, "<Placemark><name>%d</name>%s<description>12 on 10</description><Point><coordinates>-101.6%d,35.9</coordinates></Point></Placemark>\n", i+1, p, i+1)
	}
	return b.String() + "</Document></kml>"
}

// An evening's walk at 101.6° west is of the day before by UTC. By the sun there it is
// 6:46 behind; in summer the clocks of the country are 5:00 behind.
func TestDaysAreThoseOfThePlace(t *testing.T) {
	const sun = "times are in UTC: taken as the local evening of 2026-07-14 by the sun; if you know your clock, give --utc-offset (for example -5 where clocks are five hours behind UTC)"
	wpt := func(times ...string) string {
		var points []string
		for i, at := range times {
			points = append(points, fmt.Sprintf("<time>%s</time><name>%d</name><cmt>12 on 10</cmt>", at, i+1))
		}
		return gpx(points...)
	}
	csv := func(times ...string) string {
		text := "stop,longitude,latitude,count,time\n"
		for i, at := range times {
			text += fmt.Sprintf("%d,-101.6%d,35.9,12,%s\n", i+1, i+1, at)
		}
		return text
	}
	feature := func(at string) string {
		return `{"type":"Feature","properties":{"stop":"1","count":12,"timestamp":"` + at + `"},"geometry":{"type":"Point","coordinates":[-101.6,35.9]}}`
	}
	for name, c := range map[string]struct {
		text, offset string
		want         []string
		note         string // "" for none about times
	}{
		"gpx, by the sun":              {wpt("2026-07-14T23:50:00Z", "2026-07-15T01:30:00Z"), "", []string{"2026-07-14 17:04", "2026-07-14 18:44"}, sun},
		"gpx, by the clocks":           {wpt("2026-07-14T23:50:00Z", "2026-07-15T01:30:00.250Z"), "-5", []string{"2026-07-14 18:50", "2026-07-14 20:30"}, ""},
		"gpx, a half hour":             {wpt("2026-07-14T20:30:00Z"), "+5:30", []string{"2026-07-15 02:00"}, ""},
		"gpx, without its zone":        {wpt("2026-07-15T01:30:00"), "", []string{"2026-07-14 18:44"}, sun},
		"gpx, an offset":               {wpt("2026-07-14T20:30:00-05:00"), "", []string{"2026-07-14 20:30"}, ""},
		"gpx, an offset given":         {wpt("2026-07-15T03:30:00+02:00"), "-5", []string{"2026-07-14 20:30"}, ""},
		"gpx, an offset in another":    {wpt("2026-07-14T20:10:00-05:00", "2026-07-15T01:30:00Z"), "", []string{"2026-07-14 20:10", "2026-07-14 20:30"}, "times in UTC are read at the offset of the others, -05:00"},
		"gpx, two offsets":             {wpt("2026-07-14T20:10:00-05:00", "2026-07-14T20:20:00-06:00", "2026-07-15T01:30:00Z"), "", []string{"2026-07-14 20:10", "2026-07-14 20:20", "2026-07-14 18:43"}, "taken as the local evening of 2026-07-14 by the sun"},
		"gpx, two parts of a day":      {wpt("2026-07-14T14:50:00Z", "2026-07-15T01:30:00Z"), "", []string{"2026-07-14 08:04", "2026-07-14 18:44"}, "taken as local times of 2026-07-14 by the sun"},
		"gpx, in the night":            {wpt("2026-07-15T06:40:00Z"), "", []string{"2026-07-14 23:54"}, `; times such as "2026-07-15T06:40:00Z" lie in the night so: if they are those of clocks at the place, give --utc-offset 0`},
		"gpx, partly in the night":     {wpt("2026-07-15T10:40:00Z", "2026-07-15T06:40:00Z"), "", []string{"2026-07-15 03:54", "2026-07-14 23:54"}, `; times such as "2026-07-15T06:40:00Z" lie in the night so`},
		"gpx, and it is said":          {wpt("2026-07-15T06:40:00Z"), "0", []string{"2026-07-15 06:40"}, ""},
		"gpx, a day":                   {wpt("2026-07-15"), "", []string{"2026-07-15"}, ""},
		"kml, a stamp":                 {placemarks("<TimeStamp><when>2026-07-15T01:30:00Z</when></TimeStamp>"), "", []string{"2026-07-14 18:44"}, sun},
		"kml, a span":                  {placemarks("<TimeSpan><begin>2026-07-15T01:30:00Z</begin><end>2026-07-16</end></TimeSpan>"), "-05:00", []string{"2026-07-14 20:30"}, ""},
		"kml, as it was there":         {placemarks("<TimeStamp><when>2026-07-14T20:30:00</when></TimeStamp>"), "", []string{"2026-07-14 20:30"}, ""},
		"kml, a time of its own":       {placemarks("<TimeStamp><when>1999-01-01</when></TimeStamp><ExtendedData><Data name=\"datetime\"><value>2026-07-14 20:30</value></Data></ExtendedData>"), "", []string{"2026-07-14 20:30"}, ""},
		"geojson":                      {feature("2026-07-15T01:30:00Z"), "", []string{"2026-07-14 18:44"}, "taken as the local evening of 2026-07-14 by the sun"},
		"geojson, an offset":           {feature("2026-07-14T20:30:00-05:00"), "", []string{"2026-07-14 20:30"}, ""},
		"geojson, bare":                {feature("2026-07-14T20:30:00"), "-5", []string{"2026-07-14 20:30"}, ""},
		"csv":                          {csv("2026-07-15T01:30:00Z", "2026-07-15 01:31 UTC", "2026-07-15 01:32:00+00:00", "2026-07-15 01:33:00+00"), "", []string{"2026-07-14 18:44", "2026-07-14 18:45", "2026-07-14 18:45", "2026-07-14 18:46"}, "taken as the local evening of 2026-07-14 by the sun"},
		"csv, bare":                    {csv("2026-07-15T01:30"), "-5", []string{"2026-07-15 01:30"}, ""},
		"csv, a zone by name":          {csv("2026-07-14 20:30 CDT"), "", []string{"2026-07-14 20:30"}, ""},
		"csv, midnights are days":      {csv("2026-07-15T00:00:00Z", "2026-07-16T00:00:00Z"), "", []string{"2026-07-15 00:00", "2026-07-16 00:00"}, ""},
		"csv, a midnight is none":      {csv("2026-07-15T00:00:00Z", "2026-07-15T00:10:00Z"), "", []string{"2026-07-14 17:14", "2026-07-14 17:24"}, "taken as the local evening of 2026-07-14 by the sun"},
		"csv, marked without being it": {csv("2026-07-15T06:40:00Z", "2026-07-15T06:55:00Z"), "", []string{"2026-07-15 06:40", "2026-07-15 06:55"}, `times such as "2026-07-15T06:40:00Z" are marked UTC, would then lie in the night, and are read as they stand; if they are UTC, give --utc-offset (for example -5 where clocks are five hours behind UTC)`},
		"csv, not all in the night":    {csv("2026-07-15T06:40:00Z", "2026-07-15T11:55:00Z"), "", []string{"2026-07-15 06:40", "2026-07-15 11:55"}, `times such as "2026-07-15T06:40:00Z" are marked UTC, would then lie in the night`},
		"csv, the last in the night":   {csv("2026-07-15T10:00:00Z", "2026-07-15T09:45:00Z"), "", []string{"2026-07-15 10:00", "2026-07-15 09:45"}, `times such as "2026-07-15T09:45:00Z" are marked UTC, would then lie in the night, and are read as they stand`},
		"csv, none in the night":       {csv("2026-07-15T10:00:00Z", "2026-07-15T09:46:00Z"), "", []string{"2026-07-15 03:14", "2026-07-15 03:00"}, "by the sun; if you know your clock"},
		"csv, in the night both ways":  {csv("2026-07-15T03:40:00Z", "2026-07-15T02:55:00Z"), "", []string{"2026-07-14 20:54", "2026-07-14 20:09"}, "by the sun; if you know your clock"},
		"csv, an evening and a night":  {csv("2026-07-15T03:50:00Z", "2026-07-15T02:55:00Z"), "", []string{"2026-07-14 21:04", "2026-07-14 20:09"}, "by the sun; if you know your clock"},
		"csv, marked, and it is said":  {csv("2026-07-15T06:40:00Z"), "-5", []string{"2026-07-15 01:40"}, ""},
		"csv, day and time apart":      {"stop,longitude,latitude,count,date,time\n1,-101.6,35.9,12,2026-07-15,01:30Z\n", "-5", []string{"2026-07-14 20:30"}, ""},
		"csv, day as it was there":     {"stop,longitude,latitude,count,date,time\n1,-101.6,35.9,12,2026-07-14,2026-07-15T01:30Z\n", "-5", []string{"2026-07-14 20:30"}, ""},
		"csv, a time alone":            {"stop,longitude,latitude,count,time\n1,-101.6,35.9,12,01:30Z\n", "-5", []string{"20:30"}, ""},
		"csv, over the date line":      {"stop,longitude,latitude,count,time\n1,178,-17,12,2026-12-31T19:30:00Z\n", "", []string{"2027-01-01 07:22"}, "taken as the local morning of 2027-01-01 by the sun; if you know your clock, give --utc-offset (for example +2 where clocks are two hours ahead of UTC)"},
	} {
		t.Run(name, func(t *testing.T) {
			s := read(t, c.text, survey.Options{UTCOffset: c.offset})
			assert.Empty(t, s.Problems)
			assert.Equal(t, c.want, whens(s))
			said := 0
			for _, note := range s.Notes {
				if strings.Contains(note, "UTC") {
					said++
					assert.Contains(t, note, c.note)
				}
			}
			assert.Equal(t, c.note != "", said == 1, s.Notes)
			assert.LessOrEqual(t, said, 1)
		})
	}
}

func TestOffsetsFromUTC(t *testing.T) {
	for text, want := range map[string]int{"-5": -300, "+5": 300, "5": 300, "-05:00": -300, "+5:30": 330, "-0330": -210, "+14": 840, "-14:00": -840, "0": 0, "Z": 0, "utc": 0, "UTC-5": -300, "\u22125": -300, " -7 ": -420} {
		got, err := survey.ParseUTCOffset(text)
		require.NoError(t, err, text)
		assert.Equal(t, want, got, text)
	}
	for _, text := range []string{"", "-", "x", "14:01", "-15", "5:60", "5.5", "America", "+5:3", "123456"} {
		_, err := survey.ParseUTCOffset(text)
		assert.EqualError(t, err, fmt.Sprintf("utc offset %q: want hours before or behind UTC, 14 at the most, such as -5, -05:00 or +5:30", text))
	}
	_, err := decode(t, "c.csv", "stop,longitude,latitude,count\nA,1,2,3\n", survey.Options{UTCOffset: "noon"})
	assert.ErrorContains(t, err, `utc offset "noon"`)
	rapid.Check(t, func(rt *rapid.T) {
		minutes := rapid.IntRange(-14*60, 14*60).Draw(rt, "minutes")
		got, err := survey.ParseUTCOffset(survey.OffsetText(minutes))
		require.NoError(rt, err)
		assert.Equal(rt, minutes, got)
	})
}

// Whatever the place, a walk between five and eight by the sun keeps its day.
func TestAnyWalkKeepsItsDay(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		longitude := rapid.Float64Range(-180, 180).Draw(rt, "longitude")
		solar := rapid.IntRange(5*60, 20*60).Draw(rt, "minutes")
		utc := solar - int(4*longitude)
		day, at := 15, utc
		for ; at < 0; at += 24 * 60 {
			day--
		}
		for ; at >= 24*60; at -= 24 * 60 {
			day++
		}
		text := fmt.Sprintf("2026-07-%02dT%02d:%02d:00Z", day, at/60, at%60)
		assert.Equal(rt, "2026-07-15", survey.LocalDay(text, longitude), text)
	})
	for text, want := range map[string]string{"2026-07-15": "2026-07-15", "2026-07-15T00:00:00.000Z": "2026-07-15", "2026-07-15 01:30:00": "2026-07-15", "2026-07-15T01:30:00+02:00": "2026-07-15", "2026-07-15/2026-07-22": "2026-07-15/2026-07-22", "": "", "soon": "soon"} {
		assert.Equal(t, want, survey.LocalDay(text, -101.6), text)
	}
}

// A property whose words were read is none that is not used.
func TestWordsThatWereReadAreUsed(t *testing.T) {
	s := read(t, gpx("<name>1</name><cmt>12 on 10</cmt><sym>Flag</sym>"), survey.Options{})
	notes := strings.Join(s.Notes, "\n")
	assert.Contains(t, notes, `count and leaves read from the words of "cmt"`)
	assert.Contains(t, notes, `columns not used: "sym"`)
	assert.NotContains(t, notes, `columns not used: "cmt"`)
	s = read(t, gpx("<name>1</name><cmt>12 on 10</cmt>"), survey.Options{})
	assert.NotContains(t, strings.Join(s.Notes, "\n"), "not used")
}

func gpx(points ...string) string {
	var b strings.Builder
	b.WriteString("<gpx>\n")
	for i, p := range points {
		b.WriteString(strings.ReplaceAll(`<wpt lat="35.9" lon="-101.6N">`, "N", string(rune('1'+i))) + p + "</wpt>\n")
	}
	return b.String() + "</gpx>"
}
