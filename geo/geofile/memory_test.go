package geofile_test

import (
	"runtime"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/geo/geofile"
)

const mebibyte = 1 << 20

// retained is what the heap holds more after f than before, its result included,
// once what is no longer used was given back.
func retained(f func() any) int64 {
	var before, after runtime.MemStats
	runtime.GC()
	runtime.ReadMemStats(&before)
	result := f()
	runtime.GC()
	runtime.ReadMemStats(&after)
	runtime.KeepAlive(result)
	return int64(after.HeapAlloc) - int64(before.HeapAlloc)
}

// filled repeats a piece up to a mebibyte between what begins and ends a file.
func filled(begin, piece, end string) string {
	return begin + strings.Repeat(piece, (mebibyte-len(begin)-len(end))/len(piece)) + end
}

// A mebibyte of input, however it is made, leaves no more than 64 behind.
func TestMemoryIsBoundedByTheInput(t *testing.T) {
	const coordinates = `{"type":"LineString","coordinates":[`
	for name, c := range map[string]struct{ file, text string }{
		"positions":         {"f.geojson", filled(coordinates, "[1,2],", "[1,2]]}")},
		"empty arrays":      {"f.geojson", filled(coordinates, "[],", "[]]}")},
		"numbers":           {"f.geojson", filled(coordinates, "1,", "1]}")},
		"texts":             {"f.geojson", filled(`{"type":"Point","coordinates":[1,2],"x":[`, `"",`, `""]}`)},
		"brackets":          {"f.geojson", filled("", "[", "")},
		"features":          {"f.geojson", filled(`{"type":"FeatureCollection","features":[`, `{"type":"Feature"},`, `{"type":"Feature"}]}`)},
		"members":           {"f.geojson", filled(`{"type":"FeatureCollection","features":[`, `{"a":{},"b":{}},`, `{}]}`)},
		"records":           {"f.geojson", filled("\x1e", "{}\n\x1e", "{}")},
		"elements":          {"f.kml", filled("<kml>", "<a/>", "</kml>")},
		"open elements":     {"f.kml", filled("<kml>", "<a>", "")},
		"placemarks":        {"f.kml", filled("<kml>", "<Placemark/>", "</kml>")},
		"tuples":            {"f.kml", filled("<kml><Placemark><LineString><coordinates>", "1,2 ", "</coordinates></LineString></Placemark></kml>")},
		"commas":            {"f.kml", filled("<kml><Placemark><LineString><coordinates>", ",", "</coordinates></LineString></Placemark></kml>")},
		"waypoints":         {"f.gpx", filled("<gpx>", `<wpt lat="1" lon="2"/>`, "</gpx>")},
		"properties":        {"f.gpx", filled(`<gpx><wpt lat="1" lon="2">`, "<a/>", "</wpt></gpx>")},
		"shapes of nothing": {"f.shp", "\x00\x00\x27\x0a" + strings.Repeat("\x00", 96) + strings.Repeat("\x00\x00\x00\x01\x00\x00\x00\x02\x00\x00\x00\x00", (mebibyte-100)/12)},
	} {
		t.Run(name, func(t *testing.T) {
			took := retained(func() any {
				collection, _ := geofile.Decode(c.file, strings.NewReader(c.text), geofile.Limits{})
				return collection
			})
			assert.LessOrEqual(t, took, int64(64*mebibyte), "%d MiB", took/mebibyte)
		})
	}
}
