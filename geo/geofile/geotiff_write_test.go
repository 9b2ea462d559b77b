package geofile_test

import (
	"archive/zip"
	"bytes"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/testkit"
)

// raster has the value 1000·row + col, and none in its first cell.
func raster(cols, rows int) geofile.Raster {
	r := geofile.Raster{Zone: 14, North: true, West: 264015, NorthEdge: 3975480, Cell: 5, Cols: cols, Rows: rows, Description: "counts <per> leaf", Band: `aphids & "mites" <x>, mean`, Unit: "per leaf", Values: make([]float32, cols*rows)}
	for i := range r.Values {
		r.Values[i] = float32(1000*(i/cols) + i%cols)
	}
	r.Values[0] = float32(math.NaN())
	return r
}

// GDAL 3.6 reads size, system, corners, no data and values of rasters of one strip
// and of many, also of rows longer than a strip.
func TestGDALReadsGeoTIFF(t *testing.T) {
	for _, size := range [][2]int{{7, 5}, {173, 101}, {5000, 3}, {1, 1}} {
		t.Run(fmt.Sprint(size), func(t *testing.T) {
			r := raster(size[0], size[1])
			path := filepath.Join(t.TempDir(), "surface.tif")
			var b bytes.Buffer
			require.NoError(t, geofile.WriteGeoTIFF(&b, r))
			require.NoError(t, os.WriteFile(path, b.Bytes(), 0o644))
			info := testkit.Program(t, nil, "gdalinfo", path)
			for _, want := range []string{
				fmt.Sprintf("Size is %d, %d", r.Cols, r.Rows), "WGS 84 / UTM zone 14N", `ID["EPSG",32614]`, "Type=Float32", "NoData Value=nan",
				"Origin = (264015.000000000000000,3975480.000000000000000)", "Pixel Size = (5.000000000000000,-5.000000000000000)", "AREA_OR_POINT=Area", "TIFFTAG_IMAGEDESCRIPTION=counts <per> leaf",
				"COMPRESSION=DEFLATE", `Description = aphids & "mites" <x>, mean`, "Unit Type: per leaf",
			} {
				assert.Contains(t, info, want)
			}
			assert.NotContains(t, strings.ToLower(info), "warning")
			for _, at := range [][2]int{{r.Cols - 1, r.Rows - 1}, {r.Cols / 2, r.Rows / 2}, {0, 0}} {
				got, err := strconv.ParseFloat(strings.TrimSpace(testkit.Program(t, nil, "gdallocationinfo", "-valonly", path, strconv.Itoa(at[0]), strconv.Itoa(at[1]))), 64)
				require.NoError(t, err)
				want := float64(r.Values[at[1]*r.Cols+at[0]])
				assert.True(t, got == want || math.IsNaN(got) && math.IsNaN(want), "%v: %v for %v", at, got, want)
			}
		})
	}
}

// Without name and unit there is no tag of them.
func TestBandsWithoutAName(t *testing.T) {
	r := raster(3, 3)
	r.Band, r.Unit = "", ""
	var b bytes.Buffer
	require.NoError(t, geofile.WriteGeoTIFF(&b, r))
	assert.NotContains(t, b.String(), "GDALMetadata")
}

func TestGDALReadsTheSouth(t *testing.T) {
	r := raster(3, 3)
	r.Zone, r.North = 55, false
	path := filepath.Join(t.TempDir(), "surface.tif")
	var b bytes.Buffer
	require.NoError(t, geofile.WriteGeoTIFF(&b, r))
	require.NoError(t, os.WriteFile(path, b.Bytes(), 0o644))
	assert.Contains(t, testkit.Program(t, nil, "gdalinfo", path), `ID["EPSG",32755]`)
}

func TestGeoTIFFRefuses(t *testing.T) {
	for name, spoil := range map[string]func(*geofile.Raster){
		"no zone":        func(r *geofile.Raster) { r.Zone = 0 },
		"zone 61":        func(r *geofile.Raster) { r.Zone = 61 },
		"no cell":        func(r *geofile.Raster) { r.Cell = 0 },
		"corner NaN":     func(r *geofile.Raster) { r.West = math.NaN() },
		"infinite cell":  func(r *geofile.Raster) { r.Cell = math.Inf(1) },
		"too few values": func(r *geofile.Raster) { r.Values = r.Values[1:] },
		"no rows":        func(r *geofile.Raster) { r.Rows = 0 },
		"negative":       func(r *geofile.Raster) { r.Cols, r.Rows = -r.Cols, -r.Rows },
		"overflow":       func(r *geofile.Raster) { r.Cols, r.Rows = 1<<33, 1<<33 },
	} {
		t.Run(name, func(t *testing.T) {
			r := raster(4, 4)
			spoil(&r)
			require.Error(t, geofile.WriteGeoTIFF(io.Discard, r))
		})
	}
}

func overlays() geofile.Overlays {
	return geofile.Overlays{Name: "surface", Description: "a <test>", Legend: []byte("legend"),
		Pictures: []geofile.Overlay{{Name: "Pivot", PNG: []byte("picture"), West: -101.6, South: 35.88, East: -101.59, North: 35.9}}}
}

// The OGC's schema of KML 2.2 takes the document.
func TestOverlaysAreValidKML(t *testing.T) {
	var b bytes.Buffer
	require.NoError(t, geofile.WriteOverlaysKMZ(&b, overlays()))
	z, err := zip.NewReader(bytes.NewReader(b.Bytes()), int64(b.Len()))
	require.NoError(t, err)
	files := map[string]string{}
	for _, f := range z.File {
		r, err := f.Open()
		require.NoError(t, err)
		text, err := io.ReadAll(r)
		require.NoError(t, err)
		files[f.Name] = string(text)
	}
	assert.Equal(t, "doc.kml", z.File[0].Name, "the main file comes first")
	assertDated(t, b.Bytes())
	assert.Equal(t, "picture", files["files/surface1.png"])
	assert.Equal(t, "legend", files["files/legend.png"])
	checkKML(t, []byte(files["doc.kml"]))
	var again bytes.Buffer
	require.NoError(t, geofile.WriteOverlaysKMZ(&again, overlays()))
	assert.Equal(t, b.Bytes(), again.Bytes())
}

func TestOverlaysRefuseBoxes(t *testing.T) {
	for name, spoil := range map[string]func(*geofile.Overlay){
		"turned":          func(p *geofile.Overlay) { p.West, p.East = p.East, p.West },
		"no ground":       func(p *geofile.Overlay) { p.North = p.South },
		"off the earth":   func(p *geofile.Overlay) { p.North = 91 },
		"not a number":    func(p *geofile.Overlay) { p.South = math.NaN() },
		"across the date": func(p *geofile.Overlay) { p.East = 181 },
	} {
		t.Run(name, func(t *testing.T) {
			o := overlays()
			spoil(&o.Pictures[0])
			require.Error(t, geofile.WriteOverlaysKMZ(io.Discard, o))
		})
	}
}
