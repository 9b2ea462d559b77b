package jobsheet

import (
	"fmt"
	"image/color"
	"math"

	"github.com/paulmach/orb"

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
}

func newPlot(bound orb.Bound, in frame) plot {
	const air = 0.92
	w, h := bound.Max[0]-bound.Min[0], bound.Max[1]-bound.Min[1]
	c := bound.Center()
	return plot{scale: air * min(in.w/max(w, 1), (in.h-8)/max(h, 1)), cx: c[0], cy: c[1], in: in}
}

func (p plot) at(xy orb.Point) scene.Point {
	return scene.Point{
		X: p.in.x + p.in.w/2 + float64((xy[0]-p.cx)*p.scale),
		Y: p.in.y + (p.in.h-8)/2 - float64((xy[1]-p.cy)*p.scale),
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

// drawMap draws field, ground, passes, closed ground, scale and north.
func (d *pen) drawMap(j *handoff.Job, in frame) {
	d.box(in.x, in.y, in.w, in.h)
	bound := geo.Bound(j.Ground.Field).Union(geo.Bound(j.Plan.Cover.Swaths))
	if len(j.Plan.Cover.Swaths) == 0 {
		bound = geo.Bound(j.Ground.Field)
	}
	for _, xy := range j.NotRead {
		bound = bound.Extend(xy)
	}
	p := newPlot(bound, in)
	area := func(mp orb.MultiPolygon, fill, stroke color.NRGBA, width float64) {
		if len(mp) > 0 {
			d.add(scene.Area{Rings: p.rings(mp), Style: scene.Style{Fill: fill, Stroke: stroke, Width: width}})
		}
	}
	none := color.NRGBA{}
	area(j.Ground.Spray, treat, none, 0)
	d.add(scene.Lines{Lines: p.lines(hatch(j.Ground.Spray, 2.6/p.scale)), Style: scene.Style{Stroke: color.NRGBA{0xD5, 0x5E, 0x00, 0xFF}, Width: 0.2}})
	inField := clipped(j.Ground.Closed, bound)
	area(inField, closed, ink, 0.2)
	area(j.Plan.Cover.Swaths, none, ink, 0.15)
	area(j.Ground.Field, none, ink, 0.5)
	d.passes(j.Plan, p)
	for _, rest := range j.Plan.Cover.Untreatable {
		at := p.at(rest.Point)
		d.cross(at)
	}
	for _, xy := range j.NotRead {
		d.add(scene.UnreadMark(p.at(xy), 1)...)
	}
	d.scaleBar(p)
	d.north(scene.Point{X: in.x + in.w - 6, Y: in.y + in.h - 3})
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

// passes are drawn where the boom is on, with an arrow and the pass's number at
// their beginning.
func (d *pen) passes(plan *spray.Plan, p plot) {
	every := max(1, int(math.Ceil(3.4/(plan.Settings.Swath*p.scale)))) // numbers do not touch
	for k, pass := range plan.Passes {
		for i := 0; i+1 < len(pass.Switches); i += 2 {
			d.line(0.3, blue, p.at(pass.Switches[i].At), p.at(pass.Switches[i+1].At))
		}
		from, to := longest(pass)
		d.arrow(p.at(from), p.at(to))
		if k%every == 0 || k == len(plan.Passes)-1 {
			d.add(scene.Text{At: before(p.at(pass.From), p.at(to)), Size: 2.4, Anchor: scene.Middle, Colour: ink, Text: fmt.Sprint(pass.Number)})
		}
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

// before is a place for a number, a little before the first of two places.
func before(from, to scene.Point) scene.Point {
	const away, half = 2.4, 0.9
	l := max(math.Hypot(to.X-from.X, to.Y-from.Y), 1e-3)
	return scene.Point{X: from.X - away*(to.X-from.X)/l, Y: from.Y - away*(to.Y-from.Y)/l + half}
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
	metres := roundLength(p.in.w / 4 / p.scale)
	feet := roundLength(p.in.w / 4 / p.scale / geo.MetresPerFoot)
	x, y := p.in.x+4, p.in.y+p.in.h-4.5
	bar := func(length float64, up float64) float64 {
		end := x + length*p.scale
		d.line(0.35, ink, scene.Point{X: x, Y: y + up}, scene.Point{X: x, Y: y}, scene.Point{X: end, Y: y}, scene.Point{X: end, Y: y + up})
		return end
	}
	end := bar(metres, -1.2)
	d.set(end+1, y-0.3, words{size: 2.5 / d.k, tone: ink}, figures.Short(metres)+" m")
	end = bar(feet*geo.MetresPerFoot, 1.2)
	d.set(end+1, y+2.4, words{size: 2.5 / d.k, tone: ink}, figures.Short(feet)+" ft")
}

// roundLength is the largest of 1, 2, 5, 10 … up to a length.
func roundLength(v float64) float64 {
	scale := math.Pow10(int(math.Floor(math.Log10(v))))
	for _, m := range [...]float64{5, 2} {
		if m*scale <= v {
			return m * scale
		}
	}
	return scale
}

func (d *pen) north(at scene.Point) {
	d.add(scene.Area{Rings: [][]scene.Point{{{X: at.X, Y: at.Y - 7}, {X: at.X + 1.4, Y: at.Y - 3.6}, {X: at.X - 1.4, Y: at.Y - 3.6}}}, Style: scene.Style{Fill: ink}})
	d.add(scene.Text{At: at, Size: 3, Bold: true, Anchor: scene.Middle, Colour: ink, Text: "N"})
}

// legend stands below the map; of signs that not every map has it tells those that are
// on it.
func (d *pen) legend(x, y float64, j *handoff.Job) float64 {
	swatch := func(x float64, fill color.NRGBA) {
		d.add(scene.Area{Rings: [][]scene.Point{{{X: x, Y: y - 2.6}, {X: x + 5, Y: y - 2.6}, {X: x + 5, Y: y}, {X: x, Y: y}}}, Style: scene.Style{Fill: fill, Stroke: ink, Width: 0.15}})
	}
	small := words{size: 2.5 / d.k, tone: ink}
	swatch(x, treat)
	for k := range 3 {
		d.line(0.2, color.NRGBA{0xD5, 0x5E, 0x00, 0xFF}, scene.Point{X: x + 0.3 + 1.6*float64(k), Y: y}, scene.Point{X: x + 1.5 + 1.6*float64(k), Y: y - 2.6})
	}
	d.set(x+6, y-0.4, small, "spray ground")
	d.line(0.3, blue, scene.Point{X: x + 24, Y: y - 1.3}, scene.Point{X: x + 30, Y: y - 1.3})
	d.arrow(scene.Point{X: x + 24, Y: y - 1.3}, scene.Point{X: x + 30, Y: y - 1.3})
	d.set(x+31, y-0.4, small, "pass, boom on")
	swatch(x+51, closed)
	d.set(x+57, y-0.4, small, "closed")
	d.cross(scene.Point{X: x + 70, Y: y - 1.3})
	d.set(x+72.5, y-0.4, small, "left unsprayed")
	if len(j.NotRead) > 0 {
		y += 4
		d.add(scene.UnreadMark(scene.Point{X: x + 2.5, Y: y - 1.3}, 1)...)
		d.set(x+6, y-0.4, small, "not read")
	}
	return y + 2
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
