package spray

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/geometry/planar"
)

// bands are strips side by side, low to high, with spans marked on each.
type bands struct {
	strips []strip
	spans  [][]geo.Span
}

// united unites the rectangles of all spans and adds up their areas. Only edges
// with a span on one side are drawn, so that the noding has no doubled lines.
func (b bands) united() (orb.MultiPolygon, float64, error) {
	var lines []orb.LineString
	var below []geo.Span
	var sum float64
	level := func(y float64, spans []geo.Span) {
		for _, run := range spans {
			lines = append(lines, orb.LineString{{run.From, y}, {run.To, y}})
		}
	}
	for i, s := range b.strips {
		on := b.spans[i]
		level(s.low, append(without(on, below), without(below, on)...))
		for _, run := range on {
			lines = append(lines, orb.LineString{{run.From, s.low}, {run.From, s.high}}, orb.LineString{{run.To, s.low}, {run.To, s.high}})
			sum += (run.To - run.From) * (s.high - s.low)
		}
		below = on
	}
	level(b.strips[len(b.strips)-1].high, below)
	a, err := planar.Arrange(lines)
	if err != nil {
		return nil, 0, err
	}
	labels := make([]int, len(a.Faces))
	for i, face := range a.Faces {
		if b.holds(face.Point) {
			labels[i] = 1
		}
	}
	mp := a.Dissolve(labels).Polygons(1)
	if area := geo.Area(mp); math.Abs(area-sum) > 1e-6*max(1, sum) {
		return nil, 0, fmt.Errorf("spray: swaths of %.9g m² where their rectangles have %.9g m²", area, sum)
	}
	return mp, sum, nil
}

// holds reports whether a place lies in a span.
func (b bands) holds(p orb.Point) bool {
	width := b.strips[0].high - b.strips[0].low
	i := int(math.Floor((p[1] - b.strips[0].low) / width))
	for k := max(0, i-1); k <= min(len(b.strips)-1, i+1); k++ {
		if s := b.strips[k]; p[1] < s.low || p[1] >= s.high {
			continue
		}
		for _, span := range b.spans[k] {
			if span.From <= p[0] && p[0] <= span.To {
				return true
			}
		}
	}
	return false
}

// bands marks something on each strip of a layout.
func (w *work) bands(l layout, of func(strip, runs) []geo.Span) bands {
	var b bands
	for lane, sections := range l.lanes {
		for section, r := range sections {
			s := w.strip(l.start, lane, section)
			b.strips = append(b.strips, s)
			b.spans = append(b.spans, of(s, r))
		}
	}
	return b
}

func isOn(_ strip, r runs) []geo.Span      { return r.on }
func isDropped(_ strip, r runs) []geo.Span { return r.dropped }

// isCut is where no pass can lead, and what that took off the boom.
func (w *work) isCut(s strip, r runs) []geo.Span { return united(append(w.noWay(s.middle), r.cut...)) }
