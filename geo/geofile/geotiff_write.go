package geofile

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"encoding/xml"
	"fmt"
	"io"
	"math"
	"strings"
)

// A Raster is a grid of values in a zone of UTM on WGS 84.
type Raster struct {
	Zone       int  // 1 to 60
	North      bool // hemisphere
	West       float64
	NorthEdge  float64 // easting and northing of the upper left corner of the first cell, metres
	Cell       float64 // metres
	Cols, Rows int
	// Description is kept in the file for those who open it, Band is the name of what the
	// values are and Unit what they are counted in; "" is none.
	Description, Band, Unit string
	Values                  []float32 // row by row from the northernmost, west to east; NaN is no data
}

// maxRaster bounds a file: offsets in it have 32 bits.
const maxRaster = 256 << 20 // cells

func (r Raster) validate() error {
	for _, v := range []float64{r.West, r.NorthEdge, r.Cell} {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return &Error{File: "GeoTIFF", Msg: fmt.Sprintf("a corner or cell of %v", v)}
		}
	}
	switch {
	case r.Zone < 1 || r.Zone > 60:
		return &Error{File: "GeoTIFF", Msg: fmt.Sprintf("utm zone %d does not exist, zones run from 1 to 60", r.Zone)}
	case r.Cell <= 0:
		return &Error{File: "GeoTIFF", Msg: fmt.Sprintf("cells of %v m", r.Cell)}
	case r.Cols < 1 || r.Rows < 1 || r.Cols > maxRaster/r.Rows || len(r.Values) != r.Cols*r.Rows:
		return &Error{File: "GeoTIFF", Msg: fmt.Sprintf("%d values in %d columns and %d rows", len(r.Values), r.Cols, r.Rows)}
	}
	return nil
}

// WriteGeoTIFF writes GeoTIFF 1.1 (OGC 19-008r4): one band of 32-bit floats,
// packed by deflate (Adobe Photoshop TIFF Technical Notes, 2002: compression 8, which is
// zlib's; TIFF 6.0 for the rest), the cell as area, the projection by its EPSG code
// (326zz, 327zz). No data is NaN, said in the tag GDAL_NODATA; name and unit of the band
// stand in GDAL_METADATA. The same raster has the same bytes.
func WriteGeoTIFF(w io.Writer, r Raster) error {
	if err := r.validate(); err != nil {
		return err
	}
	f := tiff{}
	rowBytes := 4 * r.Cols
	perStrip := min(r.Rows, max(1, stripBytes/rowBytes))
	strips := (r.Rows + perStrip - 1) / perStrip
	counts := make([]uint32, strips)
	var packed bytes.Buffer
	for i := range counts {
		from := i * perStrip * r.Cols
		n, err := pack(&packed, r.Values[from:min(len(r.Values), from+perStrip*r.Cols)])
		if err != nil {
			return err
		}
		counts[i] = n
	}
	citation := fmt.Sprintf("WGS 84 / UTM zone %d%s|", r.Zone, map[bool]string{true: "N", false: "S"}[r.North])
	f.longs(tagWidth, uint32(r.Cols))
	f.longs(tagHeight, uint32(r.Rows))
	f.shorts(tagBits, 32)
	f.shorts(tagCompression, adobeDeflate)
	f.shorts(tagPhotometric, 1)
	if r.Description != "" {
		f.ascii(tagDescription, r.Description)
	}
	f.longs(tagStripOffsets, make([]uint32, strips)...) // filled in when it is known where
	f.shorts(tagSamples, 1)
	f.longs(tagRowsPerStrip, uint32(perStrip))
	f.longs(tagStripCounts, counts...)
	f.shorts(tagSampleFormat, 3)
	f.doubles(tagPixelScale, r.Cell, r.Cell, 0)
	f.doubles(tagTiepoint, 0, 0, 0, r.West, r.NorthEdge, 0)
	f.shorts(tagGeoKeys, geoKeys(r, len(citation))...)
	f.ascii(tagGeoText, citation)
	if text := r.metadata(); text != "" {
		f.ascii(tagMetadata, text)
	}
	f.ascii(tagNoData, "nan")
	return f.write(w, packed.Bytes(), counts)
}

const (
	stripBytes   = 64 << 10 // before packing
	adobeDeflate = 8
)

// pack appends values as one strip and tells its length; a byte fills it up to an even one,
// so that each strip begins at an even place.
func pack(b *bytes.Buffer, values []float32) (n uint32, err error) {
	before := b.Len()
	z := zlib.NewWriter(b)
	if err := binary.Write(z, binary.LittleEndian, values); err != nil {
		return 0, err
	}
	if err := z.Close(); err != nil {
		return 0, err
	}
	n = uint32(b.Len() - before)
	if n%2 == 1 {
		b.WriteByte(0)
	}
	return n, nil
}

// metadata is the band's name and unit as GDAL writes and reads them, which escapes values
// twice; "" for none.
func (r Raster) metadata() string {
	var items strings.Builder
	for _, item := range [...]struct{ name, role, value string }{{"DESCRIPTION", "description", r.Band}, {"UNITTYPE", "unittype", r.Unit}} {
		if item.value == "" {
			continue
		}
		fmt.Fprintf(&items, `<Item name="%s" sample="0" role="%s">`, item.name, item.role)
		var once bytes.Buffer // buffers take everything
		_ = xml.EscapeText(&once, []byte(item.value))
		_ = xml.EscapeText(&items, once.Bytes())
		items.WriteString("</Item>")
	}
	if items.Len() == 0 {
		return ""
	}
	return "<GDALMetadata>" + items.String() + "</GDALMetadata>"
}

// Tags of TIFF 6.0, GeoTIFF and GDAL.
const (
	tagWidth        = 256
	tagHeight       = 257
	tagBits         = 258
	tagCompression  = 259
	tagPhotometric  = 262
	tagDescription  = 270
	tagStripOffsets = 273
	tagSamples      = 277
	tagRowsPerStrip = 278
	tagStripCounts  = 279
	tagSampleFormat = 339
	tagPixelScale   = 33550
	tagTiepoint     = 33922
	tagGeoKeys      = 34735
	tagGeoText      = 34737
	tagMetadata     = 42112
	tagNoData       = 42113
)

// geoKeys: a projected system, cells as areas, a citation, the EPSG code.
func geoKeys(r Raster, citation int) []uint16 {
	system := 32600 + r.Zone
	if !r.North {
		system += 100
	}
	return []uint16{
		1, 1, 1, 4,
		1024, 0, 1, 1,
		1025, 0, 1, 1,
		1026, tagGeoText, uint16(citation), 0,
		3072, 0, 1, uint16(system),
	}
}

// tiff gathers the entries of the one directory, in rising order of tags.
type tiff struct{ entries []entry }

type entry struct {
	tag, kind uint16
	count     uint32
	value     []byte
}

// Kinds of TIFF 6.0.
const (
	kindASCII  = 2
	kindShort  = 3
	kindLong   = 4
	kindDouble = 12
)

func (f *tiff) add(tag, kind uint16, count int, value []byte) {
	f.entries = append(f.entries, entry{tag, kind, uint32(count), value})
}

func (f *tiff) shorts(tag uint16, v ...uint16) {
	var b []byte
	for _, x := range v {
		b = binary.LittleEndian.AppendUint16(b, x)
	}
	f.add(tag, kindShort, len(v), b)
}

func (f *tiff) longs(tag uint16, v ...uint32) {
	var b []byte
	for _, x := range v {
		b = binary.LittleEndian.AppendUint32(b, x)
	}
	f.add(tag, kindLong, len(v), b)
}

func (f *tiff) doubles(tag uint16, v ...float64) {
	var b []byte
	for _, x := range v {
		b = binary.LittleEndian.AppendUint64(b, math.Float64bits(x))
	}
	f.add(tag, kindDouble, len(v), b)
}

func (f *tiff) ascii(tag uint16, text string) {
	f.add(tag, kindASCII, len(text)+1, append([]byte(text), 0))
}

const (
	tiffHeader = 8
	entryBytes = 12
	inline     = 4 // bytes of a value that stand in the entry itself
)

// write puts the header, the directory, values too long for it, and the strips
// behind one another, each on an even offset.
func (f *tiff) write(w io.Writer, packed []byte, strips []uint32) error {
	end := uint32(tiffHeader + 2 + entryBytes*len(f.entries) + 4)
	offsets := make([]uint32, len(f.entries))
	for i, e := range f.entries {
		if len(e.value) > inline {
			offsets[i] = end
			end += uint32(len(e.value)+1) &^ 1
		}
	}
	for i, e := range f.entries {
		if e.tag == tagStripOffsets {
			at := end
			for j, n := range strips {
				binary.LittleEndian.PutUint32(f.entries[i].value[4*j:], at)
				at += (n + 1) &^ 1
			}
		}
	}
	var b bytes.Buffer
	b.WriteString("II")
	put := func(v any) { _ = binary.Write(&b, binary.LittleEndian, v) } // a buffer takes everything
	put(uint16(42))
	put(uint32(tiffHeader))
	put(uint16(len(f.entries)))
	for i, e := range f.entries {
		put(e.tag)
		put(e.kind)
		put(e.count)
		if len(e.value) > inline {
			put(offsets[i])
		} else {
			b.Write(append(e.value, make([]byte, inline-len(e.value))...))
		}
	}
	put(uint32(0)) // no further directory
	for _, e := range f.entries {
		if len(e.value) > inline {
			b.Write(e.value)
			if len(e.value)%2 == 1 {
				b.WriteByte(0)
			}
		}
	}
	b.Write(packed)
	_, err := w.Write(b.Bytes())
	return err
}
