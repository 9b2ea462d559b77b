package geofile

import (
	"archive/zip"
	"bytes"
	"encoding/binary"
	"fmt"
	"io"
	"math"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/files/archive"
)

// A Layer is features of one kind with the same properties, as table formats
// want them. Name is a plain one: letters, digits, underscores.
type Layer struct {
	Name     string
	Features []geo.Feature
	// Date is YYYY-MM-DD, for the formats that hold one; "" for 1900-01-01. No
	// clock is asked, so that output is repeatable.
	Date string
}

// wgs84Esri is WGS 84 as .prj files say it.
const wgs84Esri = `GEOGCS["GCS_WGS_1984",DATUM["D_WGS_1984",SPHEROID["WGS_1984",6378137.0,298.257223563]],PRIMEM["Greenwich",0.0],UNIT["Degree",0.0174532925199433]]`

// WriteShapefile writes polygons as a zip archive with the parts .shp, .shx,
// .dbf, .prj and .cpg (ESRI Shapefile Technical Description, July 1998; dBASE
// III): outer rings clockwise and holes not, seven decimals, text in UTF-8.
// Names of properties must be 10 ASCII letters, digits or underscores at the
// most, and differ; text beyond 254 bytes is cut at a character. Other
// geometries are an error.
func WriteShapefile(w io.Writer, l Layer) error {
	shp, shx, err := shapes(l.Features)
	if err != nil {
		return err
	}
	dbf, err := table(l)
	if err != nil {
		return err
	}
	z := zip.NewWriter(w)
	for _, part := range []struct {
		extension string
		content   []byte
	}{{"shp", shp}, {"shx", shx}, {"dbf", dbf}, {"prj", []byte(wgs84Esri)}, {"cpg", []byte("UTF-8")}} {
		entry, err := archive.Add(z, l.Name+"."+part.extension)
		if err != nil {
			return err
		}
		if _, err := entry.Write(part.content); err != nil {
			return err
		}
	}
	return z.Close()
}

const (
	shapeHeader  = 100 // bytes
	shapePolygon = 5
)

// shapes renders the geometries and their index.
func shapes(features []geo.Feature) (shp, shx []byte, err error) {
	var records, index bytes.Buffer
	var box orb.Bound
	for i, f := range features {
		content, bound, err := shape(f.Geometry)
		if err != nil {
			err.File, err.Feature = "Shapefile", i+1
			return nil, nil, err
		}
		if i == 0 {
			box = bound
		}
		box = box.Union(bound)
		words := len(content) / 2
		index.Write(binary.BigEndian.AppendUint32(nil, uint32((shapeHeader+records.Len())/2)))
		index.Write(binary.BigEndian.AppendUint32(nil, uint32(words)))
		records.Write(binary.BigEndian.AppendUint32(nil, uint32(i+1)))
		records.Write(binary.BigEndian.AppendUint32(nil, uint32(words)))
		records.Write(content)
	}
	if records.Len() > math.MaxInt32-shapeHeader {
		return nil, nil, &Error{File: "Shapefile", Msg: "more than 2 GiB"}
	}
	return append(shapeHead(records.Len(), box), records.Bytes()...), append(shapeHead(index.Len(), box), index.Bytes()...), nil
}

func shapeHead(content int, box orb.Bound) []byte {
	head := make([]byte, shapeHeader)
	binary.BigEndian.PutUint32(head[0:], 9994)
	binary.BigEndian.PutUint32(head[24:], uint32((shapeHeader+content)/2))
	binary.LittleEndian.PutUint32(head[28:], 1000)
	binary.LittleEndian.PutUint32(head[32:], shapePolygon)
	for i, v := range []float64{box.Min[0], box.Min[1], box.Max[0], box.Max[1]} {
		binary.LittleEndian.PutUint64(head[36+8*i:], math.Float64bits(v))
	}
	return head
}

// shape renders one record's content.
func shape(g orb.Geometry) ([]byte, orb.Bound, *Error) {
	var mp orb.MultiPolygon
	switch g := g.(type) {
	case orb.Polygon:
		mp = orb.MultiPolygon{g}
	case orb.MultiPolygon:
		mp = g
	default:
		return nil, orb.Bound{}, &Error{Msg: fmt.Sprintf("a %T is no polygon", g)}
	}
	if err := checkGeometry(mp); err != nil {
		return nil, orb.Bound{}, err
	}
	if len(mp) == 0 {
		return nil, orb.Bound{}, &Error{Msg: "no polygon"}
	}
	var starts, points []byte
	n := 0
	mp = roundedPolygons(mp)
	for _, polygon := range geo.Wind(mp) {
		for _, ring := range polygon {
			starts = binary.LittleEndian.AppendUint32(starts, uint32(n))
			n += len(ring)
			for k := len(ring) - 1; k >= 0; k-- { // the other way round than GeoJSON
				points = appendDoubles(points, ring[k][0], ring[k][1])
			}
		}
	}
	box := mp.Bound()
	content := binary.LittleEndian.AppendUint32(nil, shapePolygon)
	content = appendDoubles(content, box.Min[0], box.Min[1], box.Max[0], box.Max[1])
	content = binary.LittleEndian.AppendUint32(content, uint32(len(starts)/4))
	content = binary.LittleEndian.AppendUint32(content, uint32(n))
	return append(append(content, starts...), points...), box, nil
}

func appendDoubles(b []byte, values ...float64) []byte {
	for _, v := range values {
		b = binary.LittleEndian.AppendUint64(b, math.Float64bits(v))
	}
	return b
}

// roundedPolygons keeps seven decimals.
func roundedPolygons(mp orb.MultiPolygon) orb.MultiPolygon {
	out := mp.Clone()
	for _, polygon := range out {
		for _, ring := range polygon {
			for i, p := range ring {
				ring[i] = orb.Point{rounded(p[0]), rounded(p[1])}
			}
		}
	}
	return out
}
