package spray

import (
	"slices"

	"github.com/geocoris/geocoris/geo"
)

// runs are where one section is on, and what it had to let be because the boom
// cannot switch so fast between keep-offs.
type runs struct {
	on      []geo.Span
	dropped []geo.Span
	cut     []geo.Span // what no pass can lead along, see [work.drivable]
}

// runs turns what a strip needs into what the boom can do: gaps up to the bridge
// stay on, runs below the shortest are lengthened on both sides, all of it within
// what is allowed.
func (w *work) runs(s strip) runs {
	need := w.needed(s)
	if len(need) == 0 {
		return runs{}
	}
	var r runs
	var field []geo.Span
	if w.set.Bridge > 0 {
		field = s.inner().touched(w.field)
	}
	for _, free := range w.allowed(s) {
		on := bridged(common(need, []geo.Span{free}), w.set.Bridge, field)
		for _, run := range on {
			long, ok := lengthened(run, free, w.set.Shortest())
			if !ok {
				r.dropped = append(r.dropped, run)
				continue
			}
			r.on = append(r.on, long)
		}
	}
	r.on = united(r.on)
	return r
}

// bridged joins spans with gaps up to a length that lie within one span of others.
func bridged(spans []geo.Span, gap float64, within []geo.Span) []geo.Span {
	var out []geo.Span
	for _, s := range spans {
		if n := len(out); n > 0 {
			between := geo.Span{From: out[n-1].To, To: s.From}
			if length := between.To - between.From; length <= hair || length <= gap+hair && holds(within, between) {
				out[n-1].To = s.To
				continue
			}
		}
		out = append(out, s)
	}
	return out
}

// holds reports whether a span lies within one of others, to a step of the lattice.
func holds(spans []geo.Span, s geo.Span) bool {
	return slices.ContainsFunc(spans, func(one geo.Span) bool { return one.From-step <= s.From && s.To <= one.To+step })
}

// lengthened brings a run to a length within what is free round it; ok is false
// where that has no room for it.
func lengthened(run, free geo.Span, length float64) (geo.Span, bool) {
	short := length - (run.To - run.From)
	if short <= 0 {
		return run, true
	}
	if free.To-free.From < length {
		return run, false
	}
	from := min(max(run.From-short/2, free.From), free.To-length)
	return geo.Span{From: from, To: from + length}, true
}
