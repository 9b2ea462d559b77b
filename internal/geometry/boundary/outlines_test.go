package boundary_test

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/geometry/boundary"
	"github.com/geocoris/geocoris/internal/geometry/planar"
)

// plane is metres near 36° N.
func plane(t require.TestingT) geo.Frame {
	frame, err := geo.NewFrame(orb.Point{-101.6, 35.9})
	require.NoError(t, err)
	return frame
}

// patch is an upright rectangle in metres, as degrees.
func patch(t require.TestingT, x0, y0, x1, y1 float64) orb.Polygon {
	return plane(t).InversePolygons(orb.MultiPolygon{{{{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}, {x0, y0}}}})[0]
}

func kind(key, value string) geo.Property { return geo.Property{Name: key, Value: value} }

// areas are those of the fields in m².
func areas(t require.TestingT, fields []geo.Field) map[string]float64 {
	out := map[string]float64{}
	for _, f := range fields {
		frame, err := geo.FrameOf(f.Boundary)
		require.NoError(t, err)
		xy := frame.ForwardPolygons(f.Boundary)
		require.NoError(t, planar.Valid(xy))
		out[f.Name] = geo.Area(xy)
	}
	return out
}

func TestWhatLiesOnOneAnother(t *testing.T) {
	big := patch(t, 0, 0, 400, 400)
	at := func(x0, y0, x1, y1 float64) orb.Polygon { return patch(t, x0, y0, x1, y1) }
	with := func(p orb.Polygon, hole orb.Polygon) orb.Polygon { return orb.Polygon{p[0], hole[0]} }
	line := func(p orb.Polygon) orb.LineString { return orb.LineString(p[0]) }
	for name, c := range map[string]struct {
		features []geo.Feature
		inner    string
		want     map[string]float64
		says     string
		asks     bool
	}{
		"a pond by name": {[]geo.Feature{feature(big, named("A")), feature(at(100, 100, 200, 200), named("Pond 2"))}, "",
			map[string]float64{"A": 150000}, `"Pond 2" is no field, by its name: left out of "A"`, false},
		"a pond by kind": {[]geo.Feature{feature(big, named("A")), feature(at(100, 100, 200, 200), named("the deep one"), kind("natural", "water"))}, "",
			map[string]float64{"A": 150000}, `"the deep one" is water (natural=water): left out of "A"`, false},
		"a building": {[]geo.Feature{feature(big, named("A")), feature(at(100, 100, 200, 200), named("x"), kind("building", "yes"))}, "",
			map[string]float64{"A": 150000}, `"x" is a building (building=yes): left out of "A"`, false},
		"a pond given first": {[]geo.Feature{feature(at(100, 100, 200, 200), named("pond")), feature(big, named("A"))}, "",
			map[string]float64{"A": 150000}, `left out of "A"`, false},
		"a pond over the edge": {[]geo.Feature{feature(big, named("A")), feature(at(350, 100, 450, 200), named("Pond"))}, "",
			map[string]float64{"A": 155000}, `left out of "A"`, false},
		"a pond over the edge of two": {[]geo.Feature{feature(big, named("A")), feature(at(400, 0, 800, 400), named("B")), feature(at(350, 100, 450, 200), named("Pond"))}, "",
			map[string]float64{"A": 155000, "B": 155000}, `left out of "A", "B"`, false},
		"a pond outside": {[]geo.Feature{feature(big, named("A")), feature(at(500, 100, 600, 200), named("Pond"))}, "",
			map[string]float64{"A": 160000}, `"Pond" is no field, by its name, and lies in none: left out`, false},
		"a name that only begins so": {[]geo.Feature{feature(big, named("Pond field")), feature(at(500, 100, 600, 200), named("Tree farm quarter"))}, "",
			map[string]float64{"Pond field": 160000, "Tree farm quarter": 10000}, "", false},
		"nothing else in the file": {[]geo.Feature{feature(big, named("Lake"))}, "",
			map[string]float64{"Lake": 160000}, `"Lake" is no field, by its name, but nothing else in the file is one: taken for a field`, false},
		"a pond with an island": {[]geo.Feature{feature(big, named("A")), feature(with(at(100, 100, 200, 200), at(120, 120, 180, 180)), named("Pond"))}, "",
			map[string]float64{"A": 150000 + 3600}, `left out of "A"`, false},
		"inside, without a word": {[]geo.Feature{feature(big, named("A")), feature(at(100, 100, 200, 200), named("B"))}, "",
			map[string]float64{"A": 150000, "B": 10000}, `field "B" lies inside "A": its 1.00 ha are left out of "A"`, true},
		"inside, a hole": {[]geo.Feature{feature(big, named("A")), feature(at(100, 100, 200, 200), named("B"))}, "hole",
			map[string]float64{"A": 150000}, `"B" is a hole (--inner hole): left out of "A"`, false},
		"inside, a field": {[]geo.Feature{feature(big, named("A")), feature(at(100, 100, 200, 200), named("B"))}, "field",
			map[string]float64{"A": 150000, "B": 10000}, `field "B" lies inside "A"`, false},
		"a pond beside a field inside": {[]geo.Feature{feature(big, named("A")), feature(at(100, 100, 200, 200), named("Pond")), feature(at(250, 100, 350, 200), named("B"))}, "field",
			map[string]float64{"A": 140000, "B": 10000}, `"Pond" is no field, by its name, also with --inner field: left out of "A"`, false},
		"water inside, and fields inside": {[]geo.Feature{feature(big, named("A")), feature(at(100, 100, 200, 200), named("the deep one"), kind("natural", "water"))}, "field",
			map[string]float64{"A": 150000}, `"the deep one" is water (natural=water), also with --inner field: left out of "A"`, false},
		"a second track": {[]geo.Feature{feature(line(big), named("A")), feature(line(at(100, 100, 200, 200)), named("A"))}, "",
			map[string]float64{"A": 150000, "A (2)": 10000}, `field "A (2)" lies inside "A"`, true},
		"a second line of one feature": {[]geo.Feature{feature(orb.MultiLineString{line(big), line(at(100, 100, 200, 200))}, named("A"))}, "",
			map[string]float64{"A": 150000, "A (2)": 10000}, `field "A (2)" lies inside "A"`, true},
		"a part inside another": {[]geo.Feature{feature(orb.MultiPolygon{big, at(100, 100, 200, 200)}, named("A"))}, "hole",
			map[string]float64{"A": 150000}, `"A (2)" is a hole (--inner hole): left out of "A"`, false},
		"parts that overlap": {[]geo.Feature{feature(orb.MultiPolygon{big, at(300, 0, 500, 400)}, named("A"))}, "",
			map[string]float64{"A": 200000}, `field "A": its parts overlap; taken as the ground inside the outline and outside its holes, 20.0 ha: look`, false},
		"an island": {[]geo.Feature{feature(orb.MultiPolygon{with(big, at(100, 100, 300, 300)), at(150, 150, 250, 250)}, named("A"))}, "",
			map[string]float64{"A": 130000}, "", false},
		"an island of its own": {[]geo.Feature{feature(with(big, at(100, 100, 300, 300)), named("A")), feature(at(101, 101, 301, 301), named("B"))}, "",
			map[string]float64{"A": 120000 - 399, "B": 40000}, "", false},
		"an island of a field with other parts": {[]geo.Feature{feature(with(big, at(100, 100, 300, 300)), named("A")), feature(orb.MultiPolygon{at(150, 150, 250, 250), at(400, 0, 800, 400)}, named("B"))}, "",
			map[string]float64{"A": 120000, "B": 170000}, "", false},
		"a hole over the edge": {[]geo.Feature{feature(with(big, at(350, 100, 450, 200)), named("A"))}, "",
			map[string]float64{"A": 155000}, `field "A": a hole reaches over the edge; taken as the ground inside the outline and outside its holes, 15.5 ha: look`, false},
		"a hole that reaches into the next": {[]geo.Feature{feature(with(big, at(350, 100, 450, 200)), named("A")), feature(at(400, 0, 800, 400), named("B"))}, "",
			map[string]float64{"A": 155000, "B": 155000}, `a hole of "A" reaches into "B": 0.50 ha are left out of "B"`, false},
		"a hole over the edge, and an overlap": {[]geo.Feature{feature(with(big, at(350, 100, 450, 200)), named("A")), feature(at(0, 390, 400, 500), named("B"))}, "",
			map[string]float64{"A": 151000, "B": 44000}, `field "A": a hole reaches over the edge; taken as the ground inside the outline and outside its holes, 15.1 ha: look`, false},
		"an outline that crosses itself": {[]geo.Feature{feature(orb.Polygon{{big[0][0], big[0][2], big[0][1], big[0][3], big[0][0]}}, named("A"))}, "",
			map[string]float64{"A": 80000}, `field "A": the outline crosses or touches itself;`, false},
		"holes that overlap": {[]geo.Feature{feature(orb.Polygon{big[0], at(100, 100, 200, 200)[0], at(150, 100, 250, 200)[0]}, named("A"))}, "",
			map[string]float64{"A": 145000}, `field "A": its holes or parts touch or overlap;`, false},
		"a field over the pond of another": {[]geo.Feature{feature(with(big, at(300, 100, 380, 200)), named("A")), feature(at(280, 0, 480, 400), named("B"))}, "",
			map[string]float64{"A": 160000 - 48000, "B": 72000}, `fields "B" and "A" overlap`, false},
		"overlap": {[]geo.Feature{feature(big, named("A")), feature(at(390, 0, 590, 400), named("B"))}, "",
			map[string]float64{"A": 156000, "B": 80000}, `fields "B" and "A" overlap by 0.40 ha: that ground goes to "B", the smaller one, and to no other`, false},
		"overlap of fields of one size": {[]geo.Feature{feature(big, named("A")), feature(at(390, 0, 790, 400), named("B"))}, "",
			map[string]float64{"A": 160000, "B": 156000}, `goes to "A"`, false},
		"a sliver": {[]geo.Feature{feature(big, named("A")), feature(at(399.5, 0, 599.5, 400), named("B"))}, "",
			map[string]float64{"A": 159800, "B": 80000}, "", false},
		"twice the same": {[]geo.Feature{feature(big, named("A")), feature(big, named("B"))}, "",
			map[string]float64{"A": 160000}, `"B" has the same outline as "A": left out`, false},
		"nearly the same": {[]geo.Feature{feature(big, named("A")), feature(at(0.1, 0, 400, 400), named("B"))}, "",
			map[string]float64{"A": 40, "B": 159960}, `fields "B" and "A" overlap by 16.0 ha`, false},
		"three in one another": {[]geo.Feature{feature(big, named("A")), feature(at(100, 100, 300, 300), named("B")), feature(at(150, 150, 250, 250), named("C"))}, "field",
			map[string]float64{"A": 120000, "B": 30000, "C": 10000}, `field "C" lies inside "B"`, false},
	} {
		t.Run(name, func(t *testing.T) {
			o, err := boundary.Read(c.features, boundary.Settings{Inner: c.inner})
			require.NoError(t, err)
			got := areas(t, o.Fields)
			require.Len(t, got, len(c.want), "%v", o)
			for name, want := range c.want {
				// What was cut lies on millimetres.
				assert.InDelta(t, want, got[name], 0.5, name)
			}
			said := ""
			for _, line := range append(o.Notes, o.Warnings...) {
				said += line + "\n"
			}
			assert.Contains(t, said, c.says)
			if c.says == "" {
				assert.Empty(t, said)
			}
			err = o.Hold([][2]float64{plane(t).Inverse(orb.Point{20, 20})})
			if c.asks {
				assert.ErrorContains(t, err, `has no stops: is it a pond or other ground that is no field (--inner hole), or a field of its own (--inner field)?`)
			} else {
				assert.NoError(t, err)
			}
			// One stop in each field, so that nothing is to be asked but for what nobody named.
			one, two := plane(t).Inverse(orb.Point{101, 101}), plane(t).Inverse(orb.Point{102, 102})
			if err = o.Hold([][2]float64{one}); strings.Contains(name, "second") {
				assert.ErrorContains(t, err, `an outline without a name lies inside field "A", with one stop: is it a pond`)
			} else {
				assert.NoError(t, err)
			}
			assert.NoError(t, o.Hold([][2]float64{one, two}))
		})
	}
}

func TestStopsInWhatIsNoField(t *testing.T) {
	o, err := boundary.Read([]geo.Feature{feature(patch(t, 0, 0, 400, 400), named("A")), feature(patch(t, 500, 0, 900, 400), named("Lake"))}, boundary.Settings{})
	require.NoError(t, err)
	at := func(places ...float64) (stops [][2]float64) {
		for _, x := range places {
			stops = append(stops, plane(t).Inverse(orb.Point{x, 200}))
		}
		return stops
	}
	assert.NoError(t, o.Hold(at(100, 514, 886)), "15 m, and a poor fix may have put them there")
	assert.NoError(t, o.Hold(at(100, 700)), "one may be a poor fix")
	assert.ErrorContains(t, o.Hold(at(100, 516, 884)), `2 stops lie in "Lake", which is no field, by its name`)
}

func TestAFieldInWater(t *testing.T) {
	_, err := boundary.Read([]geo.Feature{feature(patch(t, 0, 0, 400, 400), named("Lake")), feature(patch(t, 100, 100, 200, 200), named("A"))}, boundary.Settings{})
	assert.ErrorContains(t, err, `field "A" lies for the most part in "Lake", which is no field, by its name`)
}

// Ends that lie farther apart than a phone is off are no outline.
func TestHowFarTheEndsOfALineMayLieApart(t *testing.T) {
	for _, c := range []struct {
		gap    float64
		closed bool
	}{{0, true}, {14.99, true}, {15.01, false}, {39, false}, {41, false}} {
		ring := patch(t, 0, 0, 400, 400)[0]
		ring[4] = plane(t).Inverse(orb.Point{0, c.gap})
		fields, _, err := boundary.Fields([]geo.Feature{feature(orb.LineString(ring))}, boundary.Settings{})
		if !c.closed {
			assert.ErrorContains(t, err, "end the line where it began", "%v m", c.gap)
			continue
		}
		require.NoError(t, err, "%v m", c.gap)
		assert.InDelta(t, 160000, areas(t, fields)["field"], 0.1)
	}
}

func TestHeapsOfOutlinesAreRefused(t *testing.T) {
	var features []geo.Feature
	for i := range 3000 {
		features = append(features, feature(patch(t, float64(i)/100, 0, 400, 400), named("A")))
	}
	_, err := boundary.Read(features, boundary.Settings{})
	assert.ErrorContains(t, err, "lie on one another in heaps")
}

// Places are judged ring by ring, and the areas of faces between the rings as they were
// drawn are summed by what holds for a place in each.
// An outline that has to be repaired is, once, however often it comes.
func TestCopiesOfAnOutlineAreLookedAtOnce(t *testing.T) {
	bow := orb.Polygon{{{-101.61, 35.89}, {-101.59, 35.91}, {-101.59, 35.89}, {-101.61, 35.91}, {-101.61, 35.89}}}
	took := func(copies int) float64 {
		features := make([]geo.Feature, copies)
		for i := range features {
			features[i] = feature(bow)
		}
		return testing.AllocsPerRun(3, func() {
			read, err := boundary.Read(features, boundary.Settings{})
			require.NoError(t, err)
			require.Len(t, read.Fields, 1)
		})
	}
	assert.Less(t, took(101)-took(1), 100*30.0)
}

// A name stands on every screen, sheet and picture.
func TestNamesWithoutEndAreRefused(t *testing.T) {
	long := strings.Repeat("é", 500)
	_, err := boundary.Read([]geo.Feature{feature(box(0, 0), named(long))}, boundary.Settings{})
	assert.NoError(t, err)
	_, err = boundary.Read([]geo.Feature{feature(box(0, 0), named(long+"é"))}, boundary.Settings{})
	assert.EqualError(t, err, "feature 1, its name has 501 letters, which no name has; name the fields by another property")
}

func TestNoGroundTwiceAndNoneInWater(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	checked, lay := 0, [3]int{} // places in no field, in one, in water or two as drawn
	for range 60 {
		f := randomFarm(rng)
		o, err := boundary.Read(f.features(t), boundary.Settings{})
		if err != nil {
			require.ErrorContains(t, err, "for the most part")
			continue
		}
		want, order := f.truth(t)
		checked++
		got := areas(t, o.Fields)
		for _, field := range o.Fields {
			assert.Empty(t, spikes(plane(t).ForwardPolygons(field.Boundary)), "field %s of %v", field.Name, f)
		}
		for name, area := range want {
			assert.InDelta(t, area, got[name], 0.5, "field %s of %v", name, f)
		}
		for range 300 {
			p := orb.Point{500*rng.Float64() - 100, 500*rng.Float64() - 100}
			if f.toLine(p) < 0.01 {
				continue // what was cut lies on millimetres
			}
			owner, drawn, wet := f.owner(order, p)
			in := ""
			for _, field := range o.Fields {
				if geo.Contains(plane(t).ForwardPolygons(field.Boundary), p) {
					in += field.Name
				}
			}
			assert.Equal(t, owner, in, "%v of %v", p, f)
			lay[min(2, drawn*(1+wet))]++
		}
	}
	assert.Greater(t, checked, 40)
	assert.Greater(t, min(lay[0], lay[1], lay[2]), 800)
}

// farm is fields with holes, some of which reach over the edge, and ponds. No hole
// or pond holds half of a field.
type farm struct {
	fields orb.MultiPolygon
	ponds  []orb.Ring
}

func randomFarm(rng *rand.Rand) (f farm) {
	for range 2 + rng.IntN(3) {
		x, y := 300*rng.Float64(), 300*rng.Float64()
		field := orb.Polygon{roundish(rng, x, y, 120)}
		for range rng.IntN(3) {
			field = append(field, roundish(rng, x+200*(rng.Float64()-0.5), y+200*(rng.Float64()-0.5), 20))
		}
		f.fields = append(f.fields, field)
	}
	for range 1 + rng.IntN(2) {
		f.ponds = append(f.ponds, roundish(rng, 300*rng.Float64(), 300*rng.Float64(), 25))
	}
	return f
}

func roundish(rng *rand.Rand, x, y, radius float64) (ring orb.Ring) {
	n := 4 + rng.IntN(9)
	for i := range n {
		a, r := 2*math.Pi*float64(i)/float64(n), radius*(0.6+0.4*rng.Float64())
		ring = append(ring, orb.Point{x + r*math.Cos(a), y + r*math.Sin(a)})
	}
	return append(ring, ring[0])
}

func fieldName(i int) string { return string(rune('A' + i)) }

func (f farm) features(t *testing.T) (features []geo.Feature) {
	for i, g := range f.fields {
		features = append(features, feature(plane(t).InversePolygons(orb.MultiPolygon{g}), named(fieldName(i))))
	}
	for i, g := range f.ponds {
		features = append(features, feature(plane(t).InversePolygons(orb.MultiPolygon{{g}})[0], named("pond "+fieldName(i))))
	}
	return features
}

// water is every hole and pond.
func (f farm) water() []orb.Ring {
	rings := slices.Clone(f.ponds)
	for _, g := range f.fields {
		rings = append(rings, g[1:]...)
	}
	return rings
}

// truth is the area of each field, and the fields from the smallest on.
func (f farm) truth(t *testing.T) (area map[string]float64, order []int) {
	rings := f.fields.Clone()
	for _, r := range f.ponds {
		rings = append(rings, orb.Polygon{r})
	}
	a, err := planar.Arrange(planar.RingLines(rings))
	require.NoError(t, err)
	own := make([]float64, len(f.fields))
	for i, g := range f.fields {
		order = append(order, i)
		for _, face := range a.Faces {
			in := func(r orb.Ring) bool { return geo.Contains(orb.MultiPolygon{{r}}, face.Point) }
			if in(g[0]) && !slices.ContainsFunc(g[1:], in) {
				own[i] += face.Area
			}
		}
	}
	slices.SortFunc(order, func(i, j int) int { return cmp.Compare(own[i], own[j]) })
	area = map[string]float64{}
	for _, face := range a.Faces {
		if name, _, _ := f.owner(order, face.Point); name != "" {
			area[name] += face.Area
		}
	}
	return area, order
}

// owner is the field that a place belongs to, "" for none; drawn is whether any field
// was drawn there, wet whether it is in water or several were.
func (f farm) owner(order []int, p orb.Point) (name string, drawn, wet int) {
	in := func(r orb.Ring) bool { return geo.Contains(orb.MultiPolygon{{r}}, p) }
	for _, i := range order {
		if in(f.fields[i][0]) {
			if drawn++; name == "" {
				name = fieldName(i)
			}
		}
	}
	if slices.ContainsFunc(f.water(), in) {
		return "", min(1, drawn), 1
	}
	return name, min(1, drawn), max(0, drawn-1)
}

// toLine is how far a place is from the nearest line that was drawn.
func (f farm) toLine(p orb.Point) float64 {
	d := geo.DistanceToEdge(f.fields, p)
	for _, r := range f.ponds {
		d = min(d, geo.DistanceToEdge(orb.MultiPolygon{{r}}, p))
	}
	return d
}

// A fence along a parallel is not the same line in two frames: what is cut along it
// must leave neither fins nor slits, and no field reaches farther than its ground.
func TestCutOutlinesHaveNoSpikes(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	cut := 0
	for range 150 {
		lat, height := 37+rng.Float64(), 0.002+0.004*rng.Float64()
		row := func(west, width float64) orb.Ring {
			return orb.Ring{{west, lat}, {west + width, lat}, {west + width, lat + height}, {west, lat + height}, {west, lat}}
		}
		a, b := 0.003+0.01*rng.Float64(), 0.003+0.01*rng.Float64()
		overlap := 0.0001 + 0.001*rng.Float64()
		pond := reverse(patch(t, 0, 0, 50+100*rng.Float64(), 50+100*rng.Float64())[0])
		for i := range pond { // over the edge, its south side on the fence
			pond[i][0] += 101.6 - 100 + a - overlap
			pond[i][1] += lat - 35.9
		}
		home := orb.Polygon{row(-100, a)}
		if rng.IntN(2) == 0 {
			home = append(home, pond)
		}
		o, err := boundary.Read([]geo.Feature{feature(home, named("A")), feature(orb.Polygon{row(-100+a-overlap, b)}, named("B"))}, boundary.Settings{})
		require.NoError(t, err)
		require.Len(t, o.Fields, 2)
		for _, f := range o.Fields {
			frame, err := geo.FrameOf(f.Boundary)
			require.NoError(t, err)
			xy := frame.ForwardPolygons(f.Boundary)
			require.Empty(t, spikes(xy), "%s of %v", f.Name, xy)
			cut += len(xy[0][0])
		}
		between := o.Fields[1].Boundary.Bound().Min[0] - o.Fields[0].Boundary.Bound().Max[0]
		assert.InDelta(t, 0, between, 2e-7, "one ends where the other begins")
	}
	assert.Greater(t, cut, 150*10, "more vertices than were drawn")
}

// spikes are vertices whose two legs run back along one another, or the middle of a
// part or hole thinner than 1 cm, in metres.
func spikes(xy orb.MultiPolygon) (at []orb.Point) {
	for _, polygon := range xy {
		for _, ring := range polygon {
			var rim float64
			open := ring[:len(ring)-1]
			for i, p := range open {
				a, b := open[(i+len(open)-1)%len(open)], open[(i+1)%len(open)]
				rim += math.Hypot(p[0]-b[0], p[1]-b[1])
				turn := math.Abs(math.Remainder(math.Atan2(a[1]-p[1], a[0]-p[0])-math.Atan2(b[1]-p[1], b[0]-p[0]), 2*math.Pi))
				short := min(math.Hypot(p[0]-a[0], p[1]-a[1]), math.Hypot(p[0]-b[0], p[1]-b[1]))
				if turn < math.Pi/2 && short*math.Sin(turn) < 0.0099 {
					at = append(at, p)
				}
			}
			if 2*geo.Area(orb.MultiPolygon{{ring}}) < 0.0099*rim {
				at = append(at, ring[0])
			}
		}
	}
	return at
}
