package boundary_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/geometry/boundary"
	"github.com/geocoris/geocoris/internal/testkit/given"
)

// block is a field 100 thousandths of a degree wide at most, from the west to the east by those.
func block(name string, west, east float64) geo.Field {
	return geo.Field{Name: name, Boundary: given.Rectangle(-100+west/1e4, 38, -100+east/1e4, 38.005)}
}

func TestLaterDrawingsHaveTheGround(t *testing.T) {
	for name, c := range map[string]struct {
		fields  []geo.Field // the latest first
		left    []string
		redrawn []boundary.Redrawn // Left in the share of the field
	}{
		"one beside the other":     {[]geo.Field{block("B", 50, 100), block("A", 0, 50)}, []string{"B", "A"}, nil},
		"lapping as hands are off": {[]geo.Field{block("B", 50, 100), block("A", 0, 54.9)}, []string{"B", "A"}, nil},
		"lapping by a tenth":       {[]geo.Field{block("B", 50, 100), block("A", 0, 55.6)}, []string{"B", "A"}, []boundary.Redrawn{{Name: "A", By: []string{"B"}, Left: 50 / 55.6}}},
		"renamed":                  {[]geo.Field{block("B", 0, 50), block("A", 0, 50)}, []string{"B"}, []boundary.Redrawn{{Name: "A", By: []string{"B"}, Same: true}}},
		"renamed and drawn anew":   {[]geo.Field{block("B", 1, 52), block("A", 0, 50)}, []string{"B"}, []boundary.Redrawn{{Name: "A", By: []string{"B"}, Same: true}}},
		"renamed twice":            {[]geo.Field{block("C", 0, 50), block("B", 0, 50), block("A", 0, 50)}, []string{"C"}, []boundary.Redrawn{{Name: "B", By: []string{"C"}, Same: true}, {Name: "A", By: []string{"C"}, Same: true}}},
		"split":                    {[]geo.Field{block("W", 0, 48), block("E", 48, 100), block("A", 0, 100)}, []string{"W", "E"}, []boundary.Redrawn{{Name: "A", By: []string{"W", "E"}}}},
		"joined":                   {[]geo.Field{block("J", 0, 100), block("B", 50, 100), block("A", 0, 50)}, []string{"J"}, []boundary.Redrawn{{Name: "B", By: []string{"J"}}, {Name: "A", By: []string{"J"}}}},
		"a part of it":             {[]geo.Field{block("W", 0, 60), block("A", 0, 100)}, []string{"W", "A"}, []boundary.Redrawn{{Name: "A", By: []string{"W"}, Left: 0.4}}},
		"all but a tenth":          {[]geo.Field{block("W", 0, 91), block("A", 0, 100)}, []string{"W"}, []boundary.Redrawn{{Name: "A", By: []string{"W"}, Same: true}}},
		"all but a little more":    {[]geo.Field{block("W", 0, 89), block("A", 0, 100)}, []string{"W", "A"}, []boundary.Redrawn{{Name: "A", By: []string{"W"}, Left: 0.11}}},
		"far away":                 {[]geo.Field{block("B", 500, 550), block("A", 0, 50)}, []string{"B", "A"}, nil},
	} {
		got, err := boundary.Succeed(c.fields)
		require.NoError(t, err, name)
		var names []string
		for _, f := range got.Fields {
			names = append(names, f.Name)
		}
		assert.Equal(t, c.left, names, name)
		require.Len(t, got.Redrawn, len(c.redrawn), name)
		for i, r := range got.Redrawn {
			want := c.redrawn[i]
			for _, f := range c.fields {
				if f.Name == r.Name {
					frame, err := geo.FrameOf(f.Boundary)
					require.NoError(t, err)
					r.Left /= geo.Area(frame.ForwardPolygons(f.Boundary))
				}
			}
			assert.InDelta(t, want.Left, r.Left, 1e-4, name)
			r.Left, want.Left = 0, 0
			assert.Equal(t, want, r, name)
		}
		for i, f := range got.Fields { // no ground is two fields', but for how hands are off
			for _, other := range got.Fields[:i] {
				share, err := boundary.Covered(f, []geo.Field{other})
				require.NoError(t, err)
				assert.Less(t, share, 0.1, name)
			}
		}
	}
}

func TestFieldsStandForOne(t *testing.T) {
	whole := block("A", 0, 100)
	for name, c := range map[string]struct {
		by   []geo.Field
		want float64
	}{
		"none": {nil, 0}, "halves": {[]geo.Field{block("W", 0, 50), block("E", 50, 100)}, 1}, "one half": {[]geo.Field{block("W", 0, 50)}, 0.5},
		"a larger one": {[]geo.Field{block("L", -100, 200)}, 1}, "another": {[]geo.Field{block("B", 100, 200)}, 0},
	} {
		share, err := boundary.Covered(whole, c.by)
		require.NoError(t, err)
		assert.InDelta(t, c.want, share, 1e-3, name)
		assert.Equal(t, c.want > 0.9, boundary.StandsFor(share), name)
	}
}
