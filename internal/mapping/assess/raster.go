package assess

import (
	"errors"
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/interp"
)

// A Raster is a surface on a grid of a zone of UTM on WGS 84.
type Raster struct {
	Zone            int     // 1 to 60
	North           bool    // hemisphere
	West, NorthEdge float64 // easting and northing of the upper left corner of the first cell, metres
	Cell            float64 // metres
	Cols, Rows      int
	Values          []float32 // row by row from the northernmost, west to east; NaN is no data
}

// values gives the surface at places in degrees, between the nodes of its grid; NaN
// outside the field.
func (g *MetricField) values() (at func(lonlat orb.Point) float64) {
	index := geo.NewIndex(g.XY)
	return func(lonlat orb.Point) float64 {
		xy := g.Frame.Forward(lonlat)
		if !index.Contains(xy) {
			return math.NaN()
		}
		return g.Surface.Value.Bilinear(xy[0], xy[1])
	}
}

// outline are points of the boundary's box in degrees, dense enough to bound the
// field in any projection.
func (g *MetricField) outline() (points []orb.Point) {
	b := geo.Bound(g.XY)
	const pieces = 8
	for i := range pieces + 1 {
		for j := range pieces + 1 {
			part := func(k, axis int) float64 {
				return b.Min[axis] + float64((b.Max[axis]-b.Min[axis])*float64(k)/pieces)
			}
			points = append(points, g.Frame.Inverse(orb.Point{part(i, 0), part(j, 1)}))
		}
	}
	return points
}

// RasterOf puts the surfaces of fields into one raster, in the UTM zone of the
// first, with the smallest of their cells, corners on multiples of it. A cell has
// the value at its middle; it is NaN outside the fields. Fields too far apart for
// one raster are an error.
func RasterOf(grounds []*MetricField) (Raster, error) {
	if len(grounds) == 0 {
		return Raster{}, errors.New("no field was scouted, so there is no surface")
	}
	var r Raster
	r.Zone, r.North = geo.UTMZone(grounds[0].Frame.Centre())
	utm, err := geo.NewUTM(r.Zone, r.North)
	if err != nil {
		return r, err
	}
	r.Cell = math.Inf(1)
	boxes := make([]orb.Bound, len(grounds))
	whole := emptyBound()
	for i, g := range grounds {
		r.Cell = min(r.Cell, g.Surface.Value.Cell)
		boxes[i] = emptyBound()
		for _, p := range g.outline() {
			boxes[i] = boxes[i].Extend(utm.Forward(p))
		}
		whole = whole.Extend(boxes[i].Min).Extend(boxes[i].Max)
	}
	r.West, r.NorthEdge = math.Floor(whole.Min[0]/r.Cell)*r.Cell, math.Ceil(whole.Max[1]/r.Cell)*r.Cell
	cols, rows := math.Ceil((whole.Max[0]-r.West)/r.Cell), math.Ceil((r.NorthEdge-whole.Min[1])/r.Cell)
	if !(cols*rows <= interp.MaxNodes) {
		return r, fmt.Errorf("the fields lie too far apart for one surface: %.3g cells of %g m, more than %d; map them one by one", cols*rows, r.Cell, interp.MaxNodes)
	}
	r.Cols, r.Rows = int(cols), int(rows)
	r.Values = make([]float32, r.Cols*r.Rows)
	for i := range r.Values {
		r.Values[i] = float32(math.NaN())
	}
	for i, g := range grounds {
		g.fill(&r, utm, boxes[i])
	}
	return r, nil
}

// fill sets the cells within a box whose middle lies in the field.
func (g *MetricField) fill(r *Raster, utm geo.UTM, box orb.Bound) {
	col0, col1 := int((box.Min[0]-r.West)/r.Cell), int(math.Ceil((box.Max[0]-r.West)/r.Cell))
	at := g.values()
	row0, row1 := int((r.NorthEdge-box.Max[1])/r.Cell), int(math.Ceil((r.NorthEdge-box.Min[1])/r.Cell))
	for row := max(0, row0); row < min(r.Rows, row1); row++ {
		for col := max(0, col0); col < min(r.Cols, col1); col++ {
			middle := orb.Point{r.West + float64((float64(col)+0.5)*r.Cell), r.NorthEdge - float64((float64(row)+0.5)*r.Cell)}
			if v := at(utm.Inverse(middle)); !math.IsNaN(v) {
				r.Values[row*r.Cols+col] = float32(v)
			}
		}
	}
}

// A DegreeGrid is a surface at equal steps of longitude and latitude, as viewers
// of the earth stretch pictures: row by row from the north, a value for the
// middle of each cell, NaN outside the field.
type DegreeGrid struct {
	West, South, East, North float64 // the outer edges
	Cols, Rows               int
	Values                   []float64
}

// steps lays whole steps over an interval, what is too much shared by both ends.
func steps(from, to, step float64) (n int, first, last float64) {
	n = max(1, int(math.Ceil((to-from)/step)))
	over := (float64(step*float64(n)) - (to - from)) / 2
	return n, from - over, to + over
}

// Degrees is the surface at steps of its cell; the edges lie within half a cell of
// the box round the field.
func (g *MetricField) Degrees() DegreeGrid {
	b := emptyBound()
	for _, p := range g.outline() {
		b = b.Extend(p)
	}
	cell, centre := g.Surface.Value.Cell, g.Frame.Centre()
	corner := g.Frame.Inverse(orb.Point{cell, cell})
	dLon, dLat := corner[0]-centre[0], corner[1]-centre[1]
	var d DegreeGrid
	d.Cols, d.West, d.East = steps(b.Min[0], b.Max[0], dLon)
	d.Rows, d.South, d.North = steps(b.Min[1], b.Max[1], dLat)
	d.Values = make([]float64, d.Cols*d.Rows)
	at := g.values()
	for row := range d.Rows {
		for col := range d.Cols {
			d.Values[row*d.Cols+col] = at(orb.Point{d.West + float64(dLon*(float64(col)+0.5)), d.North - float64(dLat*(float64(row)+0.5))})
		}
	}
	return d
}

// emptyBound grows to whatever it is extended by.
func emptyBound() orb.Bound {
	return orb.Bound{Min: orb.Point{math.Inf(1), math.Inf(1)}, Max: orb.Point{math.Inf(-1), math.Inf(-1)}}
}
