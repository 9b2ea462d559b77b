//go:build !js && !nosqlite

package season

import (
	"database/sql"

	"github.com/paulmach/orb"
)

func (*postgis) envelope(geom string) string { return `ST_Envelope(` + geom + `)` }

func (p *postgis) around(read []byte) (box orb.Bound, known bool) {
	blob, err := p.decode(read)
	if err != nil {
		return box, false
	}
	return envelopeOf(blob)
}

// meets asks the index of the geometries.
func (*postgis) meets(c *condition, geom string, boxes []orb.Bound) {
	text, args := `false`, []any(nil)
	for _, b := range boxes {
		text += ` OR ` + geom + ` && ST_MakeEnvelope(?, ?, ?, ?, 4326)`
		args = append(args, b.Min[0], b.Min[1], b.Max[0], b.Max[1])
	}
	c.and(`(`+text+`)`, args...)
}

// extentOf is worked out from what is seen, as roles do not see the same.
func (*postgis) extentOf(q queryer, l shown, _ string) (box [4]sql.NullFloat64, err error) {
	err = q.QueryRow(`SELECT ST_XMin(e), ST_YMin(e), ST_XMax(e), ST_YMax(e) FROM (SELECT ST_Extent(t.geom) AS e FROM `+l.from+` WHERE `+l.live+`) AS whole`).Scan(&box[0], &box[1], &box[2], &box[3])
	return box, err
}
