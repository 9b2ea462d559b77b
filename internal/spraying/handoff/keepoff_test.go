package handoff_test

import (
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/spraying/handoff"
)

func named(name string, g orb.Geometry) geo.Feature {
	return geo.Feature{Geometry: g, Properties: geo.Properties{{Name: "name", Value: name}}}
}

func fileOf(features ...geo.Feature) handoff.KeepOff {
	return handoff.KeepOff{File: "hives.geojson", Features: features, SetBack: 50}
}

// No file passes that keeps nothing off; the message says what is wrong and how to fix it.
func TestKeepOffsThatWouldKeepNothingOff(t *testing.T) {
	near := named("gate", orb.Point{-101.599, 35.902})
	for name, tc := range map[string]struct {
		file handoff.KeepOff
		want []string
	}{
		"no place":       {fileOf(near, named("north", nil)), []string{`feature 2 ("north") has no place`, "give it one"}},
		"an empty place": {fileOf(near, named("north", orb.Collection{orb.MultiPoint{}})), []string{`feature 2 ("north") has no place`}},
		"no features":    {handoff.KeepOff{File: "hives.kml", Notes: []string{"1 network link not followed"}}, []string{"hives.kml: holds nothing to keep off; 1 network link not followed"}},
		"sign lost":      {fileOf(named("east", orb.Point{101.599, 35.902})), []string{"nothing in it lies within 1.05 km", `nearest, "east"`, "the longitude has lost its sign", "correct the file"}},
		"other sign":     {fileOf(named("east", orb.Point{-101.599, -35.902})), []string{"the latitude has lost its sign"}},
		"both signs":     {fileOf(named("east", orb.Point{101.599, -35.902})), []string{"longitude and latitude have lost their signs"}},
		"a line's sign":  {fileOf(named("creek", orb.LineString{{101.6, 35.9}, {101.59, 35.91}})), []string{"the longitude has lost its sign"}},
		"on another farm": {fileOf(named("a", orb.Point{-101.3, 35.9}), named("b", orb.Point{-101.5, 35.902}), geo.Feature{Geometry: orb.Point{170, 0}}),
			[]string{`the nearest, "b", is 8.49 km (5.27 mi) away`, "leave it out"}},
		"on another continent": {fileOf(geo.Feature{Geometry: orb.Point{10, 50}}), []string{"feature 1, is 8", "leave it out"}},
	} {
		t.Run(name, func(t *testing.T) {
			set := settings()
			set.KeepOffs = []handoff.KeepOff{tc.file}
			_, err := handoff.Run(zones(), set)
			var refused *handoff.KeepOffError
			require.ErrorAs(t, err, &refused)
			for _, want := range append(tc.want, tc.file.File) {
				assert.ErrorContains(t, err, want)
			}
			_, _, err = handoff.Closed(theField(), []handoff.KeepOff{tc.file})
			assert.ErrorAs(t, err, &refused)
		})
	}
	swapped := settings()
	swapped.KeepOffs = []handoff.KeepOff{fileOf(named("east", orb.Point{60, 20.5}))}
	_, err := handoff.Run([]geo.Feature{{Geometry: box(20.499, 59.999, 20.503, 60.001), Properties: zones()[0].Properties}}, swapped)
	assert.ErrorContains(t, err, "latitude and longitude are swapped")
}

func theField() geo.Field {
	return geo.Field{Name: "A", Boundary: orb.MultiPolygon{box(-101.6, 35.9, -101.594, 35.904)}}
}

// What is kept off less than the file says, or more, is said before all else.
func TestKeepOffNotes(t *testing.T) {
	set := settings()
	file := fileOf(
		named("gate", orb.Point{-101.599, 35.902}),
		named("apiary", orb.MultiPoint{{-101.599, 35.9}, {101.599, 35.9}}),
		named("road", orb.LineString{{-101.5965, 35.9025}, {-101.5955, 35.9025}, {-101.5955, 35.9035}, {-101.5965, 35.9025}}),
		geo.Feature{Geometry: orb.Point{-101.5, 35.902}},
	)
	file.Notes = []string{"2 network links not followed"}
	set.KeepOffs = []handoff.KeepOff{file}
	r, err := handoff.Run(zones(), set)
	require.NoError(t, err)
	assert.Equal(t, []string{
		`hives.geojson: 2 of 4 features, or parts of them, lie more than 1.05 km (0.65 mi) from every field and keep nothing off: "apiary", feature 4; the nearest, feature 4, is 8.49 km (5.27 mi) away; BEWARE: "apiary" would lie by a field but that the longitude has lost its sign, so it seems: correct the file`,
		"hives.geojson: 2 network links not followed",
		`hives.geojson: lines that close keep off the ground inside them too: "road"`,
	}, r.KeepOffNotes)
	require.Len(t, r.Jobs[0].KeepOffs, 3)
	inside := r.Jobs[0].Frame.Forward(orb.Point{-101.5958, 35.9028})
	assert.True(t, geo.Contains(r.Jobs[0].Ground.Closed, inside))

	closed, notes, err := handoff.Closed(theField(), set.KeepOffs)
	require.NoError(t, err)
	assert.Equal(t, r.KeepOffNotes, notes)
	for p, want := range map[orb.Point]bool{{-101.5958, 35.9028}: true, {-101.599, 35.9024}: true, {-101.599, 35.9026}: false, {-101.595, 35.9005}: false} {
		assert.Equal(t, want, geo.Contains(closed, p), p)
	}
	none, notes, err := handoff.Closed(theField(), nil)
	require.NoError(t, err)
	assert.Empty(t, none)
	assert.Empty(t, notes)
}

// A keep-off by a field without a job is in its right place.
func TestKeepOffsOfOtherFields(t *testing.T) {
	all := zones()
	all = append(all, geo.Feature{Geometry: box(-101.5, 35.9, -101.498, 35.904), Properties: geo.Properties{{Name: "zone", Value: "clear"}, {Name: "field", Value: "B"}}})
	set := settings()
	set.KeepOffs = []handoff.KeepOff{fileOf(named("east", orb.Point{-101.499, 35.902}))}
	r, err := handoff.Run(all, set)
	require.NoError(t, err)
	assert.Empty(t, r.KeepOffNotes)
	assert.Empty(t, r.Jobs[0].KeepOffs)
}

// A line that closes keeps the sprayer off the ground inside it too, however far that
// lies from the line.
func TestGroundInsideAClosedLineIsKeptOff(t *testing.T) {
	ring := orb.LineString(box(-101.5995, 35.901, -101.5985, 35.903)[0])
	r, err := handoff.Run(zones(), func() handoff.Settings {
		set := settings()
		set.KeepOffs = []handoff.KeepOff{keepOff(ring, 2)}
		return set
	}())
	require.NoError(t, err)
	middle := r.Jobs[0].Frame.Forward(orb.Point{-101.599, 35.902})
	assert.False(t, geo.Contains(r.Jobs[0].Ground.Spray, middle))
	assert.True(t, geo.Contains(r.Jobs[0].Ground.Spray, r.Jobs[0].Frame.Forward(orb.Point{-101.5998, 35.902})))
	require.Len(t, r.KeepOffNotes, 1)
	assert.Contains(t, r.KeepOffNotes[0], "lines that close keep off the ground inside them too")
}

func TestPointsAndLinesWithoutASetBack(t *testing.T) {
	file := func(g orb.Geometry) []handoff.KeepOff {
		return []handoff.KeepOff{{File: "keep.kml", Features: []geo.Feature{named("north", g)}, NoSetBack: true}}
	}
	for kind, g := range map[string]orb.Geometry{"point": orb.Point{-101.599, 35.902}, "linestring": orb.LineString{{-101.599, 35.902}, {-101.6, 35.91}}} {
		_, _, err := handoff.Closed(theField(), file(g))
		assert.ErrorContains(t, err, `keep.kml: feature 1 ("north") is a `+kind+`, which has no ground of its own: give its set-back, such as --keep-off keep.kml=50m`)
	}
	closed, _, err := handoff.Closed(theField(), file(box(-101.599, 35.901, -101.598, 35.902)))
	require.NoError(t, err)
	assert.True(t, geo.Contains(closed, orb.Point{-101.5985, 35.9015}))
	assert.False(t, geo.Contains(closed, orb.Point{-101.5985, 35.9021}))
}
