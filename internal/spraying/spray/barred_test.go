package spray_test

import (
	"math"
	"slices"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/geometry/planar"
	"github.com/geocoris/geocoris/internal/spraying/spray"
	"github.com/geocoris/geocoris/internal/testkit"
)

// ribbon is a strip of ground along a line, so wide.
func ribbon(t *rapid.T, line orb.LineString, wide float64) orb.MultiPolygon {
	ground, err := spray.Buffer(line, wide/2)
	require.NoError(t, err)
	return ground
}

// cutUp draws a field in parts with ponds that may reach over its edge, islands in
// ponds, which are field, and two fields beside it.
func cutUp(t *rapid.T) (z spray.Zone) {
	var water, islands []orb.MultiPolygon
	number := func(name string, from, to float64) float64 { return rapid.Float64Range(from, to).Draw(t, name) }
	for range rapid.IntRange(0, 2).Draw(t, "waterways") {
		a := number("bearing", 0, math.Pi)
		bend := orb.Point{number("x", -60, 60), number("y", -60, 60)}
		far := orb.Point{800 * math.Sin(a), 800 * math.Cos(a)}
		water = append(water, ribbon(t, orb.LineString{{bend[0] - far[0], bend[1] - far[1]}, bend, {bend[0] + far[0], bend[1] + far[1]}}, number("wide", 2, 60)))
	}
	for range rapid.IntRange(0, 2).Draw(t, "ponds") {
		water = append(water, orb.MultiPolygon{blob(t, number("x", -250, 250), number("y", -250, 250), number("size", 10, 70))})
	}
	if rapid.Bool().Draw(t, "island") { // in a pond well inside, most of which are holes
		x, y, size := number("x", -90, -50), number("y", -50, 50), number("size", 20, 45)
		water = append(water, orb.MultiPolygon{blob(t, x, y, size)})
		islands = append(islands, orb.MultiPolygon{blob(t, x, y, number("part", 0.1, 0.4)*size)})
	}
	east, shell := number("east", 0, 200), orb.MultiPolygon{blob(t, 0, 0, 300)}
	border := box(east, -2000, 2000, 2000)
	beside := orb.MultiPolygon{blob(t, number("x", 150, 400), number("y", -300, 300), 250)}
	a, err := planar.Arrange(planar.RingLines(slices.Concat([]orb.MultiPolygon{shell, border, beside}, water, islands)...))
	require.NoError(t, err)
	lies := func(grounds []orb.MultiPolygon, p orb.Point) bool {
		return slices.ContainsFunc(grounds, func(g orb.MultiPolygon) bool { return geo.Contains(g, p) })
	}
	labels := make([]int, len(a.Faces))
	for i, f := range a.Faces {
		switch {
		case lies(water, f.Point) && !lies(islands, f.Point):
		case geo.Contains(shell, f.Point) && !geo.Contains(border, f.Point):
			labels[i] = 1
		case geo.Contains(shell, f.Point):
			labels[i] = 2
		case geo.Contains(beside, f.Point):
			labels[i] = 3
		}
	}
	all := a.Dissolve(labels)
	z.Field, z.Treat = all.Polygons(1), all.Polygons(1)
	for k, name := range []string{"B", "C"} {
		if ground := all.Polygons(k + 2); len(ground) > 0 {
			z.Neighbours = append(z.Neighbours, spray.Neighbour{Name: name, Ground: ground})
		}
	}
	if len(z.Field) > 0 && rapid.Bool().Draw(t, "patches") {
		z.Treat = cut(t, []orb.MultiPolygon{{blob(t, number("x", -200, 200), number("y", -200, 200), 150)}}, z.Field)
	}
	z.Margin.Extra = rapid.SampledFrom([]float64{0, 8}).Draw(t, "margin")
	return z
}

// Whatever field, parts, water and neighbours: nothing that is on lies in water inside
// the field or between its parts, or in another field, or outside but past the outer
// edge, where that is allowed and counted. Looked at by points, apart from the overlay
// that the plan uses itself.
func TestNothingIsOnOverGroundThatIsNotField(t *testing.T) {
	plans, parts, islands, neighbours, beyond := 0, 0, 0, 0, 0.0
	testkit.Property(t, func(t *rapid.T) {
		z := cutUp(t)
		if len(z.Treat) == 0 {
			return
		}
		g, err := spray.NewTarget(z)
		require.NoError(t, err)
		islands += dryIslands(t, z, g)
		set := spray.Settings{
			Swath: rapid.Float64Range(6, 36).Draw(t, "swath"), Sections: rapid.SampledFrom([]int{1, 3, 12}).Draw(t, "sections"),
			Bridge: rapid.SampledFrom([]float64{0, 40}).Draw(t, "bridge"), MinLength: rapid.SampledFrom([]float64{0, 15}).Draw(t, "shortest"),
			Heading: at(rapid.Float64Range(0, 360).Draw(t, "heading")),
		}
		most := rapid.SampledFrom([]float64{-1, 0, 5}).Draw(t, "overrun")
		if most >= 0 {
			set.Overrun = &most
		}
		p, err := spray.NewPlan(g, set)
		if err != nil {
			require.ErrorIs(t, err, spray.ErrNothing)
			return
		}
		plans++
		parts += len(z.Field) - 1
		neighbours += len(z.Neighbours)
		beyond += p.Cover.OutOfField
		require.Zero(t, p.Cover.Missed)
		dry, sprayed, ground := newDryGround(z), geo.NewIndex(p.Cover.Swaths), geo.NewIndex(g.Spray)
		outside := 0
		const apart = 12.0
		for x := -420.3; x < 420; x += apart {
			for y := -420.1; y < 420; y += apart {
				q := orb.Point{x, y}
				if dry.field.Contains(q) {
					continue // which lies apart from all others
				}
				require.False(t, ground.Contains(q), "spray ground out of the field at %v", q)
				if !sprayed.Contains(q) || geo.DistanceToEdge(p.Cover.Swaths, q) < 0.01 {
					continue
				}
				dry.require(t, q)
				outside++
				require.False(t, most >= 0 && geo.DistanceToEdge(z.Field, q) > most+0.01, "past the edge by more than is allowed at %v", q)
			}
		}
		// Counted: as many square metres as points stand for, within their scatter.
		require.InDelta(t, float64(outside)*apart*apart, p.Cover.OutOfField, 6*apart*apart*math.Sqrt(float64(outside+16)))
		for _, pass := range p.Passes {
			onPass(t, dry, p, pass)
		}
	})
	t.Logf("%d plans, %d parts more than fields, %d islands, %d neighbours, %.1f ha past outer edges", plans, parts, islands, neighbours, beyond/1e4)
	require.Greater(t, plans, testkit.Draws(80))
	require.Greater(t, parts, testkit.Draws(30))
	require.Greater(t, islands, testkit.Draws(10))
	require.Greater(t, neighbours, testkit.Draws(80))
	require.Positive(t, beyond)
}

// dryIslands counts the parts of a field that lie in holes of others: they are sprayed
// where they are treat ground, as any part is.
func dryIslands(t *rapid.T, z spray.Zone, g *spray.Target) (n int) {
	for i, island := range z.Field {
		inside := planar.InsidePoint(island)
		for k, part := range z.Field {
			for _, hole := range part[1:] {
				if i == k || !geo.Contains(orb.MultiPolygon{{hole}}, inside) {
					continue
				}
				n++
				require.False(t, geo.Contains(g.Closed, inside), "an island is closed at %v", inside)
				require.Equal(t, geo.Contains(z.Treat, inside), geo.Contains(z.Treat, inside) && geo.Contains(g.Spray, inside), "an island is not sprayed at %v", inside)
			}
		}
	}
	return n
}

// dryGround knows where nothing may be on.
type dryGround struct {
	zone  spray.Zone
	field *geo.Index
}

func newDryGround(z spray.Zone) dryGround { return dryGround{z, geo.NewIndex(z.Field)} }

func (d dryGround) require(t *rapid.T, q orb.Point) {
	const near = 0.01
	if d.field.Contains(q) {
		return // which lies apart from all others
	}
	for _, n := range d.zone.Neighbours {
		require.False(t, geo.Contains(n.Ground, q) && geo.DistanceToEdge(n.Ground, q) > near, "in field %s at %v", n.Name, q)
	}
	for _, polygon := range d.zone.Field {
		for _, hole := range polygon[1:] {
			one := orb.MultiPolygon{{hole}}
			require.False(t, geo.Contains(one, q) && geo.DistanceToEdge(one, q) > near, "in a hole at %v", q)
		}
	}
	require.False(t, d.between(q), "between parts at %v", q)
}

// between reports whether a place lies in water between two parts of the field: on a
// line from one to another that is no longer than a waterway is wide, and not at the
// very mouth of it.
func (d dryGround) between(q orb.Point) bool {
	if len(d.zone.Field) < 2 {
		return false
	}
	for k := range 12 {
		sin, cos := math.Sincos(float64(k) * math.Pi / 12)
		found := 0
		for _, beside := range []float64{0, -0.6, 0.6} {
			from := orb.Point{q[0] - beside*sin, q[1] + beside*cos}
			a, b := d.hit(from, cos, sin), d.hit(from, -cos, -sin)
			if a < 0 || b < 0 || a == b {
				break
			}
			found++
		}
		if found == 3 {
			return true
		}
	}
	return false
}

// hit is the part of the field whose border a ray meets first, within 40 m; -1 where
// there is none.
func (d dryGround) hit(q orb.Point, dx, dy float64) int {
	part, nearest := -1, 40.0
	for i, polygon := range d.zone.Field {
		for _, ring := range polygon {
			for k := 1; k < len(ring); k++ {
				ax, ay, ex, ey := ring[k-1][0]-q[0], ring[k-1][1]-q[1], ring[k][0]-ring[k-1][0], ring[k][1]-ring[k-1][1]
				across := dx*ey - dy*ex
				if across == 0 {
					continue
				}
				s, f := (ax*ey-ay*ex)/across, (ax*dy-ay*dx)/across
				if s > 0 && s < nearest && f >= 0 && f <= 1 {
					part, nearest = i, s
				}
			}
		}
	}
	return part
}

// onPass drives a pass: over dry ground while on, and between its ends never out of the
// field by more than half a metre while off.
func onPass(t *rapid.T, dry dryGround, p *spray.Plan, pass spray.Pass) {
	for i := 0; i+1 < len(pass.Switches); i += 2 {
		along(pass.Switches[i].At, pass.Switches[i+1].At, func(q orb.Point) { dry.require(t, q) })
		if i+2 < len(pass.Switches) {
			out := 0.0
			along(pass.Switches[i+1].At, pass.Switches[i+2].At, func(q orb.Point) {
				if !dry.field.Contains(q) {
					out += 0.25
				}
			})
			require.Less(t, out, 1.1, "pass %d leaves the field", pass.Number)
		}
	}
}

// along visits places a quarter of a metre apart, the ends left out.
func along(a, b orb.Point, visit func(orb.Point)) {
	l := math.Hypot(b[0]-a[0], b[1]-a[1])
	for s := 0.25; s < l-0.1; s += 0.25 {
		visit(orb.Point{a[0] + s/l*(b[0]-a[0]), a[1] + s/l*(b[1]-a[1])})
	}
}

// What was drawn as no field is told as such, by its name, apart from other fields.
func TestWhatWasDrawnIsToldAsDrawn(t *testing.T) {
	g, err := spray.NewTarget(spray.Zone{
		Treat: box(0, 0, 100, 200), Field: box(0, 0, 100, 200),
		Neighbours: []spray.Neighbour{{Name: "B", Ground: box(100, 0, 150, 200)}}, Closed: []spray.Neighbour{{Name: "pond", Ground: box(-20, 0, 0, 50)}},
	})
	require.NoError(t, err)
	told := map[spray.BarKind]string{}
	for _, b := range g.Bars {
		told[b.Kind] = b.Name
	}
	assert.Equal(t, map[spray.BarKind]string{spray.OtherField: "B", spray.Drawn: "pond"}, told)
	assert.InDelta(t, 20*50, geo.Area(g.Kept), 1e-6, "other fields have jobs of their own, a pond has none")
}

// A field within another has a job of its own, and what rounding leaves between their borders
// is nobody's ground: no file could hold it.
func TestAFieldWithinAnotherLeavesNoHairline(t *testing.T) {
	field := orb.MultiPolygon{{box(0, 0, 300, 200)[0][0], box(20, 20, 80, 80)[0][0]}}
	within := box(20.0001, 20.0001, 79.9999, 79.9999)
	g, err := spray.NewTarget(spray.Zone{Treat: box(0, 0, 100, 200), Field: field, Neighbours: []spray.Neighbour{{Name: "B", Ground: within}}})
	require.NoError(t, err)
	assert.Empty(t, g.Kept)
	assert.InDelta(t, 60*60, geo.Area(g.Closed), 0.1)
}

func TestWhatBarsTheGround(t *testing.T) {
	cut := append(box(0, 0, 100, 200), box(120, 0, 220, 200)...)
	ponds := orb.MultiPolygon{{box(0, 0, 300, 200)[0][0], box(20, 20, 40, 40)[0][0], box(60, 20, 70, 40)[0][0]}}
	island := append(orb.MultiPolygon{{box(0, 0, 300, 200)[0][0], box(20, 20, 80, 80)[0][0]}}, box(40, 40, 60, 60)...)
	tests := []struct {
		name   string
		field  orb.MultiPolygon
		others []spray.Neighbour
		kind   spray.BarKind // "" for none
		count  int
		area   float64
	}{
		{"a plain field", box(0, 0, 300, 200), nil, "", 0, 0},
		{"two holes", ponds, nil, spray.Hole, 2, 600},
		{"an island is field", island, nil, spray.Hole, 1, 60*60 - 20*20},
		{"a gap", cut, nil, spray.Gap, 1, 20 * 200},
		{"parts at a corner", append(box(0, 0, 100, 100), box(100, 100, 200, 200)...), nil, spray.Gap, 2, 100 * 100},
		{"a slit of drawing", append(box(0, 0, 100, 200), box(100.3, 0, 220, 200)...), nil, "", 0, 0},
		{"the least gap", append(box(0, 0, 100, 200), box(100.6, 0, 220, 200)...), nil, spray.Gap, 1, 0.6 * 200},
		{"fields apart", append(box(0, 0, 100, 200), box(1200, 0, 1300, 200)...), nil, "", 0, 0},
		{"another field", box(0, 0, 100, 200), []spray.Neighbour{{Name: "B", Ground: box(100, 0, 150, 200)}}, spray.OtherField, 1, 50 * 200},
		{"a gap, and a notch at the far side", append(orb.MultiPolygon{{{{0, 0}, {100, 0}, {100, 200}, {0, 200}, {0, 110}, {60, 110}, {60, 90}, {0, 90}, {0, 0}}}}, box(120, 0, 220, 200)...), nil, spray.Gap, 1, 20 * 200},
		{"a notch is no gap", orb.MultiPolygon{{{{0, 0}, {300, 0}, {300, 200}, {160, 200}, {160, 50}, {140, 50}, {140, 200}, {0, 200}, {0, 0}}}}, nil, "", 0, 0},
	}
	for _, tc := range tests {
		t.Run(tc.name, func(t *testing.T) {
			g, err := spray.NewTarget(spray.Zone{Treat: tc.field, Field: tc.field, Neighbours: tc.others})
			require.NoError(t, err)
			if tc.kind == "" {
				assert.Empty(t, g.Bars)
				assert.Empty(t, g.Closed)
				return
			}
			require.Len(t, g.Bars, 1)
			b := g.Bars[0]
			assert.Equal(t, tc.kind, b.Kind)
			assert.Equal(t, tc.count, b.Count)
			assert.InEpsilon(t, tc.area, b.Area, 0.04)
			assert.InDelta(t, 0, b.Nearest, 1e-6)
			assert.InDelta(t, b.Area, geo.Area(g.Barred), 1e-6)
			if tc.kind == spray.OtherField {
				assert.Empty(t, g.Kept)
			} else {
				assert.InDelta(t, b.Area, geo.Area(g.Kept), 1e-6)
			}
		})
	}
}

// A waterway across the passes cuts each in two, and one side is done before the other.
func TestPassesAreCutAtWaterAndDrivenSideBySide(t *testing.T) {
	field := append(box(0, 0, 96, 200), box(0, 230, 96, 400)...)
	_, p := plan(t, spray.Zone{Treat: field, Field: field}, spray.Settings{Swath: 24, Heading: at(0)})
	require.Len(t, p.Passes, 8)
	for i, pass := range p.Passes {
		assert.Equal(t, i+1, pass.Number)
		south := pass.From[1] < 215
		assert.Equal(t, i < 4, south)
		assert.Equal(t, south, pass.To[1] < 215, "pass %d crosses the water", i+1)
		require.Len(t, pass.Sections, 1)
		require.Len(t, pass.Sections[0], 1)
		assert.InDelta(t, map[bool]float64{true: 200, false: 170}[south], pass.Sections[0][0].To-pass.Sections[0][0].From, 0.01)
	}
	assert.InDelta(t, 4*(200+170), p.On, 0.05)
	// From lane to lane 24 m; the fourth pass ends in the south, the fifth begins there
	// or in the north of the other side: the lanes go on from the nearest.
	assert.InDelta(t, 6*24+230, p.Off, 0.1)
	assert.Equal(t, 7, p.Turns)

	whole, best := box(0, 0, 96, 400), append(box(0, 0, 400, 90), box(0, 120, 400, 210)...)
	_, p = plan(t, spray.Zone{Treat: whole, Field: whole}, spray.Settings{Swath: 24, Heading: at(0)})
	assert.Len(t, p.Passes, 4)
	_, p = plan(t, spray.Zone{Treat: best, Field: best}, spray.Settings{Swath: 30})
	assert.InDelta(t, 90, p.Heading, 1e-9, "along the water, not across")
}
