package survey_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// walked is a track with a fix every 30 s from 12:00 UTC on for an hour, each 0.001 degrees
// farther east.
func walked(lon, lat float64) string {
	var b strings.Builder
	start := time.Date(2031, 8, 14, 12, 0, 0, 0, time.UTC)
	for i := range 121 {
		fmt.Fprintf(&b, `<trkpt lon="%.4f" lat="%.4f"><time>%s</time></trkpt>`, lon+0.001*float64(i), lat, start.Add(time.Duration(i)*30*time.Second).Format(time.RFC3339))
	}
	return "<trk><trkseg>" + b.String() + "</trkseg></trk>"
}

func placesOf(t *testing.T, name, text string) *survey.Places {
	t.Helper()
	if strings.HasPrefix(text, "<") {
		text = `<gpx version="1.1" creator="invented" xmlns="http://www.topografix.com/GPX/1/1">` + text + "</gpx>"
	}
	p, err := survey.ReadPlaces(geofile.Source{Name: name, Content: []byte(text)})
	require.NoError(t, err)
	return p
}

// placedAt reads rows of stop, date and time, and one that is on the track for sure.
func placedAt(t *testing.T, p *survey.Places, date, clock string) (*survey.Survey, error) {
	t.Helper()
	text := fmt.Sprintf("stop,date,time,count,leaves\nsure,,2031-08-14T12:10:00Z,4,10\nA,%s,%s,4,10\n", date, clock)
	return survey.Read([]geofile.Source{{Name: "counts.csv", Content: []byte(text)}}, survey.Options{Places: p, Unit: "leaf"})
}

func longitudeOf(s *survey.Survey, name string) string {
	for _, stop := range s.Stops {
		if stop.Name == name {
			return fmt.Sprintf("%.4f", stop.Longitude)
		}
	}
	return "none"
}

func TestATimeIsLookedUpAlongATrackToTheSecond(t *testing.T) {
	p := placesOf(t, "walk.gpx", walked(10, 50))
	p.Offset = "-5"
	for clock, want := range map[string]string{
		"07:00:00": "10.0000", "07:00:55": "10.0018", "07:00:59": "10.0020", "07:01:00": "10.0020", "07:01": "10.0020",
		"7:00:45 am": "10.0015", "07:00:45.9": "10.0015", "2031-08-14 07:00:45": "10.0015", "08:00:00": "10.1200", "08:00:01": "none",
	} {
		s, err := placedAt(t, p, "2031-08-14", clock)
		require.NoError(t, err, clock)
		assert.Equal(t, want, longitudeOf(s, "A"), clock)
		said := strings.Contains(strings.Join(s.Notes, "\n"), `counts.csv: times without seconds, such as "`+clock+`", count as the full minute: their places are good to a minute's walk`)
		assert.Equal(t, clock == "07:01", said, "%s: %q", clock, s.Notes)
	}
	_, err := placedAt(t, p, "2031-08-14", "07:00:60")
	assert.ErrorContains(t, err, `counts.csv:3: time "07:00:60": want hours and minutes`)
}

func TestATimeWithAZoneIsLookedUpAsItSays(t *testing.T) {
	p := placesOf(t, "walk.gpx", walked(10, 50))
	for _, offset := range []string{"", "-5", "+2", "0"} {
		p.Offset = offset
		for _, clock := range []string{
			"12:00:30Z", "12:00:30 UTC", "12:00:30 GMT", "12:00:30z", "12:00:30+00:00", "07:00:30-05:00", "07:00:30 -0500", "7:00:30 am -05:00",
			"17:30:30+05:30", "07:00:30 GMT-0500 (somewhere)", "07:00:30 UTC-5", "07:00:30−05:00",
			"2031-08-14 12:00:30Z", "2031-08-14T12:00:30Z", "2031-08-14 12:00:30 UTC", "2031-08-14T07:00:30-0500", "14 August 2031 7:00:30 AM -05:00",
		} {
			for _, date := range []string{"2031-08-14", ""} {
				if date == "" && !strings.Contains(clock, "2031") {
					continue
				}
				s, err := placedAt(t, p, date, clock)
				if assert.NoError(t, err, "%q %s", offset, clock) {
					assert.Equal(t, "10.0010", longitudeOf(s, "A"), "%q %s", offset, clock)
				}
			}
		}
	}
	p.Offset = ""
	_, err := placedAt(t, p, "2031-08-14", "07:00:30")
	assert.ErrorContains(t, err, "give --utc-offset, such as -5")
	p.Offset = "-5"
	_, err = placedAt(t, p, "2031-08-14", "05:00:30 PDT")
	assert.ErrorContains(t, err, `counts.csv:3: time "05:00:30 PDT": "PDT" is no zone that is known: write Z or an offset such as -05:00 behind the time`)
	_, err = placedAt(t, p, "2031-08-14", "5:00:30 am PDT")
	assert.ErrorContains(t, err, `"PDT" is no zone that is known`)
	s, err := placedAt(t, p, "2031-08-14", "07:00:30 h")
	require.NoError(t, err)
	assert.Equal(t, "10.0010", longitudeOf(s, "A"))
	s, err = placedAt(t, p, "2031-08-14", "12:01Z")
	require.NoError(t, err)
	assert.Contains(t, strings.Join(s.Notes, "\n"), `times without seconds, such as "12:01Z"`)

	// The day beside the zone is that of the zone.
	s, err = placedAt(t, p, "2031-08-13", "2031-08-15 01:00:30+13:00")
	require.NoError(t, err)
	assert.Equal(t, "10.0010", longitudeOf(s, "A"))
}
func TestTwoTracksAtOneMomentGiveNoPlaceWhereTheyLieApart(t *testing.T) {
	// A fix of either track is up to 0.0002 degrees of latitude, 22 m, from the other.
	near, far := walked(10, 50)+walked(10, 50.0002), walked(10, 50)+walked(10, 50.0004)
	for _, c := range []struct{ tracks, want, why string }{
		{near, "10.0010", ""},
		{far, "none", "A (several tracks at that time, 44 m apart)"},
		{strings.ReplaceAll(far, "</trkseg></trk><trk><trkseg>", ""), "none", "A (several tracks at that time, 44 m apart)"},
		// One that lost its fix for a while is still somebody who walks there.
		{walked(10, 50) + `<trk><trkseg><trkpt lon="11" lat="50"><time>2031-08-14T11:55:00Z</time></trkpt><trkpt lon="11" lat="50"><time>2031-08-14T12:09:00Z</time></trkpt></trkseg></trk>`,
			"none", "A (several tracks at that time, 71402 m apart)"},
		{walked(10, 50) + `<trk><trkseg><trkpt lon="11" lat="50"><time>2031-08-14T11:55:00Z</time></trkpt><trkpt lon="11" lat="50"><time>2031-08-14T12:00:29Z</time></trkpt></trkseg></trk>`,
			"10.0010", ""},
	} {
		text := "stop,date,time,count,leaves\nA,2031-08-14,12:00:30Z,4,10\nB,,,4,10\n"
		named := `<wpt lon="10" lat="50"><name>B</name></wpt>`
		s, err := survey.Read([]geofile.Source{{Name: "counts.csv", Content: []byte(text)}}, survey.Options{Places: placesOf(t, "walk.gpx", named+c.tracks), Unit: "leaf"})
		require.NoError(t, err)
		assert.Equal(t, c.want, longitudeOf(s, "A"), c.why)
		if c.why != "" {
			assert.Contains(t, strings.Join(s.Notes, "\n"), "counts.csv: without a place: "+c.why)
		}
	}
}
func TestAPlaceIsThatOfOneStop(t *testing.T) {
	const places = "stop,longitude,latitude\n1,10,50\n2,10.001,50\n"
	read := func(texts ...string) (*survey.Survey, error) {
		var from []geofile.Source
		for i, text := range texts {
			from = append(from, geofile.Source{Name: fmt.Sprintf("c%d.csv", i+1), Content: []byte(text)})
		}
		return survey.Read(from, survey.Options{Places: placesOf(t, "places.csv", places), Unit: "leaf"})
	}
	for name, c := range map[string]struct {
		counts []string
		want   string
	}{
		"two files":    {[]string{"stop,count,leaves\n1,4,10\n", "stop,count,leaves\n2,4,10\n01,4,10\n"}, `c2.csv:3: the place "01" of places.csv is that of c1.csv:2 already`},
		"two fields":   {[]string{"field,stop,count,leaves\nNorth,1,4,10\nnorth ,1,4,10\n,1,4,10\nSouth,1,4,10\n"}, `c1.csv:5: the place "1" of places.csv is that of field "North" (line 2) already, and this row is of "South"`},
		"a field_name": {[]string{"Field Name,stop,count,leaves\nNorth,1,4,10\nSouth,1,4,10\n"}, `c1.csv:3: the place "1"`},
	} {
		_, err := read(c.counts...)
		assert.ErrorContains(t, err, c.want, name)
		var told *geofile.Error
		require.ErrorAs(t, err, &told, name)
		assert.Equal(t, "give each a name of its own in the counts and in places.csv, such as North 1, or map one field at a time", told.Hint)
	}
	for name, counts := range map[string][]string{
		"other names":  {"stop,count,leaves\n1,4,10\n", "stop,count,leaves\n2,4,10\n"},
		"plots":        {"stop,lote,plant,count,leaves\n1,B,1,4,10\n1,A,2,4,10\n2,B,1,4,10\n"},
		"other fields": {"field,stop,leaf,count,leaves\nNorth,1,1,4,10\nNorth,1,2,4,10\nSouth,2,1,4,10\n"},
	} {
		s, err := read(counts...)
		if assert.NoError(t, err, name) {
			assert.Len(t, s.Stops, 2, name)
		}
	}
	// Weeks that are read one after the other share their places.
	p := placesOf(t, "places.csv", places)
	for _, week := range []string{"w1.csv", "w2.csv"} {
		_, err := survey.Read([]geofile.Source{{Name: week, Content: []byte("stop,count,leaves\n1,4,10\n")}}, survey.Options{Places: p, Unit: "leaf"})
		assert.NoError(t, err, week)
	}
}

func TestRowsOfAStopThatTheTrackLaysApartAreSaid(t *testing.T) {
	// A fix is 0.001 degrees, 71 m, from the next, so 12 s are 29 m and 13 s are 31 m.
	for second, said := range map[string]bool{"12": false, "13": true} {
		text := "stop,leaf,date,time,count,leaves\nA,1,2031-08-14,12:00:00Z,4,1\nA,2,2031-08-14,12:00:" + second + "Z,4,1\nB,1,2031-08-14,12:20:00Z,4,1\nB,1,2031-08-15,12:10:00Z,4,1\n"
		s, err := survey.Read([]geofile.Source{{Name: "counts.csv", Content: []byte(text)}}, survey.Options{Places: placesOf(t, "walk.gpx", walked(10, 50)), Unit: "leaf"})
		require.NoError(t, err)
		notes := strings.Join(s.Notes, "\n")
		assert.Equal(t, said, strings.Contains(notes, `counts.csv: rows of one stop lie more than 30 m apart along the track, and count as several stops: "A"`), "%s: %s", second, notes)
		assert.NotContains(t, notes, `"B"`)
	}
}

func TestNoRowWithAPlaceOfItsOwnTrackSaysWhatToDo(t *testing.T) {
	text := "stop,date,time,count,leaves\nA,2031-08-14,12:00:30Z,4,10\n"
	_, err := survey.Read([]geofile.Source{{Name: "counts.csv", Content: []byte(text)}}, survey.Options{Places: placesOf(t, "walk.gpx", walked(10, 50)+walked(10, 51)), Unit: "leaf"})
	assert.ErrorContains(t, err, "counts.csv: no row has a place in walk.gpx: A (several tracks at that time, 111194 m apart)")
	var told *geofile.Error
	require.ErrorAs(t, err, &told)
	assert.Equal(t, "keep in walk.gpx only the tracks of the one who counted", told.Hint)
}
