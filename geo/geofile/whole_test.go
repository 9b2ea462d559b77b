package geofile_test

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/testkit"
)

// manyFields are 60 invented fields.
func manyFields() (fields []geo.Feature) {
	for i := range 60 {
		x, y := -101+float64(i%10)/100, 35+float64(i/10)/100
		ring := orb.Ring{{x, y}, {x + 0.005, y}, {x + 0.005, y + 0.005}, {x, y + 0.005}, {x, y}}
		fields = append(fields, geo.Feature{Geometry: orb.Polygon{ring}, Properties: geo.Properties{{Name: "name", Value: fmt.Sprintf("Süd %d", i)}}})
	}
	return fields
}

// One bit of a file is another, or its end is missing: it is refused, or it is read as
// it was. A GeoPackage has no checksum: there, no row may be missing.
func TestDamagedFilesAreNeverReadAsWhole(t *testing.T) {
	layer := geofile.Layer{Name: "fields", Features: manyFields()}
	files := map[string]*bytes.Buffer{"fields.zip": {}, "fields.kmz": {}, "fields.gpkg": {}}
	require.NoError(t, geofile.WriteShapefile(files["fields.zip"], layer))
	require.NoError(t, geofile.WriteKMZ(files["fields.kmz"], geofile.Document{Folders: []geofile.Folder{{Name: "fields", Placemarks: marks(layer.Features)}}}))
	require.NoError(t, geofile.WriteGeoPackage(files["fields.gpkg"], []geofile.Layer{layer}))
	for name, file := range files {
		t.Run(name, func(t *testing.T) {
			raw := file.Bytes()
			whole, err := geofile.Decode(name, bytes.NewReader(raw), geofile.Limits{})
			require.NoError(t, err)
			require.Len(t, whole.Features, 60)
			refused := 0
			try := func(damaged []byte, where string) {
				c, err := geofile.Decode(name, bytes.NewReader(damaged), geofile.Limits{})
				switch {
				case err != nil:
					refused++
				case name == "fields.gpkg":
					assert.Len(t, c.Features, 60, where)
				default:
					assert.Equal(t, whole, c, where)
				}
			}
			random := rand.New(rand.NewPCG(60, 400))
			for range testkit.Few(400, 100) {
				bit := random.IntN(8 * len(raw))
				try(flipped(raw, bit), fmt.Sprintf("bit %d", bit))
			}
			for i, bit := range structure(name, raw) {
				if i%testkit.Few(1, 4) != 0 {
					continue
				}
				try(flipped(raw, bit), fmt.Sprintf("bit %d of what orders the file", bit))
			}
			for n := 1; n < 50; n += testkit.Few(1, 4) {
				try(raw[:n*len(raw)/50], fmt.Sprintf("the first %d %%", 2*n))
			}
			assert.Greater(t, refused, testkit.Few(50, 10))
			t.Logf("%d bytes, %d refused", len(raw), refused)
		})
	}
}

func flipped(raw []byte, bit int) []byte {
	damaged := bytes.Clone(raw)
	damaged[bit/8] ^= 1 << (bit % 8)
	return damaged
}

// structure are bits of the list of contents of an archive, or of the heads of the
// pages of a database.
func structure(name string, raw []byte) (bits []int) {
	if name != "fields.gpkg" {
		for bit := 8 * bytes.Index(raw, []byte("PK\x01\x02")); bit < 8*len(raw); bit += 3 {
			bits = append(bits, bit)
		}
		return bits
	}
	const page, head = 4096, 40
	for at := page; at < len(raw); at += page {
		for bit := 0; bit < 8*head; bit += 5 {
			bits = append(bits, 8*at+bit)
		}
	}
	return bits
}

func marks(features []geo.Feature) (out []geofile.Placemark) {
	for _, f := range features {
		name, _ := f.Properties.Get("name")
		out = append(out, geofile.Placemark{Name: fmt.Sprint(name), Geometry: f.Geometry})
	}
	return out
}
