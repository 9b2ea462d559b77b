//go:build !js && !nosqlite

package season

import (
	"encoding/hex"
	"math"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// OGC 12-128r17, 2.1.3.1: "GP", version 0, flags 0x03 (little-endian, envelope of x
// and y), srs_id, minx, maxx, miny, maxy; then well-known binary. By hand, of the
// line from (1, 2) to (3, 8).
func TestBlobByTheStandard(t *testing.T) {
	got, err := blob(orb.LineString{{3, 2}, {1, 8}})
	require.NoError(t, err)
	assert.Equal(t, "47500003"+"e6100000"+
		"000000000000f03f"+"0000000000000840"+"0000000000000040"+"0000000000002040"+
		"01"+"02000000"+"02000000"+
		"0000000000000840"+"0000000000000040"+"000000000000f03f"+"0000000000002040", hex.EncodeToString(got))
	back, err := unblob(got)
	require.NoError(t, err)
	assert.Equal(t, orb.LineString{{3, 2}, {1, 8}}, back)
}

func TestBlobRefuses(t *testing.T) {
	for _, g := range []orb.Geometry{nil, orb.MultiPolygon{}, orb.Point{math.NaN(), 1}, orb.Point{math.Inf(1), 1}} {
		_, err := blob(g)
		assert.Error(t, err)
	}
}

func FuzzUnblob(f *testing.F) {
	for _, g := range []orb.Geometry{orb.Point{1, 2}, orb.MultiPolygon{{{{0, 0}, {1, 0}, {1, 1}, {0, 0}}}}} {
		data, err := blob(g)
		require.NoError(f, err)
		f.Add(data)
		f.Add(data[:len(data)-3])
	}
	f.Add([]byte("GP"))
	f.Fuzz(func(t *testing.T, data []byte) {
		g, err := multiPolygon(data)
		if err != nil {
			return
		}
		if again, err := blob(g); err == nil {
			back, err := unblob(again)
			require.NoError(t, err)
			require.Equal(t, g, back)
		}
	})
}
