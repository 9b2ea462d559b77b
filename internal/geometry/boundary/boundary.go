// Package boundary makes fields out of the features of a file: it finds the
// outlines, names them, and holds every ring to what a field must be. Outlines
// that are not valid are repaired and said so, or refused; nothing passes that
// later steps would silently take for something else.
//
// Coordinates are degrees; distances and areas are measured in the metric frame
// of each field.
package boundary

import (
	"cmp"
	"errors"
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/geometry/planar"
	"github.com/geocoris/geocoris/internal/sorted"
)

const (
	// maxSpan in metres keeps a frame's plane good to 5e-6 of area, and catches
	// outlines that are no fields.
	maxSpan = 50_000
	// minArea in m²: less ground than one stop's plants stand on is a slip of
	// the mouse.
	minArea = 1
)

// Settings say how outlines are taken. The zero value takes the first of the usual
// name properties, and asks what an outline inside another is.
type Settings struct {
	NameProperty string // the property that holds the name; other features are named by number
	Inner        string // what an outline inside another is: InnerHole, InnerField or "" to be asked
}

// What an outline inside another may be.
const (
	InnerHole  = "hole"
	InnerField = "field"
)

// Fields is [Read] for those who have no stops to compare the fields with: the
// fields, and all lines for the reader.
func Fields(features []geo.Feature, set Settings) (fields []geo.Field, notes []string, err error) {
	o, err := Read(features, set)
	return o.Fields, append(o.Notes, o.Warnings...), err
}

func where(i int, f geo.Feature) string {
	if f.Line > 0 {
		return fmt.Sprintf("feature %d (line %d)", i+1, f.Line)
	}
	return fmt.Sprintf("feature %d", i+1)
}

// hold returns a valid boundary wound as a field's must be, and what was wrong with the
// outline, "" for nothing. Valid input keeps its vertices to the bit.
func hold(outline orb.MultiPolygon) (boundary orb.MultiPolygon, flaw string, err error) {
	frame, err := geo.FrameOf(outline)
	if err != nil {
		return nil, "", err
	}
	if b := geo.Bound(outline); b.Max[0]-b.Min[0] > 180 {
		return nil, "", errors.New("the outline crosses longitude 180, which is not supported; draw the two sides as two fields")
	}
	xy := frame.ForwardPolygons(outline)
	if b := geo.Bound(xy); max(b.Max[0]-b.Min[0], b.Max[1]-b.Min[1]) > maxSpan {
		return nil, "", fmt.Errorf("the outline is %.0f km across, more than the %d km a field may be; is a vertex misplaced?",
			max(b.Max[0]-b.Min[0], b.Max[1]-b.Min[1])/1000, maxSpan/1000)
	}
	boundary = outline
	if planar.Valid(xy) != nil {
		repaired, err := planar.Ground(xy)
		if err != nil {
			return nil, "", err
		}
		repaired = planar.WithoutSpikes(repaired, leastWidth)
		if boundary, err = degrees(repaired, frame); err != nil {
			return nil, "", err
		}
		if flaw, err = flawOf(xy); err != nil {
			return nil, "", err
		}
		xy = repaired
	}
	if area := geo.Area(xy); !(area >= minArea) {
		return nil, "", fmt.Errorf("the outline holds %.2g m² of ground, less than %d m²; draw it anew", area, minArea)
	}
	return ordered(geo.Wind(boundary)), flaw, nil
}

// perMetre is the lattice that ground is cut on: whole millimetres. Straight lines of
// two frames differ by some micrometres along a field: on a finer lattice, edges of
// neighbours that run along one another would leave spikes as thin as that.
const perMetre = 1000

// degrees takes ground that was cut in metres to a boundary.
func degrees(xy orb.MultiPolygon, frame geo.Frame) (orb.MultiPolygon, error) {
	lattice, err := planar.Snapped(xy, func(p orb.Point) orb.Point {
		return orb.Point{math.Round(p[0] * perMetre), math.Round(p[1] * perMetre)}
	})
	if err != nil {
		return nil, err
	}
	lattice = planar.WithoutSpikes(lattice, leastWidth*perMetre)
	for _, polygon := range lattice {
		for _, ring := range polygon {
			for i, p := range ring {
				ring[i] = frame.Inverse(orb.Point{p[0] / perMetre, p[1] / perMetre})
			}
		}
	}
	return ordered(geo.Wind(lattice)), nil
}

// ordered starts every ring at its southernmost, then westernmost vertex and
// sorts holes and parts by it, so that one field is one boundary whichever file
// it comes from.
func ordered(mp orb.MultiPolygon) orb.MultiPolygon {
	for _, polygon := range mp {
		for i, ring := range polygon {
			polygon[i] = turned(ring)
		}
		sorted.Stably(polygon[1:], func(a, b orb.Ring) int { return compare(a[0], b[0]) })
	}
	sorted.Stably(mp, func(a, b orb.Polygon) int { return compare(a[0][0], b[0][0]) })
	return mp
}

func turned(ring orb.Ring) orb.Ring {
	if len(ring) == 0 {
		return ring
	}
	open := ring[:len(ring)-1]
	low := 0
	for i := range open {
		if compare(open[i], open[low]) < 0 {
			low = i
		}
	}
	out := append(append(make(orb.Ring, 0, len(ring)), open[low:]...), open[:low]...)
	return append(out, out[0])
}

func compare(a, b orb.Point) int { return cmp.Or(cmp.Compare(a[1], b[1]), cmp.Compare(a[0], b[0])) }
