//go:build !small

package survey_test

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"

	"github.com/geocoris/geocoris/internal/scouting/survey"
	"github.com/geocoris/geocoris/internal/testkit/given"
)

func TestAngles(t *testing.T) {
	for text, want := range map[string]float64{
		"-101.6": -101.6, "101.6 W": -101.6, "W101.6": -101.6, "w 101.6": -101.6, "101.6E": 101.6, "+101.6": 101.6,
		"101 36 W": -101.6, "101 36.0 W": -101.6, "101°36'00\"W": -101.6, "101° 36′ 0.0″ W": -101.6, "-101 36": -101.6,
		"101:36:00W": -101.6, "101°W": -101, "0 30 W": -0.5, "-0 30": -0.5, "101 36 36 W": -101.61,
	} {
		s := read(t, "stop,longitude,latitude,count\nA,\""+strings.ReplaceAll(text, `"`, `""`)+"\",2,3\n", survey.Options{})
		require.Empty(t, s.Problems, text)
		assert.InDelta(t, want, s.Stops[0].Longitude, 1e-12, text)
	}
	for _, text := range []string{"101 36 00 00 W", "101 W 36", "W101.6E", "101.5 36 W", "101 -36 W", "101 36.5 10 W", "N101.6", "101,6", "1e2"} {
		s := read(t, "stop,longitude,latitude,count\nA,\""+text+"\",2,3\n", survey.Options{})
		assert.Len(t, s.Problems, 1, text)
		assert.Equal(t, 1, s.Tally.SetAside, text)
	}
}

func TestPositionsInOtherColumns(t *testing.T) {
	s := read(t, "stop,WKT,count\nA,POINT (-101.6 35.9),3\nB,\"SRID=4326;POINT Z(1 2 3)\",4\nC,LINESTRING (1 2),4\n", survey.Options{})
	require.Len(t, s.Stops, 2)
	assert.Equal(t, -101.6, s.Stops[0].Longitude)
	assert.Contains(t, problems(s)[0], "is no point in well-known text")
	// 500000, 0 is where a zone's central meridian meets the equator: zone 31 has
	// it at 3° E.
	s = read(t, "stop,easting,northing,count\nA,500000,0,3\nB,5,5,4\n", survey.Options{UTM: "31n"})
	assert.InDelta(t, 3, s.Stops[0].Longitude, 1e-12)
	assert.InDelta(t, 0, s.Stops[0].Latitude, 1e-12)
	assert.Contains(t, problems(s)[0], "is no easting and northing of UTM")
	// So do columns x and y, which hold degrees where no zone is given.
	for _, header := range []string{"X,Y", "x,y", "Y,X"} {
		cells := map[bool]string{true: "0,500000", false: "500000,0"}[header == "Y,X"]
		s = read(t, "stop,count,"+header+"\nA,3,"+cells+"\n", survey.Options{UTM: "31N"})
		require.Empty(t, s.Problems, header)
		assert.InDelta(t, 3, s.Stops[0].Longitude, 1e-12, header)
	}
	for header, cells := range map[string]string{"X,Y": "3,1", "longitude,Y": "3,1", "lon,lat,easting,northing": "3,1,600000,0"} {
		set := survey.Options{UTM: "31N"}
		if header == "X,Y" {
			set = survey.Options{}
		}
		s = read(t, "stop,count,"+header+"\nA,3,"+cells+"\n", set)
		require.Empty(t, s.Problems, header)
		assert.Equal(t, []float64{3, 1}, []float64{s.Stops[0].Longitude, s.Stops[0].Latitude}, header)
	}
	s = read(t, "stop,X,Y,count\nA,500000,4000000,3\n", survey.Options{})
	assert.Equal(t, []string{`counts.csv:2: Y "4000000": is no latitude: degrees go to 90; these look like metres: give their zone, such as --utm 14N`}, problems(s))
	for _, zone := range []string{"14", "N", "61N", "14X", "0S"} {
		_, err := survey.ParseUTM(zone)
		assert.Error(t, err, zone)
	}
}

func TestColumnsAreRenamed(t *testing.T) {
	s := read(t, "where,lon,lat,bugs\nA,1,2,3\n", survey.Options{Rename: map[string]string{"where": "stop", "Bugs": "count"}})
	assert.Equal(t, 3.0, s.Stops[0].Total)
}

func TestClasses(t *testing.T) {
	s := read(t, "stop,longitude,latitude,count,leaves\nA,1,2,11-50,1\nA,1,2,0,1\nB,1,3,50+,1\nC,1,4,<10,1\nD,1,5,>100,1\nE,1,6,0-4,1\nF,1,7,50-11,1\n", survey.Options{})
	require.Len(t, s.Stops, 5)
	assert.InDelta(t, 23.452/2, s.Stops[0].Mean(), 1e-3, "√(11·50), and an empty leaf")
	assert.Equal(t, [2]float64{11, 50}, [2]float64{s.Stops[0].Records[0].Low, s.Stops[0].Records[0].High})
	assert.InDelta(t, 70.711, s.Stops[1].Total, 1e-3, "open classes reach to twice where they begin")
	assert.Equal(t, 3.0, s.Stops[2].Total, "√(1·9)")
	assert.InDelta(t, 142.836, s.Stops[3].Total, 1e-3, "√(101·202)")
	assert.Equal(t, 2.0, s.Stops[4].Total)
	assert.Contains(t, problems(s)[0], `count "50-11": is not a number`)
}

func TestEmptyUnitsAsOneNumber(t *testing.T) {
	s := read(t, "stop,longitude,latitude,count,leaves,empty\nA,1,2,60,1,\nA,1,2,30,1,\nA,1,2,,,8\nB,1,3,12,2,3\nC,1,4,,,\n", survey.Options{})
	assert.Equal(t, 9.0, s.Stops[0].Mean(), "90 on 2 and 8 empty leaves")
	assert.Equal(t, 12.0/5, s.Stops[1].Mean())
	assert.Contains(t, problems(s)[0], "is blank, and a blank is not a zero")
}

func TestPointsOfFeatureFiles(t *testing.T) {
	s := read(t, `{"type":"FeatureCollection","features":[
{"type":"Feature","properties":{"stop":"A","count":12,"leaves":10,"lat":99},"geometry":{"type":"Point","coordinates":[-101.6,35.9]}},
{"type":"Feature","properties":{"stop":"B"},"geometry":{"type":"Point","coordinates":[-101.61,35.9]}},
{"type":"Feature","properties":{"stop":"C","count":1,"leaves":1},"geometry":{"type":"LineString","coordinates":[[1,2],[1,3]]}}]}`, survey.Options{})
	assert.Equal(t, survey.Tally{Read: 3, Used: 1, SetAside: 2}, s.Tally)
	assert.Equal(t, 1.2, s.Stops[0].Mean())
	assert.Equal(t, -101.6, s.Stops[0].Longitude)
	assert.Contains(t, strings.Join(problems(s), "\n"), `counts.csv:4 "C": the feature is no point; give the stops as points`)
}

// The rule stated at featureTable.
func TestCountsInWords(t *testing.T) {
	for name, c := range map[string]struct {
		points []string
		want   []float64 // totals
	}{
		"a number in a comment":    {[]string{"<name>1</name><cmt>12</cmt>", "<name>2</name><cmt>0</cmt>"}, []float64{12, 0}},
		"words in a description":   {[]string{"<name>1</name><desc>count: 12, leaves=10</desc>"}, []float64{12}},
		"a word behind the number": {[]string{"<name>1</name><desc>12 aphids on 10 leaves</desc>"}, []float64{12}},
		"words in the name":        {[]string{"<name>A count 7</name>"}, []float64{7}},
		"extensions first":         {[]string{"<name>1</name><cmt>99</cmt><extensions><count>5</count></extensions>"}, []float64{5}},
	} {
		t.Run(name, func(t *testing.T) {
			s := read(t, gpx(c.points...), survey.Options{})
			var got []float64
			for _, stop := range s.Stops {
				got = append(got, stop.Total)
			}
			assert.Equal(t, c.want, got)
		})
	}
	_, err := decode(t, "walk.gpx", gpx("<name>1</name>", "<name>2</name>"), survey.Options{})
	assert.EqualError(t, err, `walk.gpx: its waypoints give no count: write "count 12, leaves 10" into the comment or description of each; they have "name"`, "a stop's number is not a count")
	_, err = decode(t, "walk.gpx", gpx(), survey.Options{})
	_, unfollowed := decode(t, "walk.kml", `<kml xmlns="http://www.opengis.net/kml/2.2"><Document><NetworkLink><Link><href>stops.kml</href></Link></NetworkLink></Document></kml>`, survey.Options{})
	assert.EqualError(t, unfollowed, "walk.kml: the link to stops.kml was not followed, and it holds no placemarks: give the file that holds them")
	assert.EqualError(t, err, `walk.gpx: holds no waypoints: mark each stop as one, with "count 12, leaves 10" in its comment or description`, "nor has a track any")
	_, err = decode(t, "walk.geojson", `{"type":"FeatureCollection","features":[{"type":"Feature","properties":{},"geometry":{"type":"Point","coordinates":[1,2]}}]}`, survey.Options{})
	assert.EqualError(t, err, `walk.geojson: its points give no count: write "count 12, leaves 10" into the comment or description of each, or give each a property count; they have nothing but their places`)
	_, err = decode(t, "walk.gpx", gpx("<cmt>12</cmt>"), survey.Options{})
	assert.EqualError(t, err, `walk.gpx: its waypoints have no names: name each, or give --unnamed-stops to take each as a stop; they have "cmt", "count"`)
	assert.Contains(t, read(t, gpx("<name>1</name><cmt>12</cmt>"), survey.Options{}).Notes, "counts.csv: its waypoints do not say how many leaves: each is taken as one")
	s := read(t, gpx("<name>1</name><cmt>12</cmt>", "<name>2</name><cmt>wet</cmt>"), survey.Options{})
	assert.Equal(t, 1, s.Tally.SetAside, "words without a count are a blank")
}

// workbook is a spreadsheet with dates, a number shown with a thousands sign, and
// an empty sheet before the counts.
func workbook(t *testing.T) []byte {
	f := excelize.NewFile()
	defer f.Close()
	_, err := f.NewSheet("Counts")
	require.NoError(t, err)
	require.NoError(t, f.SetCellValue("Sheet1", "A1", "Read me"))
	for i, row := range [][]any{
		{"Stop", "Longitude", "Latitude", "Count", "Leaves", "Date", "Time", "Notes"},
		{"A", -101.6, 35.9, 1204, 10, time.Date(2026, 7, 15, 0, 0, 0, 0, time.UTC), 0.28125, "wet"},
		{"B", -101.61, 35.9, 0, 10, "2026-07-15", "07:10", nil},
		{},
		{"C", "101 36.6 W", 35.9, nil, 10, nil, nil, nil},
	} {
		cell, err := excelize.CoordinatesToCellName(1, i+2)
		require.NoError(t, err)
		require.NoError(t, f.SetSheetRow("Counts", cell, &row))
	}
	thousands := "#,##0"
	style, err := f.NewStyle(&excelize.Style{CustomNumFmt: &thousands})
	require.NoError(t, err)
	require.NoError(t, f.SetCellStyle("Counts", "D3", "D3", style))
	var b bytes.Buffer
	require.NoError(t, f.Write(&b))
	return b.Bytes()
}

func TestWorkbook(t *testing.T) {
	path := filepath.Join(t.TempDir(), "counts.xlsx")
	require.NoError(t, os.WriteFile(path, workbook(t), 0o600))
	s, err := survey.Read(given.Files(t, path), survey.Options{})
	require.NoError(t, err)
	assertAddsUp(t, s)
	require.Len(t, s.Stops, 2)
	assert.Equal(t, 120.4, s.Stops[0].Mean())
	assert.Equal(t, "2026-07-15 06:45", s.Stops[0].Date+" "+s.Stops[0].Time)
	assert.Equal(t, "2026-07-15 07:10", s.Stops[1].Date+" "+s.Stops[1].Time)
	assert.Contains(t, s.Notes, `counts.xlsx: read from sheet "Counts"`)
	assert.Equal(t, []string{`counts.xlsx:6: Count "": is blank, and a blank is not a zero; write the count, 0 if nothing was found`}, problems(s))

	_, err = decode(t, "bad.xlsx", string(workbook(t)[:2000]), survey.Options{})
	assert.Error(t, err)
}

func FuzzWorkbook(f *testing.F) {
	book := excelize.NewFile()
	_ = book.SetSheetRow("Sheet1", "A1", &[]any{"stop", "longitude", "latitude", "count", "date"})
	_ = book.SetSheetRow("Sheet1", "A2", &[]any{"A", 1, 2, 3, 45000.5})
	var b bytes.Buffer
	if err := book.Write(&b); err != nil {
		f.Fatal(err)
	}
	f.Add(b.Bytes())
	f.Fuzz(func(t *testing.T, data []byte) {
		s, err := survey.Read(given.Table(string(data)), survey.Options{Limits: survey.Limits{Bytes: 1 << 20}})
		if err == nil {
			assertAddsUp(t, s)
		}
	})
}
