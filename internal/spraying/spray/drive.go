package spray

import (
	"math"
	"slices"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
)

// middle is the height at which the middle of the boom runs.
func (w *work) middle(start float64, lane int) float64 {
	return start + float64((float64(lane)+0.5)*w.set.Swath)
}

// keepDrivable takes sections off a lane of which the boom's middle lies over barred
// ground wherever one of them is on: nobody could drive there.
func (w *work) keepDrivable(y float64, sections []runs) {
	on := anyOn(sections)
	if len(on) == 0 || len(w.pieces(y, on)) > 0 {
		return
	}
	for i, r := range sections {
		sections[i].on, sections[i].cut = nil, united(append(r.on, r.dropped...))
		sections[i].dropped = nil
	}
}

// anyOn is where one section or more of a lane is on.
func anyOn(sections []runs) []geo.Span {
	var all []geo.Span
	for _, r := range sections {
		all = append(all, r.on...)
	}
	return united(all)
}

// pieces cuts what is on along a lane whose middle runs at y where the middle lies
// over barred ground, and puts it together to pieces that can be driven without
// leaving the field.
func (w *work) pieces(y float64, on []geo.Span) (out [][]geo.Span) {
	runs := on
	if len(w.barred) > 0 {
		runs = runs[:0:0]
		for _, run := range without(on, w.overBarred(y)) {
			if run.To-run.From >= leastRun {
				runs = append(runs, run)
			}
		}
	}
	switch len(runs) {
	case 0:
		return nil
	case 1:
		return [][]geo.Span{runs}
	}
	inside := without(geo.InsideSpans(w.field, y), w.overBarred(y))
	for i, run := range runs {
		if i == 0 || total(without([]geo.Span{{From: runs[i-1].To, To: run.From}}, inside)) > leastRun {
			out = append(out, nil)
		}
		out[len(out)-1] = append(out[len(out)-1], run)
	}
	return out
}

// drive puts the passes into their order, part by part of the field, to and fro in
// each, and adds up the way: along a pass from the first on to the last off, then
// straight to the next.
func (p *Plan) drive(w *work, l layout) {
	against := false
	for part, lanes := range w.order(l) {
		if n := len(p.Passes); n > 0 && farther(w.turned.into(p.Passes[n-1].To)[1], lanes) {
			slices.Reverse(lanes)
		}
		for _, one := range lanes {
			if against {
				slices.Reverse(one.passes)
			}
			for _, pass := range one.passes {
				pass.Part = part
				p.add(w, pass, one.y, against)
			}
			against = !against
		}
	}
	p.Turns = max(0, len(p.Passes)-1)
	for lane, sections := range l.lanes {
		if len(w.barred) > 0 {
			p.Astride += total(common(anyOn(sections), w.overBarred(w.middle(l.start, lane))))
		}
	}
	if s := p.Settings; s.Speed > 0 {
		p.Seconds = (p.On+p.Off)/s.Speed + float64(p.Turns)*s.TurnTime
	}
}

// row is the passes of one lane over one part of the field, along the heading.
type row struct {
	y      float64
	passes []Pass
}

// farther reports whether the first of lanes lies farther off than the last.
func farther(y float64, lanes []row) bool {
	return math.Abs(lanes[0].y-y) > math.Abs(lanes[len(lanes)-1].y-y)
}

// order is the passes of all lanes, lane by lane for each part of the field, these in
// the order in which the lanes come to them.
func (w *work) order(l layout) (parts [][]row) {
	index := map[int]int{}
	for lane, sections := range l.lanes {
		y := w.middle(l.start, lane)
		for _, pass := range w.passes(y, sections) {
			part := w.part(orb.Point{(pass.on[0].From + pass.on[0].To) / 2, y})
			k, known := index[part]
			if !known {
				k = len(parts)
				index[part], parts = k, append(parts, nil)
			}
			if n := len(parts[k]); n == 0 || parts[k][n-1].y != y {
				parts[k] = append(parts[k], row{y: y})
			}
			last := &parts[k][len(parts[k])-1]
			last.passes = append(last.passes, pass)
		}
	}
	return parts
}

// part is the number of the part of the field that a place lies in, or nearest to.
func (w *work) part(p orb.Point) int {
	if len(w.field) == 1 {
		return 0
	}
	best, nearest := 0, math.Inf(1)
	for i, polygon := range w.field {
		one := orb.MultiPolygon{polygon}
		if geo.Contains(one, p) {
			return i
		}
		if d := geo.DistanceToEdge(one, p); d < nearest {
			best, nearest = i, d
		}
	}
	return best
}

// passes are those of one lane, along the heading. Sections that are on beside a cut
// are cut in the middle of it.
func (w *work) passes(y float64, sections []runs) (out []Pass) {
	pieces := w.pieces(y, anyOn(sections))
	from := w.reach.From
	for i, on := range pieces {
		to := w.reach.To
		if i+1 < len(pieces) {
			to = (on[len(on)-1].To + pieces[i+1][0].From) / 2
		}
		pass := Pass{on: on}
		for _, r := range sections {
			pass.Sections = append(pass.Sections, common(r.on, []geo.Span{{From: from, To: to}}))
		}
		out, from = append(out, pass), to
	}
	return out
}

// add drives one pass after those before it.
func (p *Plan) add(w *work, pass Pass, y float64, against bool) {
	pass.Number = len(p.Passes) + 1
	pass.place(w, y, against)
	if n := len(p.Passes); n > 0 {
		p.Off += apart(p.Passes[n-1].To, pass.From)
	}
	p.On += pass.On
	p.Off += pass.Off
	p.Passes = append(p.Passes, pass)
}

// place works out the ends and switches of a pass whose middle runs at a height
// y, driven along the heading or against it.
func (p *Pass) place(w *work, y float64, against bool) {
	on, way := slices.Clone(p.on), 1.0
	if against {
		way = -1
		slices.Reverse(on)
	}
	for _, span := range on {
		first, last := span.From, span.To
		if against {
			first, last = last, first
		}
		p.Switches = append(p.Switches, w.toggle(true, first, y, way), w.toggle(false, last, y, way))
		p.On += span.To - span.From
	}
	p.From, p.To = p.Switches[0].At, p.Switches[len(p.Switches)-1].At
	p.Off = apart(p.From, p.To) - p.On
	if p.Off < step {
		p.Off = 0
	}
}

func (w *work) toggle(on bool, x, y, way float64) Switch {
	return Switch{
		On:     on,
		At:     w.turned.back(orb.Point{x, y}),
		Thrown: w.turned.back(orb.Point{x - float64(way*w.set.Lead()), y}),
	}
}
