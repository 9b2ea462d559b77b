package handoff_test

import (
	"encoding/binary"
	"math"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/geometry/boundary"
	"github.com/geocoris/geocoris/internal/geometry/planar"
	"github.com/geocoris/geocoris/internal/spraying/handoff"
	"github.com/geocoris/geocoris/internal/spraying/spray"
	"github.com/geocoris/geocoris/internal/spraying/taskdata"
	"github.com/geocoris/geocoris/internal/testkit"
)

// cellArea is that of a cell of degrees in m²: M·N·cos φ of its middle, the radii of
// curvature of WGS 84, which over some 40 m is right to a part in a hundred million.
func cellArea(g taskdata.Grid, row int) float64 {
	const a, e2 = 6378137.0, 0.00669437999014
	phi := (g.South + (float64(row)+0.5)*g.CellNorth) * math.Pi / 180
	w := 1 - e2*math.Sin(phi)*math.Sin(phi)
	m, n := a*(1-e2)/math.Pow(w, 1.5), a/math.Sqrt(w)
	return m * n * math.Cos(phi) * g.CellNorth * g.CellEast * math.Pi / 180 * math.Pi / 180
}

// drawnZones are treat ground in each field of a farm, and the rest of it.
func drawnZones(t *rapid.T, fields []geo.Field, frame geo.Frame) (zones []geo.Feature) {
	for _, f := range fields {
		field := frame.ForwardPolygons(f.Boundary)
		b := geo.Bound(field)
		at := func(name string, axis int) float64 { return rapid.Float64Range(b.Min[axis], b.Max[axis]).Draw(t, name) }
		patch := orb.MultiPolygon{{quad(t, "patch", at("patch x", 0), at("patch y", 1), 20, 120)}}
		for _, zone := range []struct {
			name string
			in   bool
		}{{"treat", true}, {"clear", false}} {
			ground, err := planar.Overlay([]orb.MultiPolygon{field, patch}, func(in []bool) bool { return in[0] && in[1] == zone.in })
			require.NoError(t, err)
			if geo.Area(ground) > 1 {
				zones = append(zones, geo.Feature{Geometry: frame.InversePolygons(ground), Properties: geo.Properties{{Name: "zone", Value: zone.name}, {Name: "field", Value: f.Name}, {Name: "date", Value: "2026-07-15"}}})
			}
		}
	}
	return zones
}

// Of random fields with parts, holes and keep-offs: the cells that a file switches on are
// the figure of the sheet, in a grid of either type; each lies in its field and off all
// closed ground; and at least half of each is spray ground, while cells that are off have
// a reason to be.
func TestCellsOnAreTheSprayedFigure(t *testing.T) {
	frame, err := geo.NewFrame(orb.Point{-101.6, 35.9})
	require.NoError(t, err)
	rate, err := spray.ParseRate("140L/ha")
	require.NoError(t, err)
	cells, kept := 0, 0
	testkit.Property(t, func(rt *rapid.T) {
		features, _ := drawnFarm(rt, frame)
		outlines, err := boundary.Read(features, boundary.Settings{Inner: boundary.InnerHole})
		if err != nil {
			rt.Skip(err)
		}
		hive, setBack := orb.Point{rapid.Float64Range(-100, 100).Draw(rt, "hive x"), rapid.Float64Range(-100, 100).Draw(rt, "hive y")}, rapid.Float64Range(5, 60).Draw(rt, "set-back")
		set := settings()
		set.Closed, set.Cell = outlines.Closed, rapid.Float64Range(20, 60).Draw(rt, "cell")
		set.KeepOffs = []handoff.KeepOff{keepOff(frame.Inverse(hive), setBack)}
		r, err := handoff.Run(drawnZones(rt, outlines.Fields, frame), set)
		if err != nil {
			rt.Skip(err)
		}
		written := map[int][]taskdata.File{}
		for _, kind := range []int{1, 2} {
			p, err := r.Prescription(handoff.Mix{Rate: &rate}, handoff.TaskForm{Version: 4, GridType: kind})
			require.NoError(rt, err)
			written[kind], err = p.Files()
			require.NoError(rt, err)
		}
		for i, j := range r.Jobs {
			g, sum := j.Grid.Codes, 0.0
			over := grounds{geo.NewIndex(j.Ground.Spray), geo.NewIndex(j.Ground.Field)}
			codes, rates := written[1][i+1].Content, written[2][i+1].Content
			require.Len(rt, codes, g.Columns*g.Rows)
			require.Len(rt, rates, 4*len(codes))
			for at, code := range codes {
				require.Equal(rt, map[byte]uint32{taskdata.Off: 0, taskdata.Treat: 1400000}[code], binary.LittleEndian.Uint32(rates[4*at:]))
				look := over.lookedAt(j, at, j.Frame.Forward(frame.Inverse(hive)), setBack)
				if code == taskdata.Off {
					require.True(rt, look.spray < 0.7 || look.closed > 0 || look.outside > 0 || barred(rt, j, at, set.Spray.Swath), "cell %d of %s is off: %+v", at, j.Field, look)
					continue
				}
				sum += cellArea(g, at/g.Columns)
				cells++
				require.Zero(rt, look.closed, "cell %d of %s", at, j.Field)
				require.Zero(rt, look.outside, "cell %d of %s", at, j.Field)
				require.Greater(rt, look.spray, 0.3, "cell %d of %s", at, j.Field)
			}
			assert.InEpsilon(rt, sum, j.Figures().Sprayed, 1e-6, "m² of %s", j.Field)
			beside, err := spray.Less(j.Swaths(), j.Plan.Cover.Swaths)
			require.NoError(rt, err)
			require.Less(rt, geo.Area(beside), 1.0, "m² of cells of %s that no pass covers", j.Field)
			if len(j.KeepOffs) > 0 {
				kept++
			}
		}
	})
	require.Greater(t, cells, testkit.Few(testkit.Draws(1000), 50)) // the first farms are small
	require.Greater(t, kept, testkit.Draws(5))
}

// look is what a net of points over a cell finds: the share that is spray ground, and how
// many points lie in closed ground or out of the field.
type look struct {
	spray           float64
	closed, outside int
}

type grounds struct{ spray, field *geo.Index }

// lookedAt looks at a cell by a net of 7 by 7 points. A hundredth of a metre of the edge
// is neither side of it, twice that of the field's: by so much files move places.
func (over grounds) lookedAt(j *handoff.Job, at int, hive orb.Point, setBack float64) (l look) {
	const side = 7
	g := j.Grid.Codes
	for k := range side * side {
		x := (float64(at%g.Columns) + float64(k%side)/(side-1)) * g.CellEast
		y := (float64(at/g.Columns) + float64(k/side)/(side-1)) * g.CellNorth
		q := j.Frame.Forward(orb.Point{g.West + x, g.South + y})
		if over.spray.Contains(q) {
			l.spray += 1.0 / (side * side)
		}
		if math.Hypot(q[0]-hive[0], q[1]-hive[1]) < setBack-0.01 {
			l.closed++
		}
		if !over.field.Contains(q) && math.Abs(geo.DistanceToEdge(j.Ground.Field, q)) > 0.03 {
			l.outside++
		}
	}
	return l
}

// barred reports whether a corner of a cell that the net missed is closed or out of the
// field, or closed ground lies so near that the boom, or its section, reaches into it.
func barred(t require.TestingT, j *handoff.Job, at int, section float64) bool {
	g := j.Grid.Codes
	west, south := g.West+float64(at%g.Columns)*g.CellEast, g.South+float64(at/g.Columns)*g.CellNorth
	cell := j.Frame.ForwardPolygons(orb.MultiPolygon{orb.Bound{Min: orb.Point{west, south}, Max: orb.Point{west + g.CellEast, south + g.CellNorth}}.ToPolygon()})
	shut, err := planar.Overlay([]orb.MultiPolygon{cell, j.Ground.Closed, j.Ground.Field}, func(in []bool) bool { return in[0] && (in[1] || !in[2]) })
	require.NoError(t, err)
	return geo.Area(shut) > 0 || spray.Distance(cell, j.Ground.Closed) < section
}
