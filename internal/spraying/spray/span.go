package spray

import (
	"math"
	"slices"

	"github.com/geocoris/geocoris/geo"
)

// Lists of spans are sorted and apart from one another. The functions here keep
// them so, and do not change what they are given.

// united sorts spans and joins those that touch or overlap.
func united(spans []geo.Span) []geo.Span {
	sorted := slices.Clone(spans)
	slices.SortFunc(sorted, func(a, b geo.Span) int {
		switch {
		case a.From < b.From:
			return -1
		case a.From > b.From:
			return 1
		}
		return 0
	})
	var out []geo.Span
	for _, s := range sorted {
		if n := len(out); n > 0 && s.From <= out[n-1].To {
			out[n-1].To = max(out[n-1].To, s.To)
			continue
		}
		out = append(out, s)
	}
	return out
}

// without takes b out of a. What is left has length.
func without(a, b []geo.Span) []geo.Span {
	var out []geo.Span
	for _, s := range a {
		for _, cut := range b {
			if cut.To <= s.From || cut.From >= s.To {
				continue
			}
			if cut.From > s.From {
				out = append(out, geo.Span{From: s.From, To: cut.From})
			}
			s.From = cut.To
			if s.From >= s.To {
				break
			}
		}
		if s.From < s.To {
			out = append(out, s)
		}
	}
	return out
}

// total is the length of all spans together.
func total(spans []geo.Span) (sum float64) {
	for _, s := range spans {
		sum += s.To - s.From
	}
	return sum
}

// widened moves both ends outwards to whole steps of the lattice.
func widened(spans []geo.Span) []geo.Span {
	out := make([]geo.Span, len(spans))
	for i, s := range spans {
		out[i] = geo.Span{From: math.Floor(s.From/step) * step, To: math.Ceil(s.To/step) * step}
	}
	return united(out)
}

// step is the lattice along a pass on which the boom is switched: a millimetre,
// far below what any valve can do, so that ends that mean the same are the same.
const step = 0.001
