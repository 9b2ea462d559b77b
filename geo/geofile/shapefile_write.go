package geofile

import (
	"archive/zip"
	"bytes"
	"encoding/binary"
	"fmt"
	"io"
	"math"
	"slices"

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

// WriteShapefile writes areas, lines or points, one kind to a file, as a zip archive with
// the parts .shp, .shx, .dbf, .prj and .cpg (ESRI Shapefile Technical Description, July
// 1998; dBASE III): outer rings clockwise and holes not, all rings of a feature in one
// record, seven decimals, text in UTF-8. Names of properties must be 10 ASCII letters,
// digits or underscores at the most, and differ; text beyond 254 bytes is cut at a
// character. Geometries of two kinds, other ones and no feature at all are errors.
func WriteShapefile(w io.Writer, l Layer) error {
	parts, err := ShapefileParts(l)
	if err != nil {
		return err
	}
	return WriteArchive(w, parts)
}

// A Part is one file of those that belong together. Its name may have folders before it,
// each ended by a /.
type Part struct {
	Name    string
	Content []byte
}

// WriteArchive writes files as a zip archive, byte-equal on every run ([archive.Add]).
func WriteArchive(w io.Writer, parts []Part) error {
	z := zip.NewWriter(w)
	for _, part := range parts {
		entry, err := archive.Add(z, part.Name)
		if err != nil {
			return err
		}
		if _, err := entry.Write(part.Content); err != nil {
			return err
		}
	}
	return z.Close()
}

// ShapefileParts are the files of a Shapefile as [WriteShapefile] puts them into an archive.
func ShapefileParts(l Layer) ([]Part, error) {
	shp, shx, err := shapes(l.Features)
	if err != nil {
		return nil, err
	}
	dbf, err := table(l)
	if err != nil {
		return nil, err
	}
	return []Part{{l.Name + ".shp", shp}, {l.Name + ".shx", shx}, {l.Name + ".dbf", dbf}, {l.Name + ".prj", []byte(wgs84Esri)}, {l.Name + ".cpg", []byte("UTF-8")}}, nil
}

const (
	shapeHeader   = 100 // bytes
	shapePoint    = 1
	shapePolyLine = 3
	shapePolygon  = 5
)

// shapes renders the geometries and their index.
func shapes(features []geo.Feature) (shp, shx []byte, err error) {
	var records, index bytes.Buffer
	var box orb.Bound
	var kind uint32
	for i, f := range features {
		own, content, bound, err := shape(f.Geometry)
		if kind == 0 {
			kind = own
		}
		if err == nil && own != kind {
			err = &Error{Msg: fmt.Sprintf("a %T after other shapes", f.Geometry), Hint: "a Shapefile holds areas, lines or points: write one file for each"}
		}
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
	if kind == 0 {
		return nil, nil, &Error{File: "Shapefile", Msg: "no feature"}
	}
	if records.Len() > math.MaxInt32-shapeHeader {
		return nil, nil, &Error{File: "Shapefile", Msg: "more than 2 GiB"}
	}
	return append(shapeHead(kind, records.Len(), box), records.Bytes()...), append(shapeHead(kind, index.Len(), box), index.Bytes()...), nil
}

func shapeHead(kind uint32, content int, box orb.Bound) []byte {
	head := make([]byte, shapeHeader)
	binary.BigEndian.PutUint32(head[0:], 9994)
	binary.BigEndian.PutUint32(head[24:], uint32((shapeHeader+content)/2))
	binary.LittleEndian.PutUint32(head[28:], 1000)
	binary.LittleEndian.PutUint32(head[32:], kind)
	for i, v := range []float64{box.Min[0], box.Min[1], box.Max[0], box.Max[1]} {
		binary.LittleEndian.PutUint64(head[36+8*i:], math.Float64bits(v))
	}
	return head
}

// shape renders one record's content.
func shape(g orb.Geometry) (kind uint32, content []byte, box orb.Bound, err *Error) {
	switch one := g.(type) {
	case orb.Polygon:
		g = orb.MultiPolygon{one}
	case orb.LineString:
		g = orb.MultiLineString{one}
	}
	if err := checkGeometry(g); err != nil {
		return 0, nil, box, err
	}
	switch g := g.(type) {
	case orb.Point:
		g = orb.Point{rounded(g[0]), rounded(g[1])}
		return shapePoint, appendDoubles(binary.LittleEndian.AppendUint32(nil, shapePoint), g[0], g[1]), g.Bound(), nil
	case orb.MultiLineString:
		parts := make([][]orb.Point, len(g))
		for i, line := range roundedLines(g) {
			parts[i] = line
		}
		kind, content, box = shapePolyLine, shapeParts(shapePolyLine, parts), roundedLines(g).Bound()
	case orb.MultiPolygon:
		g = roundedPolygons(g)
		var parts [][]orb.Point
		for _, polygon := range geo.Wind(g) {
			for _, ring := range polygon {
				ring = slices.Clone(ring)
				slices.Reverse(ring) // the other way round than GeoJSON
				parts = append(parts, ring)
			}
		}
		kind, content, box = shapePolygon, shapeParts(shapePolygon, parts), g.Bound()
	default:
		return 0, nil, box, &Error{Msg: fmt.Sprintf("a %T is neither area, line nor point", g)}
	}
	if box.IsEmpty() {
		return 0, nil, box, &Error{Msg: "nothing of it to write"}
	}
	return kind, content, box, nil
}

// shapeParts renders the parts of lines and areas: box, starts of the parts, points.
func shapeParts(kind uint32, parts [][]orb.Point) []byte {
	var starts, points []byte
	var all orb.MultiPoint
	for _, part := range parts {
		starts = binary.LittleEndian.AppendUint32(starts, uint32(len(all)))
		all = append(all, part...)
	}
	for _, p := range all {
		points = appendDoubles(points, p[0], p[1])
	}
	box := all.Bound()
	content := binary.LittleEndian.AppendUint32(nil, kind)
	content = appendDoubles(content, box.Min[0], box.Min[1], box.Max[0], box.Max[1])
	content = binary.LittleEndian.AppendUint32(content, uint32(len(parts)))
	content = binary.LittleEndian.AppendUint32(content, uint32(len(all)))
	return append(append(content, starts...), points...)
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

// roundedLines keeps seven decimals.
func roundedLines(lines orb.MultiLineString) orb.MultiLineString {
	out := lines.Clone()
	for _, line := range out {
		for i, p := range line {
			line[i] = orb.Point{rounded(p[0]), rounded(p[1])}
		}
	}
	return out
}
