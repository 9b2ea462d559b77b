package planar

import (
	"math"

	"github.com/paulmach/orb"
)

// Absorb gives faces that are thinner than thin, by their area over half their border, the
// label of the neighbour with which they share the longest border: what lies between two
// lines that were one, and were rounded apart. The labels it was given stay as they were.
func (a *Arrangement) Absorb(labels []int, thin float64) []int {
	out := append([]int(nil), labels...)
	shared := a.borders()
	slim := make([]bool, len(a.Faces))
	for i, f := range a.Faces {
		border := 0.0
		for _, l := range shared[i] {
			border += l.length
		}
		slim[i] = f.Area < thin*border/2
	}
	for again := true; again; {
		again = false
		for i := range a.Faces {
			if !slim[i] {
				continue
			}
			best, longest := 0, -1.0
			for _, l := range shared[i] {
				if (l.face == Outside || !slim[l.face]) && l.length > longest {
					best, longest = l.face, l.length
				}
			}
			if longest < 0 {
				continue // all around it are thin themselves
			}
			out[i] = Void
			if best != Outside {
				out[i] = out[best]
			}
			slim[i], again = false, true
		}
	}
	return out
}

// border is what a face shares with another one.
type border struct {
	face   int
	length float64
}

// borders are those of each face, in the order of the arcs.
func (a *Arrangement) borders() [][]border {
	out := make([][]border, len(a.Faces))
	add := func(of, with int, length float64) {
		if of == Outside {
			return
		}
		for i := range out[of] {
			if out[of][i].face == with {
				out[of][i].length += length
				return
			}
		}
		out[of] = append(out[of], border{with, length})
	}
	for i, arc := range a.graph.arcs {
		l := lengthOf(arc)
		add(a.left[2*i], a.left[2*i+1], l)
		add(a.left[2*i+1], a.left[2*i], l)
	}
	return out
}

func lengthOf(line orb.LineString) (sum float64) {
	for i := 1; i < len(line); i++ {
		sum += math.Hypot(line[i][0]-line[i-1][0], line[i][1]-line[i-1][1])
	}
	return sum
}
