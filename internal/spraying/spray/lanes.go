package spray

import (
	"math"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/geometry/planar"
)

// work is the ground in the plane turned to the heading.
type work struct {
	set    Settings
	turned turned
	spray  orb.MultiPolygon
	closed orb.MultiPolygon
	barred orb.MultiPolygon
	field  orb.MultiPolygon
	open   orb.MultiPolygon // where spray may fall; nil for anywhere
	reach  geo.Span         // along the passes, with room to lengthen runs
	low    float64          // of the spray ground across the passes
	high   float64

	sprayBands, closedBands, barredBands *banded
}

func newWork(g *Target, s Settings, heading float64) (*work, error) {
	w := &work{set: s, turned: along(heading)}
	w.spray, w.closed = mapped(g.Spray, w.turned.into), mapped(g.Closed, w.turned.into)
	w.barred, w.field = mapped(g.Barred, w.turned.into), mapped(g.Field, w.turned.into)
	w.sprayBands, w.closedBands, w.barredBands = newBanded(w.spray), newBanded(w.closed), newBanded(w.barred)
	if s.Overrun != nil {
		open, err := planar.Grow(g.Field, *s.Overrun)
		if err != nil {
			return nil, err
		}
		w.open = mapped(open, w.turned.into)
	}
	box := geo.Bound(w.spray)
	clearance := s.Shortest() + 1
	w.reach = geo.Span{From: math.Floor(box.Min[0] - clearance), To: math.Ceil(box.Max[0] + clearance)}
	w.low, w.high = box.Min[1], box.Max[1]
	return w, nil
}

// lanes is how many swaths side by side cover the ground from edge to edge.
func (w *work) lanes() int {
	return max(1, int(math.Ceil((w.high-w.low-hair)/w.set.Swath)))
}

// strip is the ground below one section of a lane, counted from start.
func (w *work) strip(start float64, lane, section int) strip {
	width := w.set.section()
	// From one expression for both, so that neighbours share the line to the bit.
	line := func(k int) float64 { return start + float64(float64(k)*width) }
	k := lane*w.set.sections() + section
	return strip{line(k), line(k + 1), w.middle(start, lane)}
}

// needed is where spray ground lies in a strip.
func (w *work) needed(s strip) []geo.Span {
	s = s.inner()
	return widened(s.touched(w.sprayBands.between(s.low, s.high)))
}

// overBarred is where a line along the passes lies over barred ground.
func (w *work) overBarred(y float64) []geo.Span {
	return geo.InsideSpans(w.barredBands.between(y, y), y)
}

// allowed is where a strip may be on.
func (w *work) allowed(s strip) []geo.Span {
	s = s.inner()
	free := []geo.Span{w.reach}
	if w.open != nil {
		free = s.filled(w.open, w.reach)
	}
	return without(without(free, widened(s.touched(w.closedBands.between(s.low, s.high)))), w.noWay(s.middle))
}

// noWay is where, along a lane whose middle runs at y, the middle of the boom lies
// over barred ground and no boom that is turned round its end, half a swath long,
// could spray beside it.
func (w *work) noWay(y float64) (out []geo.Span) {
	if len(w.barred) == 0 {
		return nil
	}
	for _, bar := range w.overBarred(y) {
		if half := w.set.Swath / 2; bar.To-bar.From > w.set.Swath {
			out = append(out, geo.Span{From: bar.From + half, To: bar.To - half})
		}
	}
	return out
}

// start finds where, across the passes, the first lane begins. Lanes of fixed
// width leave slack between the ground's edge and theirs; of nine places in it
// that is taken which leaves least ground beside the strips, then which sprays
// least.
func (w *work) start() float64 {
	const places = 8
	slack := max(0, float64(float64(w.lanes())*w.set.Swath)-(w.high-w.low))
	best, bestLost, bestOn := w.low, math.Inf(1), math.Inf(1)
	for k := range places + 1 {
		start := w.low - slack*float64(k)/places
		lost, on := w.try(start)
		if lost < bestLost-hair || lost < bestLost+hair && on < bestOn-hair {
			best, bestLost, bestOn = start, lost, on
		}
		if slack < hair {
			break
		}
	}
	return best
}

// try returns the lengths, over all strips, that need spray and cannot have it,
// and that get it.
func (w *work) try(start float64) (lost, on float64) {
	for lane := range w.lanes() {
		for section := range w.set.sections() {
			s := w.strip(start, lane, section)
			need := w.needed(s)
			if len(need) == 0 {
				continue
			}
			got := common(need, w.allowed(s))
			lost += total(need) - total(got)
			on += total(got)
		}
	}
	return lost, on
}

// common is what lies in both.
func common(a, b []geo.Span) []geo.Span { return without(a, without(a, b)) }
