package geofile_test

import (
	"archive/zip"
	"bytes"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo/geofile"
)

// stored is an archive of one entry that is not packed, as the first of an
// OpenDocument file is.
func stored(t *testing.T, name, text string) []byte {
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	w, err := z.CreateHeader(&zip.FileHeader{Name: name, Method: zip.Store})
	require.NoError(t, err)
	_, err = w.Write([]byte(text))
	require.NoError(t, err)
	require.NoError(t, z.Close())
	return b.Bytes()
}

var mayHold = map[string]bool{"a FlatGeobuf file": true, "a Parquet file": true, "a packed file (gzip)": true, "GML": true, "a list in JSON, not GeoJSON": true}

func TestForeignDocumentsAreNamed(t *testing.T) {
	old := "\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1rest"
	for name, c := range map[string]struct {
		data string
		want string
	}{
		"a.pdf":      {"%PDF-1.7\n", "a PDF"},
		"a.xls":      {old, "a spreadsheet of the old form .xls"},
		"A.DOC":      {old, "a text document"},
		"a":          {old, "an office document of the old form (.doc or .xls)"},
		"a.rtf":      {`{\rtf1`, "a text document"},
		"a.docx":     {string(stored(t, "word/document.xml", "<x/>")), "a text document (.docx)"},
		"a.pptx":     {string(stored(t, "ppt/presentation.xml", "<x/>")), "a slide show"},
		"a.xlsx":     {string(stored(t, "xl/workbook.xml", "<x/>")), "a spreadsheet (.xlsx)"},
		"a.ods":      {string(stored(t, "mimetype", "application/vnd.oasis.opendocument.spreadsheet")), "an OpenDocument spreadsheet (.ods)"},
		"a.odt":      {string(stored(t, "mimetype", "application/vnd.oasis.opendocument.text")), "an OpenDocument document"},
		"a.png":      {"\x89PNG\r\n", "a picture"},
		"a.fgb":      {"fgb\x03fgb\x00", "a FlatGeobuf file"},
		"a.parquet":  {"PAR1xxxxPAR1", "a Parquet file"},
		"a.gz":       {"\x1f\x8b\x08", "a packed file (gzip)"},
		"a.html":     {"\xef\xbb\xbf\n<!-- saved --><!DOCTYPE HTML><html>", "a web page (HTML), such as a log-in or an error"},
		"field.kml":  {"<html lang=en><body>Log in</body></html>", "a web page (HTML), such as a log-in or an error"},
		"a.xhtml":    {`<?xml version="1.0"?><html xmlns="http://www.w3.org/1999/xhtml"/>`, "a web page (HTML), such as a log-in or an error"},
		"a.gml":      {`<?xml version="1.0"?><ogr:FeatureCollection xmlns:gml="http://www.opengis.net/gml"/>`, "GML"},
		"b.gml":      {`<wfs:FeatureCollection xmlns:gml="http://www.opengis.net/gml/3.2">`, "GML"},
		"a.json":     {"[\n {\"stop\": 1}]", "a list in JSON, not GeoJSON"},
		"b.kml":      {`<kml xmlns:gml="http://www.opengis.net/gml"><!-- <html> --></kml>`, ""},
		"b.gpx":      {`<gpx xmlns:gml="http://www.opengis.net/gml"/>`, ""},
		"par.csv":    {"PAR1,longitude\n", ""},
		"fgb.csv":    {"fgb,longitude\n", ""},
		"list.csv":   {"[stop],count\n", ""},
		"less.csv":   {"<5,3\n", ""},
		"a.kmz":      {string(stored(t, "doc.kml", "<kml/>")), ""},
		"a.epub":     {string(stored(t, "mimetype", "application/epub+zip")), ""},
		"b.pdf":      {"stop,count\n", ""},
		"a.geojson":  {`{"type":"FeatureCollection","features":[]}`, ""},
		"nothing":    {"", ""},
		"cut.docx":   {"PK\x03\x04", ""},
		"empty.docx": {string(stored(t, "word", "")), ""},
	} {
		assert.Equal(t, c.want, geofile.Foreign(name, []byte(c.data)), name)
		if c.want != "" {
			_, err := geofile.Decode(name, strings.NewReader(c.data), geofile.Limits{})
			why := ", which holds no outlines and no points"
			if mayHold[c.want] {
				why = ", which is not read"
			}
			assert.EqualError(t, err, name+": is "+c.want+why)
			var refusal *geofile.Error
			require.ErrorAs(t, err, &refusal)
			assert.Equal(t, "give "+geofile.Formats, refusal.Hint)
		}
	}
}

// JSON that is no GeoJSON is named with what it holds, and so is every other format.
func TestRefusalsNameWhatIsTaken(t *testing.T) {
	for text, want := range map[string]string{
		`{"error":"log in","code":401,"a":1,"b":2}`: `is JSON but no GeoJSON: it holds "error", "code", "a", 1 more`,
		`{}`: "is JSON but no GeoJSON: it holds nothing",
		`{"type":"Topology","objects":{},"arcs":[]}`: "is TopoJSON, which is not read",
		`<svg></svg>`: "is no KML: it begins with <svg>",
		"a,b\n1,2\n":  "is none of the known formats",
	} {
		_, err := geofile.Decode("f", strings.NewReader(text), geofile.Limits{})
		require.ErrorContains(t, err, want)
		var refusal *geofile.Error
		require.ErrorAs(t, err, &refusal)
		assert.Equal(t, "give "+geofile.Formats, refusal.Hint, text)
	}
}
