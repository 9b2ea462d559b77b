//go:build !js && !nosqlite

package season

import (
	"encoding/binary"
	"errors"
	"fmt"
	"math"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/encoding/wkb"

	"github.com/geocoris/geocoris/geo/geofile"
)

// The header of a geometry (OGC 12-128r17, 2.1.3): "GP", version 0, flags for
// little-endian and an envelope of x and y, the reference system, the envelope.
const (
	flagsXY    = 0x03
	headerSize = 8
	xySize     = 32
	wgs84ID    = 4326
)

// blob encodes a geometry that is not empty.
func blob(g orb.Geometry) ([]byte, error) {
	if g == nil || g.Bound().IsEmpty() {
		return nil, errors.New("a geometry is missing")
	}
	b := g.Bound()
	out := append([]byte{'G', 'P', 0, flagsXY}, binary.LittleEndian.AppendUint32(nil, wgs84ID)...)
	for _, v := range []float64{b.Min[0], b.Max[0], b.Min[1], b.Max[1]} {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return nil, errors.New("a coordinate is not finite")
		}
		out = binary.LittleEndian.AppendUint64(out, math.Float64bits(v))
	}
	body, err := wkb.Marshal(g, binary.LittleEndian)
	return append(out, body...), err
}

// unblob decodes a geometry with any envelope.
func unblob(data []byte) (orb.Geometry, error) {
	if len(data) < headerSize || data[0] != 'G' || data[1] != 'P' || data[2] != 0 {
		return nil, errors.New("a geometry has no GeoPackage header")
	}
	sizes := [...]int{0, xySize, 48, 48, 64}
	envelope := int(data[3] >> 1 & 7)
	if envelope >= len(sizes) || len(data) < headerSize+sizes[envelope] {
		return nil, errors.New("a geometry has a broken header")
	}
	g, err := geofile.DecodeWKB(data[headerSize+sizes[envelope]:], geofile.Limits{})
	if err != nil {
		return nil, fmt.Errorf("a geometry cannot be read: %w", err)
	}
	return g, nil
}

// multiPolygon is what fields and records hold.
func multiPolygon(data []byte) (orb.MultiPolygon, error) {
	g, err := unblob(data)
	if err != nil {
		return nil, err
	}
	switch g := g.(type) {
	case orb.MultiPolygon:
		return g, checkPlaces(g)
	case orb.Polygon:
		return orb.MultiPolygon{g}, checkPlaces(orb.MultiPolygon{g})
	}
	return nil, fmt.Errorf("a %s stands where polygons should", g.GeoJSONType())
}

// checkPlaces refuses what is no longitude and latitude; NaN is none.
func checkPlaces(mp orb.MultiPolygon) error {
	for _, polygon := range mp {
		for _, ring := range polygon {
			for _, p := range ring {
				if !(math.Abs(p[0]) <= 180 && math.Abs(p[1]) <= 90) {
					return fmt.Errorf("%v, %v is no longitude and latitude", p[0], p[1])
				}
			}
		}
	}
	return nil
}
