package jobsheet

import (
	"fmt"
	"image/color"
	"math"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/clip"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/output/scene"
	"github.com/geocoris/geocoris/internal/spraying/handoff"
	"github.com/geocoris/geocoris/internal/spraying/spray"
)

// frame is a box on the paper, millimetres.
type frame struct{ x, y, w, h float64 }

// plot takes the metres of a field to the paper, north up.
type plot struct {
	scale float64 // mm per m
	cx    float64 // of the field's middle, metres
	cy    float64
	in    frame
	foot  float64
}

// footOf is what is left free at the foot of a map for scale and north, mm.
func footOf(sign float64) float64 { return 3.8 * markSize * sign }

// newPlot leaves room for marks round the bound; sign is their size.
func newPlot(bound orb.Bound, in frame, sign float64) plot {
	air := 4 * markSize * sign
	w, h := bound.Max[0]-bound.Min[0], bound.Max[1]-bound.Min[1]
	c := bound.Center()
	return plot{foot: footOf(sign), scale: min((in.w-air)/max(w, 1), (in.h-footOf(sign)-air)/max(h, 1)), cx: c[0], cy: c[1], in: in}
}

func (p plot) at(xy orb.Point) scene.Point {
	return scene.Point{
		X: p.in.x + p.in.w/2 + float64((xy[0]-p.cx)*p.scale),
		Y: p.in.y + (p.in.h-p.foot)/2 - float64((xy[1]-p.cy)*p.scale),
	}
}

func (p plot) rings(mp orb.MultiPolygon) (out [][]scene.Point) {
	for _, polygon := range mp {
		for _, ring := range polygon {
			var r []scene.Point
			for _, q := range ring[:len(ring)-1] {
				r = append(r, p.at(q))
			}
			out = append(out, r)
		}
	}
	return out
}

// view is what is drawn of a job: the whole field, or its spray ground alone.
type view struct {
	bound  orb.Bound
	detail bool       // passes have arrows and numbers
	larger *orb.Bound // of the view that shows a part larger; nil where there is none
}

// views are the field and, where it shows as much as a third more, its spray ground on a
// scale of its own.
func views(j *handoff.Job) (field view, ground *view) {
	const worth = 4.0 / 3
	part := geo.Bound(j.Ground.Spray)
	if swaths := j.Swaths(); len(swaths) > 0 {
		part = part.Union(geo.Bound(swaths))
	}
	whole := geo.Bound(j.Ground.Field).Union(part).Extend(j.Plan.A).Extend(j.Plan.B)
	for _, xy := range j.NotRead {
		whole = whole.Extend(xy)
	}
	if j.Gate != nil {
		// one farther off would leave no room for the field
		if xy := j.Frame.Forward(*j.Gate); whole.Pad(0.15 * max(whole.Max[0]-whole.Min[0], whole.Max[1]-whole.Min[1])).Contains(xy) {
			whole = whole.Extend(xy)
		}
	}
	part = part.Pad(0.06 * max(part.Max[0]-part.Min[0], part.Max[1]-part.Min[1], 20))
	square := frame{0, 0, 1000, 1000}
	if newPlot(part, square, 1).scale < worth*newPlot(whole, square, 1).scale {
		return view{bound: whole, detail: true}, nil
	}
	return view{bound: whole, larger: &part}, &view{bound: part, detail: true}
}

// drawMap draws field, ground, passes, closed ground, scale and north.
func (d *pen) drawMap(j *handoff.Job, v view, u figures.Units, in frame) {
	d.box(in.x, in.y, in.w, in.h)
	d.taken = nil
	p := newPlot(v.bound, in, d.sign)
	area := func(mp orb.MultiPolygon, fill, stroke color.NRGBA, width float64) {
		if len(mp) > 0 {
			d.add(scene.Area{Rings: p.rings(mp), Style: scene.Style{Fill: fill, Stroke: stroke, Width: width}})
		}
	}
	none := color.NRGBA{}
	area(j.Ground.Spray, treat, none, 0)
	d.add(scene.Lines{Lines: p.lines(hatch(j.Ground.Spray, 2.6/p.scale)), Style: scene.Style{Stroke: treatHatch, Width: 0.2}})
	shown := v.bound.Pad(2 / p.scale)
	area(clipped(j.Ground.Closed, shown), closed, ink, 0.2)
	area(j.Swaths(), none, ink, 0.15)
	d.add(scene.Lines{Lines: p.lines(outline(j.Ground.Field, shown)), Style: scene.Style{Stroke: ink, Width: 0.5}})
	d.add(scene.Lines{Lines: p.lines(outline(orb.MultiPolygon{{{j.Plan.A, j.Plan.B}}}, shown)), Style: scene.Style{Stroke: grey, Width: 0.15}})
	for _, pass := range j.Plan.Passes {
		d.boomOn(pass, p)
	}
	for _, rest := range j.Places() {
		d.cross(p.at(rest.Point))
	}
	if v.larger != nil {
		d.add(scene.Area{Rings: p.rings(orb.MultiPolygon{v.larger.ToPolygon()}), Style: scene.Style{Stroke: grey, Width: 0.3}})
	}
	d.marks(j, v, u, p)
	d.scaleBar(p)
	d.north(scene.Point{X: in.x + in.w - 6, Y: in.y + in.h - 3})
}

// marks are what is written on the map: stops that were not read always, then the ends
// of the line and the gate, then as many numbers of passes as have room.
func (d *pen) marks(j *handoff.Job, v view, u figures.Units, p plot) {
	for _, xy := range j.NotRead {
		if v.bound.Contains(xy) {
			at := p.at(xy)
			d.add(scene.UnreadMark(at, d.sign)...)
			d.taken = append(d.taken, frame{at.X - 2*d.sign, at.Y - 2*d.sign, 4 * d.sign, 4 * d.sign})
		}
	}
	if j.Gate != nil {
		if xy := j.Frame.Forward(*j.Gate); v.bound.Contains(xy) {
			at := p.at(xy)
			d.add(scene.Area{Rings: [][]scene.Point{{{X: at.X - 1, Y: at.Y - 1}, {X: at.X + 1, Y: at.Y - 1}, {X: at.X + 1, Y: at.Y + 1}, {X: at.X - 1, Y: at.Y + 1}}}, Style: scene.Style{Fill: ink}})
			d.label(scene.Point{X: at.X, Y: at.Y - 1.5}, u.Text("gate"), true)
		}
	}
	for _, end := range []struct {
		name   string
		at, of orb.Point
	}{{"A", j.Plan.A, j.Plan.B}, {"B", j.Plan.B, j.Plan.A}} {
		if v.bound.Contains(end.at) {
			d.label(d.before(p.at(end.at), p.at(end.of)), end.name, true)
		}
	}
	if !v.detail {
		return
	}
	for _, pass := range j.Plan.Passes {
		from, to := longest(pass)
		d.arrow(p.at(from), p.at(to))
		d.label(d.before(p.at(pass.From), p.at(to)), fmt.Sprint(pass.Number), false)
	}
}

// markSize is the size of what is written on a map, mm, where signs are of size 1.
const markSize = 2.4

// label writes a short text round a place, unless other writing is there already.
func (d *pen) label(at scene.Point, text string, bold bool) {
	size := markSize * d.sign
	w := measure(text, bold) * size
	box := frame{at.X - w/2, at.Y - 0.9*size, w, 1.2 * size}
	for _, other := range d.taken {
		if box.x < other.x+other.w && other.x < box.x+box.w && box.y < other.y+other.h && other.y < box.y+box.h {
			return
		}
	}
	d.taken = append(d.taken, box)
	d.add(scene.Text{At: at, Size: size, Bold: bold, Anchor: scene.Middle, Colour: ink, Text: text})
}

// outline is the edge of ground as far as a box shows it.
func outline(mp orb.MultiPolygon, bound orb.Bound) (out []orb.LineString) {
	for _, polygon := range mp {
		for _, ring := range polygon {
			out = append(out, clip.LineString(bound, orb.LineString(ring).Clone())...)
		}
	}
	return out
}

// clipped leaves out closed ground that lies wholly beyond the map.
func clipped(mp orb.MultiPolygon, bound orb.Bound) (out orb.MultiPolygon) {
	for _, polygon := range mp {
		if b := polygon.Bound(); bound.Contains(b.Min) && bound.Contains(b.Max) {
			out = append(out, polygon)
			continue
		}
		if polygon.Bound().Intersects(bound) {
			out = append(out, cutTo(polygon, bound)...)
		}
	}
	return out
}

// cutTo cuts a polygon with the map's box, one side after the other (Sutherland &
// Hodgman 1974).
func cutTo(polygon orb.Polygon, b orb.Bound) orb.MultiPolygon {
	ring := polygon[0]
	for side := range 4 {
		axis, high := side/2, side%2 == 1
		limit := b.Min[axis]
		if high {
			limit = b.Max[axis]
		}
		inside := func(p orb.Point) bool { return high && p[axis] <= limit || !high && p[axis] >= limit }
		var out orb.Ring
		for i, q := range ring {
			p := ring[(i+len(ring)-1)%len(ring)]
			if inside(p) != inside(q) {
				f := (limit - p[axis]) / (q[axis] - p[axis])
				out = append(out, orb.Point{p[0] + f*(q[0]-p[0]), p[1] + f*(q[1]-p[1])})
			}
			if inside(q) {
				out = append(out, q)
			}
		}
		ring = out
	}
	if len(ring) < 3 {
		return nil
	}
	return orb.MultiPolygon{{append(ring, ring[0])}}
}

func (p plot) lines(lines []orb.LineString) (out [][]scene.Point) {
	for _, l := range lines {
		var points []scene.Point
		for _, q := range l {
			points = append(points, p.at(q))
		}
		out = append(out, points)
	}
	return out
}

// boomOn draws a pass where the boom is on.
func (d *pen) boomOn(pass spray.Pass, p plot) {
	for i := 0; i+1 < len(pass.Switches); i += 2 {
		d.line(0.3, blue, p.at(pass.Switches[i].At), p.at(pass.Switches[i+1].At))
	}
}

// longest is the longest run of a pass.
func longest(pass spray.Pass) (from, to orb.Point) {
	most := -1.0
	for i := 0; i+1 < len(pass.Switches); i += 2 {
		a, b := pass.Switches[i].At, pass.Switches[i+1].At
		if l := math.Hypot(b[0]-a[0], b[1]-a[1]); l > most {
			from, to, most = a, b, l
		}
	}
	return from, to
}

// before is a place for a mark, a little before the first of two places.
func (d *pen) before(from, to scene.Point) scene.Point {
	away, half := markSize*d.sign, 0.36*markSize*d.sign
	l := max(math.Hypot(to.X-from.X, to.Y-from.Y), 1e-3)
	return scene.Point{X: from.X - float64(away*(to.X-from.X)/l), Y: from.Y - float64(away*(to.Y-from.Y)/l) + half}
}

// arrow is a head at the middle of a pass.
func (d *pen) arrow(from, to scene.Point) {
	l := math.Hypot(to.X-from.X, to.Y-from.Y)
	if l < 1 {
		return
	}
	ux, uy := (to.X-from.X)/l, (to.Y-from.Y)/l
	x, y := (from.X+to.X)/2, (from.Y+to.Y)/2
	d.add(scene.Area{Rings: [][]scene.Point{{
		{X: x + 1.2*ux, Y: y + 1.2*uy}, {X: x - 0.6*ux - 0.6*uy, Y: y - 0.6*uy + 0.6*ux}, {X: x - 0.6*ux + 0.6*uy, Y: y - 0.6*uy - 0.6*ux},
	}}, Style: scene.Style{Fill: blue}})
}

// cross marks ground that stays unsprayed.
func (d *pen) cross(at scene.Point) {
	const r = 1.0
	d.line(0.4, ink, scene.Point{X: at.X - r, Y: at.Y - r}, scene.Point{X: at.X + r, Y: at.Y + r})
	d.line(0.4, ink, scene.Point{X: at.X - r, Y: at.Y + r}, scene.Point{X: at.X + r, Y: at.Y - r})
}

// scaleBar has a round length, in metres and feet.
func (d *pen) scaleBar(p plot) {
	metres := scene.RoundLength(p.in.w / 4 / p.scale)
	feet := scene.RoundLength(p.in.w / 4 / p.scale / geo.MetresPerFoot)
	size := markSize * d.sign
	x, y := p.in.x+4, p.in.y+p.in.h-1.7*size
	bar := func(length float64, up float64) float64 {
		end := x + length*p.scale
		d.line(0.35, ink, scene.Point{X: x, Y: y + up}, scene.Point{X: x, Y: y}, scene.Point{X: end, Y: y}, scene.Point{X: end, Y: y + up})
		return end
	}
	end := bar(metres, -1.2)
	d.add(scene.Text{At: scene.Point{X: end + 1, Y: y - 0.4*size}, Size: size, Colour: ink, Text: figures.Short(metres) + " m"})
	end = bar(feet*geo.MetresPerFoot, 1.2)
	d.add(scene.Text{At: scene.Point{X: end + 1, Y: y + 1.2*size}, Size: size, Colour: ink, Text: figures.Short(feet) + " ft"})
}

func (d *pen) north(at scene.Point) {
	d.add(scene.Area{Rings: [][]scene.Point{{{X: at.X, Y: at.Y - 7}, {X: at.X + 1.4, Y: at.Y - 3.6}, {X: at.X - 1.4, Y: at.Y - 3.6}}}, Style: scene.Style{Fill: ink}})
	d.add(scene.Text{At: at, Size: 3, Bold: true, Anchor: scene.Middle, Colour: ink, Text: "N"})
}

// A meaning is a sign of the map and what it means.
type meaning struct {
	text string
	draw func(d *pen, x, y float64) // into a box of signWidth by signHeight with its lower left corner there
}

const (
	signWidth  = 6.0
	signHeight = 3.2
)

// legend is what stands on the map of a job; of signs that not every map has it tells
// those that are on it.
func legend(j *handoff.Job, larger bool, u figures.Units) []meaning {
	middle := func(x, y float64) scene.Point { return scene.Point{X: x + signWidth/2, Y: y - signHeight/2} }
	all := []meaning{
		{u.Text("spray ground (hatched)"), func(d *pen, x, y float64) {
			d.swatch(x, y, treat)
			for k := range 3 {
				d.line(0.2, treatHatch, scene.Point{X: x + 0.4 + 1.9*float64(k), Y: y - 0.3}, scene.Point{X: x + 1.8 + 1.9*float64(k), Y: y - 2.9})
			}
		}},
		{u.Text("pass, boom on"), func(d *pen, x, y float64) {
			from, to := scene.Point{X: x, Y: y - signHeight/2}, scene.Point{X: x + signWidth, Y: y - signHeight/2}
			d.line(0.3, blue, from, to)
			d.arrow(from, to)
		}},
	}
	if len(j.Ground.Closed) > 0 {
		all = append(all, meaning{u.Text("closed: never sprayed"), func(d *pen, x, y float64) { d.swatch(x, y, closed) }})
	}
	if len(j.Places()) > 0 {
		all = append(all, meaning{u.Text("left unsprayed"), func(d *pen, x, y float64) { d.cross(middle(x, y)) }})
	}
	if len(j.NotRead) > 0 {
		all = append(all, meaning{u.Text("not read"), func(d *pen, x, y float64) { d.add(scene.UnreadMark(middle(x, y), 1)...) }})
	}
	if larger {
		all = append(all, meaning{u.Text("shown larger"), func(d *pen, x, y float64) {
			d.add(scene.Area{Rings: [][]scene.Point{corners(x, y-2.9, signWidth-1, 2.6)}, Style: scene.Style{Stroke: grey, Width: 0.3}})
		}})
	}
	return all
}

func corners(x, y, w, h float64) []scene.Point {
	return []scene.Point{{X: x, Y: y}, {X: x + w, Y: y}, {X: x + w, Y: y + h}, {X: x, Y: y + h}}
}

func (d *pen) swatch(x, y float64, fill color.NRGBA) {
	d.add(scene.Area{Rings: [][]scene.Point{corners(x, y-2.9, signWidth-1, 2.6)}, Style: scene.Style{Fill: fill, Stroke: ink, Width: 0.15}})
}

// legend writes meanings beside one another from the baseline y on, no wider than width,
// and returns the baseline after the last.
func (d *pen) legend(x, y, width float64, all []meaning) float64 {
	const size = 2.5
	left := x
	for _, m := range all {
		w := signWidth + measure(m.text, false)*size + 3
		if left > x && left+w > x+width {
			left, y = x, y+4.2
		}
		m.draw(d, left, y+0.6)
		d.set(left+signWidth, y, words{size: size / d.k, tone: ink}, m.text)
		left += w
	}
	return y + 4.2
}

// hatch is lines through ground from lower left to upper right, so far apart.
func hatch(mp orb.MultiPolygon, apart float64) (out []orb.LineString) {
	const half = math.Sqrt2 / 2
	turned := make(orb.MultiPolygon, len(mp))
	for i, polygon := range mp {
		for _, ring := range polygon {
			var r orb.Ring
			for _, p := range ring {
				r = append(r, orb.Point{half * (p[0] + p[1]), half * (p[1] - p[0])})
			}
			turned[i] = append(turned[i], r)
		}
	}
	b := geo.Bound(turned)
	for y := math.Ceil(b.Min[1]/apart) * apart; y < b.Max[1]; y += apart {
		for _, s := range geo.InsideSpans(turned, y) {
			back := func(x float64) orb.Point { return orb.Point{half * (x - y), half * (x + y)} }
			out = append(out, orb.LineString{back(s.From), back(s.To)})
		}
	}
	return out
}
