package geofile_test

import (
	"archive/zip"
	"bytes"
	"image/color"
	"image/png"
	"io"
	"strings"
	"testing"
	"time"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/geo/geofile"
)

// unpacked are the files of an archive by their names.
func unpacked(t *testing.T, data []byte) (*zip.Reader, map[string]string) {
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	require.NoError(t, err)
	files := map[string]string{}
	for _, f := range z.File {
		r, err := f.Open()
		require.NoError(t, err)
		text, err := io.ReadAll(r)
		require.NoError(t, err)
		files[f.Name] = string(text)
	}
	return z, files
}

// assertDated wants days that are some: APPNOTE.TXT 4.4.6 counts months and days from 1,
// in two bytes that old programs read.
func assertDated(t *testing.T, data []byte) {
	assert.Equal(t, []byte{1<<5 | 1, 0}, data[12:14], "of the first entry")
	z, _ := unpacked(t, data)
	for _, f := range z.File {
		assert.True(t, f.Modified.Equal(time.Date(1980, 1, 1, 0, 0, 0, 0, time.UTC)), "%s: %v", f.Name, f.Modified)
	}
}

func stops() geofile.Document {
	red := color.NRGBA{R: 0xFF, A: 0xFF}
	return geofile.Document{Name: "Stops </IconStyle>", Description: "counted\n</IconStyle>\n<Folder>", Styles: []geofile.Style{
		{ID: "a", Icon: red, Scale: 0.6}, {ID: "b", Icon: red, Scale: 1, LabelScale: 0.5},
	}, Folders: []geofile.Folder{
		{Name: "nothing"}, {Name: "stops", Placemarks: []geofile.Placemark{{Name: "1", Style: "a", Geometry: orb.Point{1, 2}}}}, {Name: "nothing here"},
	}}
}

// Points of an archive have a picture that lies in it, those of a file alone none; neither
// asks for one from elsewhere, and no folder is empty.
func TestStopsShowWithoutANetwork(t *testing.T) {
	var kml, kmz bytes.Buffer
	require.NoError(t, geofile.WriteKML(&kml, stops()))
	require.NoError(t, geofile.WriteKMZ(&kmz, stops()))
	z, files := unpacked(t, kmz.Bytes())
	assertDated(t, kmz.Bytes())
	assert.Len(t, files, 2)
	assert.Equal(t, "doc.kml", z.File[0].Name)
	assert.Equal(t, 2, strings.Count(files["doc.kml"], "<Icon><href>files/stop.png</href></Icon>"))
	picture, err := png.Decode(strings.NewReader(files["files/stop.png"]))
	require.NoError(t, err)
	_, _, _, corner := picture.At(0, 0).RGBA()
	r, _, _, middle := picture.At(16, 16).RGBA()
	assert.Equal(t, []uint32{0, 0xFFFF, 0xFFFF}, []uint32{corner, middle, r}, "a white dot, to be tinted")
	for name, text := range map[string]string{"kml": kml.String(), "kmz": files["doc.kml"]} {
		checkKML(t, []byte(text))
		assert.NotContains(t, strings.ReplaceAll(text, `xmlns="http://www.opengis.net/kml/2.2"`, ""), "http", name)
		assert.Equal(t, 1, strings.Count(text, "<Folder>\n"), name)
		assert.NotContains(t, text, "nothing", name)
	}
	assert.NotContains(t, kml.String(), "<Icon>")
	c, err := geofile.Decode("f.kmz", bytes.NewReader(kmz.Bytes()), geofile.Limits{})
	require.NoError(t, err)
	assert.Equal(t, []geo.Feature{{Geometry: orb.Point{1, 2}, Properties: geo.Properties{{Name: "name", Value: "1"}}}}, withoutLines(c.Features))

	kmz.Reset()
	require.NoError(t, geofile.WriteKMZ(&kmz, geofile.Document{Name: "no styles"}))
	_, files = unpacked(t, kmz.Bytes())
	assert.Len(t, files, 1)
}

func withoutLines(features []geo.Feature) (out []geo.Feature) {
	for _, f := range features {
		f.Line = 0
		out = append(out, f)
	}
	return out
}

func TestShapefilesAreDated(t *testing.T) {
	var b bytes.Buffer
	require.NoError(t, geofile.WriteShapefile(&b, geofile.Layer{Name: "f", Features: []geo.Feature{{Geometry: orb.Polygon{{{0, 0}, {1, 0}, {1, 1}, {0, 0}}}, Properties: geo.Properties{{Name: "a", Value: "b"}}}}}))
	assertDated(t, b.Bytes())
}
