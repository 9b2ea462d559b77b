package plan

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
)

const (
	cellsPerStop = 150 // of the grid by which ground is covered
	leastCells   = 2000
	mostCells    = 60000
	leastCell    = 0.25 // metres
)

// ground is a field in metres, cut into cells.
type ground struct {
	field       orb.MultiPolygon
	in, keepOff *geo.Index // the field, and what lies in it and is kept off
	edges       *geo.EdgeIndex
	inside      float64
	cell        float64
	cells       []orb.Point // centres of the cells to be covered
	usable      []orb.Point // those where somebody may stop
}

func newGround(field, keepOff orb.MultiPolygon, set Settings) (*ground, error) {
	if set.Inside == insideEdge && !geo.HasInside(field, insideEdge) { // half way to the middle of a strip
		set.Inside = geo.HalfWidth(field) / 2
	}
	g := &ground{field: field, in: geo.NewIndex(field), edges: geo.NewEdgeIndex(field), keepOff: geo.NewIndex(keepOff), inside: set.Inside}
	want := min(max(cellsPerStop*set.Stops, leastCells), mostCells)
	g.cell = max(math.Sqrt(geo.Area(field)/float64(want)), leastCell)
	g.cut()
	if len(g.usable) < set.Stops {
		return nil, fmt.Errorf("room for %d stops at %v m inside the edge where %d are wanted; ask for fewer stops or less distance from the edge",
			len(g.usable), math.Round(set.Inside*100)/100, set.Stops)
	}
	return g, nil
}

// cut lists the cells row by row from the south-west.
func (g *ground) cut() {
	b := geo.Bound(g.field)
	middles := geo.Lattice{
		X0: b.Min[0] + g.cell/2, Y0: b.Min[1] + g.cell/2, Cell: g.cell,
		Cols: int(math.Ceil((b.Max[0] - b.Min[0]) / g.cell)), Rows: int(math.Ceil((b.Max[1] - b.Min[1]) / g.cell)),
	}
	for col, row := range geo.NodesInside(g.field, middles) {
		g.add(middles.Node(col, row))
	}
}

func (g *ground) add(p orb.Point) {
	if g.off(p) {
		return
	}
	g.cells = append(g.cells, p)
	// A hair more than asked for, so that rounding to seven decimals of a degree
	// cannot bring a stop too near.
	if g.edges.Distance(p) >= g.inside+0.02 {
		g.usable = append(g.usable, p)
	}
}

func (g *ground) off(p orb.Point) bool { return g.keepOff.Contains(p) }

// settleOn moves wanted places to places where one may stop, no two to the same.
// A wanted place that is good already stays where it is.
func (g *ground) settleOn(wanted []orb.Point) []orb.Point {
	var out []orb.Point
	for _, p := range wanted {
		if !g.good(p) || crowded(out, p, g.cell/2) {
			p = g.nearestFree(out, p)
		}
		out = append(out, p)
	}
	return out
}

// nearestFree is the nearest place to stop that is not taken. There is always
// one: no more stops are asked for than there are places.
func (g *ground) nearestFree(taken []orb.Point, p orb.Point) orb.Point {
	best, least := p, math.Inf(1)
	for _, q := range g.usable {
		if d := distance(p, q); d < least && !crowded(taken, q, g.cell/4) {
			best, least = q, d
		}
	}
	return best
}

func crowded(places []orb.Point, p orb.Point, apart float64) bool {
	for _, q := range places {
		if distance(p, q) < apart {
			return true
		}
	}
	return false
}

func (g *ground) good(p orb.Point) bool {
	return g.in.Contains(p) && !g.off(p) && g.edges.Distance(p) >= g.inside+0.02
}

// reach is the mean distance from a cell to the nearest of some places, one at least.
func (g *ground) reach(places []orb.Point) float64 {
	near, last, sum := g.inCells(places), 0, 0.0
	for _, c := range g.cells {
		var squared float64
		last, squared = near.Within(c[0], c[1], distance(c, places[last]))
		sum += math.Sqrt(squared)
	}
	return sum / float64(len(g.cells))
}

// alongEdge returns n places at equal distances along the outer rings, a little
// inside them. Places that fall on ground to be kept off move on along the edge.
func (g *ground) alongEdge(n int) ([]orb.Point, error) {
	if n == 0 {
		return nil, nil
	}
	length := 0.0
	for _, polygon := range g.field {
		length += ringLength(polygon[0])
	}
	var out []orb.Point
	const tries = 24
	for i := range n {
		for k := range tries {
			at := length * (float64(i) + (0.5+float64(k)/tries)*0.999) / float64(n)
			if p, ok := g.edgePlace(math.Mod(at, length)); ok {
				out = append(out, p)
				break
			}
		}
		if len(out) != i+1 {
			return nil, fmt.Errorf("no room for %d stops along the edge; ask for fewer", n)
		}
	}
	return out, nil
}

func ringLength(r orb.Ring) (length float64) {
	for i := 1; i < len(r); i++ {
		length += distance(r[i-1], r[i])
	}
	return length
}

// edgePlace is the place beside the boundary at a distance along the outer rings,
// to the left: the side of the field, as outer rings run counter-clockwise.
func (g *ground) edgePlace(at float64) (orb.Point, bool) {
	for _, polygon := range g.field {
		for i := 1; i < len(polygon[0]); i++ {
			a, b := polygon[0][i-1], polygon[0][i]
			d := distance(a, b)
			if at > d || d == 0 {
				at -= d
				continue
			}
			ux, uy := (b[0]-a[0])/d, (b[1]-a[1])/d
			for _, in := range []float64{edgeInside, edgeInside / 3} {
				p := orb.Point{a[0] + float64(ux*at) - float64(uy*in), a[1] + float64(uy*at) + float64(ux*in)}
				if g.in.Contains(p) && !g.off(p) && g.edges.Distance(p) >= in/2 {
					return p, true
				}
			}
			return orb.Point{}, false
		}
	}
	return orb.Point{}, false
}

// legsOff counts the legs with a point, every few metres, off the field.
func (g *ground) legsOff(w walk, order []int) (n int) {
	way := w.way(order)
	for i := 1; i < len(way); i++ {
		if g.leaves(way[i-1], way[i]) {
			n++
		}
	}
	return n
}

func (g *ground) leaves(a, b orb.Point) bool {
	steps := int(distance(a, b)/5) + 1
	for k := 1; k < steps; k++ {
		f := float64(k) / float64(steps)
		p := orb.Point{a[0] + float64((b[0]-a[0])*f), a[1] + float64((b[1]-a[1])*f)}
		if !g.in.Contains(p) || g.off(p) {
			return true
		}
	}
	return false
}
