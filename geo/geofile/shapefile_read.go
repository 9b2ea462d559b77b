package geofile

import (
	"cmp"
	"encoding/binary"
	"fmt"
	"math"
	"path"
	"slices"
	"strings"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/sorted"
)

// shapefile is the parts of a Shapefile: geometry, attributes, what text they
// are in, and the system of the coordinates. Missing parts are nil.
type shapefile struct{ shp, dbf, cpg, prj []byte }

// decodeZippedShapefile reads the parts of one Shapefile out of an archive.
func decodeZippedShapefile(a *contents, name string, limits Limits) (Collection, error) {
	var s shapefile
	stem := strings.TrimSuffix(name, path.Ext(name))
	for _, other := range a.order {
		var to *[]byte
		switch extension := strings.ToLower(path.Ext(other)); {
		case !strings.EqualFold(strings.TrimSuffix(other, path.Ext(other)), stem):
			continue
		case extension == ".shp":
			to = &s.shp
		case extension == ".dbf":
			to = &s.dbf
		case extension == ".cpg":
			to = &s.cpg
		case extension == ".prj":
			to = &s.prj
		default:
			continue
		}
		var err error
		if *to, err = a.read(other); err != nil {
			return Collection{}, err
		}
	}
	return s.decode(limits)
}

// decodeBareShapefile reads a .shp that came without the files beside it.
func decodeBareShapefile(data []byte, limits Limits) (Collection, error) {
	return shapefile{shp: data}.decode(limits)
}

// decode puts geometry and attributes together, row by row, as the Esri
// Shapefile Technical Description of July 1998 lays them out.
func (s shapefile) decode(limits Limits) (Collection, error) {
	c := Collection{Format: "Shapefile"}
	var in reference
	var err error
	if len(s.prj) > 0 {
		in, err = systemOfWKT(string(s.prj))
	} else {
		c.Notes = append(c.Notes, "no .prj beside it: taken as longitude and latitude on WGS 84")
	}
	if err != nil {
		return c, err
	}
	if in.note != "" {
		c.Notes = append(c.Notes, in.note)
	}
	r := shpReader{data: s.shp, limits: limits}
	shapes, err := r.shapes()
	if err != nil {
		return c, err
	}
	rows, err := readDBF(s.dbf, s.cpg, len(shapes))
	if err != nil {
		return c, err
	}
	for i, shape := range shapes {
		f := geo.Feature{}
		if i < len(rows) {
			f.Properties = rows[i]
		}
		if shape != nil {
			g, err := in.system.reproject(shape)
			if err != nil {
				err.Feature = i + 1
				return c, err
			}
			f.Geometry = g
		}
		c.Features = append(c.Features, f)
	}
	if r.heights {
		c.Notes = append(c.Notes, "heights and measures passed over")
	}
	return c, nil
}

// shpReader reads the main file.
type shpReader struct {
	data     []byte
	limits   Limits
	vertices int
	heights  bool
}

const shpHeader = 100

func (r *shpReader) shapes() ([]orb.Geometry, error) {
	if len(r.data) < shpHeader || binary.BigEndian.Uint32(r.data) != 9994 {
		return nil, &Error{Msg: "is no Shapefile: its header is missing"}
	}
	var shapes []orb.Geometry
	for at := shpHeader; at < len(r.data); {
		if len(r.data)-at < 12 {
			return nil, &Error{Msg: "the file breaks off within a record", Feature: len(shapes) + 1}
		}
		length := int64(binary.BigEndian.Uint32(r.data[at+4:])) * 2
		if length < 4 || length > int64(len(r.data)-at-8) {
			return nil, &Error{Msg: "the file breaks off within a record", Feature: len(shapes) + 1}
		}
		if len(shapes) >= r.limits.Features {
			return nil, &Error{Msg: fmt.Sprintf("more than %d features", r.limits.Features)}
		}
		shape, err := r.shape(r.data[at+8 : at+8+int(length)])
		if err != nil {
			err.Feature = len(shapes) + 1
			return nil, err
		}
		shapes = append(shapes, shape)
		at += 8 + int(length)
	}
	return shapes, nil
}

// Kinds of shapes; 10 and 20 more are the same with heights or measures.
const (
	shpNull       = 0
	shpPoint      = 1
	shpPolyLine   = 3
	shpPolygon    = 5
	shpMultiPoint = 8
)

func (r *shpReader) shape(record []byte) (orb.Geometry, *Error) {
	kind := binary.LittleEndian.Uint32(record)
	if kind > 10 && kind < 30 {
		r.heights = true
		kind %= 10
	}
	body := record[4:]
	switch kind {
	case shpNull:
		return nil, nil
	case shpPoint:
		points, err := r.points(body, 1)
		if err != nil {
			return nil, err
		}
		return points[0], nil
	case shpMultiPoint:
		if len(body) < 36 {
			return nil, short()
		}
		points, err := r.points(body[36:], int64(binary.LittleEndian.Uint32(body[32:])))
		return orb.MultiPoint(points), err
	case shpPolyLine, shpPolygon:
		parts, err := r.parts(body)
		if err != nil {
			return nil, err
		}
		if kind == shpPolygon {
			return polygonsOf(parts)
		}
		return orb.MultiLineString(parts), nil
	}
	return nil, &Error{Msg: fmt.Sprintf("a shape of kind %d, which no Shapefile of points, lines or polygons holds", kind)}
}

func short() *Error { return &Error{Msg: "a record is shorter than it says"} }

func (r *shpReader) points(body []byte, n int64) ([]orb.Point, *Error) {
	if n < 0 || n > int64(len(body)/16) {
		return nil, short()
	}
	if r.vertices += int(n); r.vertices > r.limits.Vertices {
		return nil, &Error{Msg: fmt.Sprintf("more than %d positions", r.limits.Vertices)}
	}
	points := make([]orb.Point, n)
	for i := range points {
		points[i] = orb.Point{float(body[16*i:]), float(body[16*i+8:])}
	}
	return points, nil
}

func float(b []byte) float64 { return math.Float64frombits(binary.LittleEndian.Uint64(b)) }

// parts cuts the points of a polyline or polygon where each part begins.
func (r *shpReader) parts(body []byte) ([]orb.LineString, *Error) {
	if len(body) < 40 {
		return nil, short()
	}
	count, n := int64(binary.LittleEndian.Uint32(body[32:])), int64(binary.LittleEndian.Uint32(body[36:]))
	if count < 0 || count > int64(len(body)-40)/4 {
		return nil, short()
	}
	points, err := r.points(body[40+4*count:], n)
	if err != nil {
		return nil, err
	}
	parts := make([]orb.LineString, count)
	for i := range parts {
		from, to := int64(binary.LittleEndian.Uint32(body[40+4*i:])), n
		if i+1 < len(parts) {
			to = int64(binary.LittleEndian.Uint32(body[44+4*i:]))
		}
		if from > to || to > n {
			return nil, &Error{Msg: "the parts of a shape are out of order"}
		}
		parts[i] = points[from:to]
	}
	return parts, nil
}

// polygonsOf tells outer rings from holes by their direction, clockwise and
// counter-clockwise, and gives each hole to the smallest outer ring around it, or
// else to one whose edge it reaches over. A hole in none is an outer ring drawn the
// wrong way.
func polygonsOf(parts []orb.LineString) (orb.Geometry, *Error) {
	var outers orb.MultiPolygon
	var holes []orb.Ring
	for _, p := range parts {
		ring := orb.Ring(p)
		if err := checkRing(ring); err != nil {
			return nil, err
		}
		if ring.Orientation() == orb.CW {
			outers = append(outers, orb.Polygon{ring})
		} else {
			holes = append(holes, ring)
		}
	}
	drawn := len(outers)
	for _, hole := range holes {
		i := around(outers, hole)
		if i < 0 {
			i = slices.IndexFunc(outers[:drawn], func(o orb.Polygon) bool { return reachesOver(hole, o[0]) })
		}
		if i >= 0 {
			outers[i] = append(outers[i], hole)
		} else {
			outers = append(outers, orb.Polygon{hole})
		}
	}
	switch len(outers) {
	case 0:
		return nil, &Error{Msg: "a polygon without rings", Hint: "draw the outline anew"}
	case 1:
		return outers[0], nil
	}
	return outers, nil
}

// around finds the smallest outer ring that holds every vertex of a hole.
func around(outers orb.MultiPolygon, hole orb.Ring) int {
	best, bestArea := -1, math.Inf(1)
	for i, outer := range outers {
		shell := orb.MultiPolygon{{outer[0]}}
		area := geo.Area(shell)
		if area >= bestArea || !outer[0].Bound().Contains(hole.Bound().Min) || !outer[0].Bound().Contains(hole.Bound().Max) {
			continue
		}
		inside := true
		for _, p := range hole {
			inside = inside && geo.Contains(shell, p)
		}
		if inside {
			best, bestArea = i, area
		}
	}
	return best
}

// reachesOver reports whether a hole lies on both sides of an outer ring's edge. One
// half as large or larger is rather a part drawn the wrong way. Level lines between
// the vertices of the hole tell, its 64 highest gaps at the most.
func reachesOver(hole, outer orb.Ring) bool {
	h, o := orb.MultiPolygon{{hole}}, orb.MultiPolygon{{outer}}
	if !hole.Bound().Intersects(outer.Bound()) || geo.Area(h) >= geo.Area(o)/2 {
		return false
	}
	var ys []float64
	for _, p := range hole {
		ys = append(ys, p[1])
	}
	slices.Sort(ys)
	var levels [][2]float64 // height of a gap, and its middle
	for i := 1; i < len(ys); i++ {
		levels = append(levels, [2]float64{ys[i] - ys[i-1], ys[i-1] + (ys[i]-ys[i-1])/2})
	}
	sorted.Stably(levels, func(a, b [2]float64) int { return cmp.Compare(b[0], a[0]) })
	for _, level := range levels[:min(len(levels), 64)] {
		for _, a := range geo.InsideSpans(h, level[1]) {
			for _, b := range geo.InsideSpans(o, level[1]) {
				if a.From < b.To && b.From < a.To {
					return true
				}
			}
		}
	}
	return false
}
