package boundary

import (
	"slices"

	"github.com/paulmach/orb"
)

// aloneFrom is how long in metres a line is from which, coming back to where it began, it
// is an outline of its own: a track that was begun anew while nobody walked is shorter.
// Judgement, no source.
const aloneFrom = 10 * gap

// mostJoined bounds how many parts of one feature are joined: the work grows with their
// square. Judgement, no source.
const mostJoined = 200

// joined puts the parts of a line together where their ends meet, to the gap that a walked
// outline may have, the nearest ends first in the order of the parts. Parts that close by
// themselves stay as they are, and so do all where there are too many.
func joined(lines orb.MultiLineString) (out orb.MultiLineString) {
	var open orb.MultiLineString
	for _, line := range lines {
		switch {
		case len(line) == 0:
		case closesAlone(line):
			out = append(out, line)
		default:
			open = append(open, line)
		}
	}
	if len(open) > mostJoined {
		return append(out, open...)
	}
	for len(open) > 0 {
		chain := slices.Clone(open[0])
		open = slices.Delete(slices.Clone(open), 0, 1)
		for len(open) > 0 && !closesAlone(chain) {
			at, reversed, fits := nearest(chain, open)
			if !fits {
				chain = backward(chain) // its other end
				if at, reversed, fits = nearest(chain, open); !fits {
					chain = backward(chain)
					break
				}
			}
			next := open[at]
			if reversed {
				next = backward(next)
			}
			chain = append(chain, next...)
			open = slices.Delete(open, at, at+1)
		}
		out = append(out, chain)
	}
	return out
}

func closesAlone(line orb.LineString) bool {
	ring, apart := closedLine(line)
	return ring != nil && (apart == 0 || lengthOf(line) >= aloneFrom)
}

func lengthOf(line orb.LineString) (sum float64) {
	for i := 1; i < len(line); i++ {
		sum += between(line[i-1], line[i])
	}
	return sum
}

// nearest finds the part one of whose ends is nearest to the end of a chain, within the
// gap; reversed tells that it is the part's own end.
func nearest(chain orb.LineString, parts orb.MultiLineString) (at int, reversed, fits bool) {
	end, best := chain[len(chain)-1], float64(gap)
	for i, part := range parts {
		for _, last := range [...]bool{false, true} {
			from := part[0]
			if last {
				from = part[len(part)-1]
			}
			if d := between(end, from); d < best || d <= best && !fits {
				at, reversed, fits, best = i, last, true, d
			}
		}
	}
	return at, reversed, fits
}

func backward(line orb.LineString) orb.LineString {
	out := slices.Clone(line)
	slices.Reverse(out)
	return out
}
