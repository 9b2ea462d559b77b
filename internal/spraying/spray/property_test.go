package spray_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/geometry/planar"
	"github.com/geocoris/geocoris/internal/spraying/spray"
	"github.com/geocoris/geocoris/internal/testkit"
)

// blob is a round shape with a wobbling radius.
func blob(t *rapid.T, x, y, r float64) orb.Polygon {
	n := rapid.IntRange(5, 24).Draw(t, "vertices")
	var ring orb.Ring
	for k := range n {
		a := 2 * math.Pi * float64(k) / float64(n)
		rk := r * rapid.Float64Range(0.5, 1).Draw(t, "radius")
		ring = append(ring, orb.Point{x + rk*math.Cos(a), y + rk*math.Sin(a)})
	}
	return orb.Polygon{append(ring, ring[0])}
}

// zoneSet draws a field with a pond, treat patches cut to it, and keep-offs of
// all kinds.
func zoneSet(t *rapid.T) spray.Zone {
	field := blob(t, 0, 0, 320)
	if rapid.Bool().Draw(t, "pond") {
		pond := blob(t, rapid.Float64Range(-60, 60).Draw(t, "x"), rapid.Float64Range(-60, 60).Draw(t, "y"), 40)
		field = append(field, pond[0])
	}
	z := spray.Zone{Field: geo.Wind(orb.MultiPolygon{field})}
	place := func() orb.Point {
		return orb.Point{rapid.Float64Range(-200, 200).Draw(t, "x"), rapid.Float64Range(-200, 200).Draw(t, "y")}
	}
	var lines []orb.MultiPolygon
	for range rapid.IntRange(1, 4).Draw(t, "patches") {
		p := place()
		lines = append(lines, orb.MultiPolygon{blob(t, p[0], p[1], rapid.Float64Range(10, 120).Draw(t, "size"))})
	}
	z.Treat = cut(t, lines, z.Field)
	for range rapid.IntRange(0, 3).Draw(t, "keep-offs") {
		p := place()
		k := spray.KeepOff{Name: "k", SetBack: rapid.Float64Range(0, 40).Draw(t, "set-back")}
		switch rapid.IntRange(0, 2).Draw(t, "kind") {
		case 0:
			k.Geometry = p
		case 1:
			k.Geometry = orb.LineString{p, place(), place()}
		default:
			k.Geometry = blob(t, p[0], p[1], 30)
		}
		z.KeepOffs = append(z.KeepOffs, k)
	}
	z.Margin.Extra = rapid.SampledFrom([]float64{0, 0, 5, 12}).Draw(t, "margin")
	return z
}

// cut unites patches within the field.
func cut(t *rapid.T, patches []orb.MultiPolygon, field orb.MultiPolygon) orb.MultiPolygon {
	a, err := planar.Arrange(planar.RingLines(append(patches, field)...))
	require.NoError(t, err)
	labels := make([]int, len(a.Faces))
	for i, f := range a.Faces {
		for _, p := range patches {
			if geo.Contains(field, f.Point) && geo.Contains(p, f.Point) {
				labels[i] = 1
			}
		}
	}
	return a.Dissolve(labels).Polygons(1)
}

// Swaths cover all treatable ground, and no keep-off or pond, whatever the zones,
// keep-offs, heading, sections and limits. Looked at by points of a lattice
// and along each pass, independently of the overlay that the plan uses itself.
func TestSwathsCoverAllTreatableAndNoKeepOffs(t *testing.T) {
	checked, most := 0, 0.0
	testkit.Property(t, func(t *rapid.T) {
		if p := swathsCover(t); p != nil {
			checked++
			most = max(most, p.Cover.Ratio())
		}
	})
	t.Logf("%d plans; sprayed over treatable at most %.2f", checked, most)
}

// FuzzPlan looks for zones, keep-offs and settings of which it is not so. Zones ask for
// some thousand bytes; fewer are passed by.
func FuzzPlan(f *testing.F) {
	for seed := range byte(8) {
		drawn := make([]byte, 1<<14)
		_, _ = rand.NewChaCha8([32]byte{seed}).Read(drawn)
		f.Add(drawn)
	}
	f.Fuzz(rapid.MakeFuzz(func(t *rapid.T) { swathsCover(t) }))
}

// swathsCover draws zones and settings and plans them, nil where there is nothing to spray.
func swathsCover(t *rapid.T) *spray.Plan {
	z := zoneSet(t)
	g, err := spray.NewTarget(z)
	require.NoError(t, err)
	set := spray.Settings{
		Swath:    rapid.Float64Range(6, 36).Draw(t, "swath"),
		Sections: rapid.SampledFrom([]int{1, 1, 2, 5, 12}).Draw(t, "sections"),
		Bridge:   rapid.SampledFrom([]float64{0, 0, 8}).Draw(t, "bridge"),
		Speed:    rapid.SampledFrom([]float64{0, 5}).Draw(t, "speed"), Lag: 1.2,
		Heading: at(rapid.Float64Range(0, 360).Draw(t, "heading")),
	}
	if rapid.Bool().Draw(t, "inside") {
		set.Overrun = at(0)
	}
	p, err := spray.NewPlan(g, set)
	if err != nil {
		require.ErrorIs(t, err, spray.ErrNothing)
		return nil
	}
	c := p.Cover
	require.Zero(t, c.Missed)
	require.Zero(t, c.Overlap)
	require.NoError(t, planar.Valid(c.Swaths))
	require.InDelta(t, geo.Area(g.Spray), c.Treatable+c.Left, 1e-6*geo.Area(g.Spray)+0.01)
	if len(p.Passes) > 0 {
		require.GreaterOrEqual(t, c.Ratio(), 1-1e-6)
	}
	var left orb.MultiPolygon
	var listed float64
	for _, r := range c.Untreatable {
		left, listed = append(left, r.Ground), listed+r.Area
		require.GreaterOrEqual(t, r.Area, 1.0)
	}
	require.InDelta(t, c.Left, listed, 200, "slivers below a square metre are few")
	lattice(t, z, g, p, left)
	alongPasses(t, z, g, p)
	return p
}

// lattice looks at places 11 m apart. What is missed is listed, but for pieces below
// a square metre.
func lattice(t *rapid.T, z spray.Zone, g *spray.Target, p *spray.Plan, left orb.MultiPolygon) {
	const near = 0.01
	swaths, ground, listed, field := geo.NewIndex(p.Cover.Swaths), geo.NewIndex(g.Spray), geo.NewIndex(left), geo.NewIndex(z.Field)
	offEdge := func(q orb.Point) bool { return geo.DistanceToEdge(p.Cover.Swaths, q) > near }
	for x := -330.3; x < 330; x += 11 {
		for y := -330.1; y < 330; y += 11 {
			q := orb.Point{x, y}
			if swaths.Contains(q) {
				for _, k := range z.KeepOffs {
					require.False(t, spray.Distance(k.Geometry, orb.MultiPolygon{{{q, q, q, q}}}) <= k.SetBack && offEdge(q), "on over %v at %v", k.Geometry, q)
				}
				for _, hole := range z.Field[0][1:] {
					require.False(t, geo.Contains(orb.MultiPolygon{{hole}}, q) && offEdge(q), "pond at %v", q)
				}
				require.False(t, p.Settings.Overrun != nil && !field.Contains(q) && offEdge(q), "out of the field at %v", q)
			} else if ground.Contains(q) && !listed.Contains(q) && offEdge(q) {
				require.Less(t, pieceAt(t, g.Spray, p.Cover.Swaths, q), 1.0, "square metres missed at %v, and not listed", q)
			}
		}
	}
}

// pieceAt is the area of the piece of ground left by the swaths that holds a place.
func pieceAt(t *rapid.T, ground, swaths orb.MultiPolygon, q orb.Point) float64 {
	a, err := planar.Arrange(planar.RingLines(ground, swaths))
	require.NoError(t, err)
	labels := make([]int, len(a.Faces))
	for i, f := range a.Faces {
		if geo.Contains(ground, f.Point) && !geo.Contains(swaths, f.Point) {
			labels[i] = 1
		}
	}
	for _, piece := range a.Dissolve(labels).Polygons(1) {
		if one := (orb.MultiPolygon{piece}); geo.Contains(one, q) {
			return geo.Area(one)
		}
	}
	t.Fatalf("no piece holds %v", q)
	return 0
}

// alongPasses drives each pass: boom on means off every keep-off and hole.
func alongPasses(t *rapid.T, z spray.Zone, g *spray.Target, p *spray.Plan) {
	for _, pass := range p.Passes {
		for i := 0; i+1 < len(pass.Switches); i += 2 {
			on, off := pass.Switches[i], pass.Switches[i+1]
			require.True(t, on.On)
			require.False(t, off.On)
			if p.Settings.Sections > 1 {
				continue // the middle of the boom may be off while its ends spray
			}
			for k := 1; k < 20; k++ {
				f := float64(k) / 20
				q := orb.Point{on.At[0] + f*(off.At[0]-on.At[0]), on.At[1] + f*(off.At[1]-on.At[1])}
				require.False(t, geo.Contains(g.Closed, q), "on over closed ground at %v", q)
			}
		}
	}
}

// Halving sections makes the sprayed ground over the treatable fall, over a
// hundred sets together, and for ground without keep-offs in every one.
func TestNarrowerSectionsSprayLess(t *testing.T) {
	var sums [4]float64
	n := 0.0
	testkit.Property(t, func(t *rapid.T) {
		z := zoneSet(t)
		z.KeepOffs, z.Field = nil, z.Field[:1:1]
		z.Field = orb.MultiPolygon{z.Field[0][:1]}
		g, err := spray.NewTarget(z)
		require.NoError(t, err)
		if len(g.Spray) == 0 {
			return
		}
		last := math.Inf(1)
		heading := at(rapid.Float64Range(0, 180).Draw(t, "heading"))
		for i, sections := range []int{1, 2, 4, 8} {
			p, err := spray.NewPlan(g, spray.Settings{Swath: 24, Sections: sections, Heading: heading})
			require.NoError(t, err)
			require.LessOrEqual(t, p.Cover.Ratio(), last*1.02, "lanes may be laid elsewhere, but not for worse")
			last = p.Cover.Ratio()
			sums[i] += last
		}
		n++
	})
	t.Logf("sprayed over treatable with 1, 2, 4, 8 sections of a 24 m boom: %.2f %.2f %.2f %.2f", sums[0]/n, sums[1]/n, sums[2]/n, sums[3]/n)
	for i := 1; i < len(sums); i++ {
		require.Less(t, sums[i], sums[i-1])
	}
}
