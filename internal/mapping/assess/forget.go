package assess

import (
	"encoding/binary"
	"math"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/internal/geometry/zones"
	"github.com/geocoris/geocoris/interp"
)

// forget lets go of what only judging, drawing and comparing the field need.
func (f *Field) forget() {
	f.radius = f.largestRadius()
	f.packed = pack(f.LonLat())
	f.degrees = f.packed.unpack
	f.Map.Forget()
	f.losses, f.Surface = nil, nil
	if f.Chance != nil {
		f.Chance.Grid = interp.Grid{}
	}
}

// packed are the zones of a field in degrees of seven decimals: of each the class, the
// number of its polygons, of each of those that of its rings, of each ring that of its
// points, and these in ten millionths as steps from the last one.
type packed []byte

// decimals are those of [zones.InDegrees].
const decimals = 1e7

func pack(all map[zones.Class]orb.MultiPolygon) (p packed) {
	var lon, lat int64
	for _, class := range zones.Classes() {
		ground, there := all[class]
		if !there {
			continue
		}
		p = binary.AppendUvarint(p, uint64(class))
		p = binary.AppendUvarint(p, uint64(len(ground)))
		for _, polygon := range ground {
			p = binary.AppendUvarint(p, uint64(len(polygon)))
			for _, ring := range polygon {
				p = binary.AppendUvarint(p, uint64(len(ring)))
				for _, at := range ring {
					x, y := int64(math.Round(at[0]*decimals)), int64(math.Round(at[1]*decimals))
					p = binary.AppendVarint(binary.AppendVarint(p, x-lon), y-lat)
					lon, lat = x, y
				}
			}
		}
	}
	return append(packed(nil), p...)
}

// unpack gives to the bit what was packed.
func (p packed) unpack() map[zones.Class]orb.MultiPolygon {
	all := map[zones.Class]orb.MultiPolygon{}
	rest, lon, lat := []byte(p), int64(0), int64(0)
	count := func() int {
		n, size := binary.Uvarint(rest)
		rest = rest[size:]
		return int(n)
	}
	step := func() int64 {
		d, size := binary.Varint(rest)
		rest = rest[size:]
		return d
	}
	for len(rest) > 0 {
		class := zones.Class(count())
		ground := make(orb.MultiPolygon, count())
		for i := range ground {
			ground[i] = make(orb.Polygon, count())
			for k := range ground[i] {
				ring := make(orb.Ring, count())
				for n := range ring {
					lon += step()
					lat += step()
					ring[n] = orb.Point{float64(lon) / decimals, float64(lat) / decimals}
				}
				ground[i][k] = ring
			}
		}
		all[class] = ground
	}
	return all
}
