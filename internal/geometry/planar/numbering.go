package planar

import (
	"math"
	"math/bits"

	"github.com/paulmach/orb"
)

// numbering numbers places from 0 on in the order in which they are first asked for. A map of
// their bits takes six times as long (400,000 places, each asked for three times).
type numbering struct {
	at    []orb.Point
	slots []int32 // the number and 1 of a place, in the first free one from its own on; 0 is free
	shift int
}

// newNumbering is for so many places at the most.
func newNumbering(most int) *numbering {
	width := bits.Len(uint(most)) + 1 // a quarter of the slots is taken, or half at the most
	return &numbering{make([]orb.Point, 0, most/2), make([]int32, 1<<width), 64 - width}
}

// of is the number of a place of finite coordinates; −0 and 0 are one.
func (n *numbering) of(p orb.Point) int {
	// Fibonacci hashing (Knuth 1998, The Art of Computer Programming 3, 6.4) of both
	// coordinates; those on a lattice differ in few bits in the middle.
	const golden, other = 0x9e3779b97f4a7c15, 0xd6e8feb86659fd93
	h := (math.Float64bits(p[0]+0) ^ bits.RotateLeft64(math.Float64bits(p[1]+0)*other, 32)) * golden
	h = (h ^ h>>32) * golden
	for slot := int(h >> n.shift); ; slot = (slot + 1) & (len(n.slots) - 1) {
		switch k := n.slots[slot]; {
		case k == 0:
			n.at = append(n.at, p)
			n.slots[slot] = int32(len(n.at))
			return len(n.at) - 1
		case n.at[k-1] == p:
			return int(k - 1)
		}
	}
}
