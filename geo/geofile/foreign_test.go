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
			assert.EqualError(t, err, name+": is "+c.want+", which holds no outlines and no points")
		}
	}
}
