//go:build !js && !nosqlite

package season_test

import (
	"fmt"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/followup/season"
)

// Boxes are asked of more features than one query takes numbers, and pages lead through
// those that touch them, each once and in order.
func TestPagesOfManyFeaturesInABox(t *testing.T) {
	s := opened(t, filepath.Join(t.TempDir(), "s.gpkg"))
	v := visit(1)
	const fields = 1234
	v.Fields = nil
	for n := range fields {
		v.Fields = append(v.Fields, field(fmt.Sprint("Field ", n), 0.001*float64(n)))
	}
	_, err := s.Add(v)
	require.NoError(t, err)
	edge := 35.005 // cuts all of them; the one in the west from its middle on
	box := [][4]float64{{-100.995, edge, 180, edge}}
	var seen []string
	for after, limit := int64(0), 700; ; {
		p, err := s.Page("fields", season.Window{Boxes: box, After: after, Limit: limit})
		require.NoError(t, err)
		assert.Equal(t, fields, p.Matched)
		for _, f := range p.Features {
			after++
			assert.Equal(t, fmt.Sprint(after), f.ID)
			seen = append(seen, f.ID)
		}
		if !p.More {
			break
		}
		assert.Len(t, p.Features, limit)
	}
	assert.Len(t, seen, fields)
	// The envelope of the first touches the box, which lies above its slope.
	p, err := s.Page("fields", season.Window{Boxes: [][4]float64{{-101, 35.0099, -100.9991, 35.01}}})
	require.NoError(t, err)
	assert.Zero(t, p.Matched)
	assert.Empty(t, p.Features)
}
