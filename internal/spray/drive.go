package spray

import (
	"math"
	"slices"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
)

// drive puts the lanes into their order, to and fro, and adds up the way: along
// a lane from the first on to the last off, then straight to the next.
func (p *Plan) drive(w *work, l layout) {
	for lane, sections := range l.lanes {
		pass, ok := newPass(sections)
		if !ok {
			continue
		}
		pass.Number, pass.lane = len(p.Passes)+1, lane
		y := l.start + float64((float64(lane)+0.5)*w.set.Swath)
		pass.place(w, y, len(p.Passes)%2 == 1)
		if n := len(p.Passes); n > 0 {
			last := p.Passes[n-1].To
			p.Off += math.Hypot(pass.From[0]-last[0], pass.From[1]-last[1])
		}
		p.On += pass.On
		p.Off += pass.Off
		p.Passes = append(p.Passes, pass)
	}
	p.Turns = max(0, len(p.Passes)-1)
	if s := p.Settings; s.Speed > 0 {
		p.Seconds = (p.On+p.Off)/s.Speed + float64(p.Turns)*s.TurnTime
	}
}

func newPass(sections []runs) (Pass, bool) {
	var p Pass
	any := false
	for _, r := range sections {
		p.Sections = append(p.Sections, r.on)
		any = any || len(r.on) > 0
	}
	return p, any
}

// place works out the ends and switches of a pass whose middle runs at a height
// y, driven along the heading or against it.
func (p *Pass) place(w *work, y float64, against bool) {
	var all []geo.Span
	for _, spans := range p.Sections {
		all = append(all, spans...)
	}
	on := united(all)
	way := 1.0
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
	p.Off = math.Hypot(p.To[0]-p.From[0], p.To[1]-p.From[1]) - p.On
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
