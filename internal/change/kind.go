package change

import (
	"fmt"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/zones"
)

// A Kind says what became of treat ground between two visits. The zero value is
// ground that was treat at neither.
type Kind int

const (
	Never  Kind = iota
	New         // treat now, in a patch that no former patch touches
	Grown       // treat now, in a patch that goes on from a former one
	Held        // treat at both
	Shrunk      // no longer treat, of a patch that goes on
	Gone        // no longer treat, of a patch that is no more
)

// Kinds are the kinds of treat ground, in the order of danger.
func Kinds() []Kind { return []Kind{New, Grown, Held, Shrunk, Gone} }

// String is the word used on maps and in files.
func (k Kind) String() string {
	switch k {
	case Never:
		return "never treat"
	case New:
		return "new"
	case Grown:
		return "grown"
	case Held:
		return "held"
	case Shrunk:
		return "shrunk"
	case Gone:
		return "gone"
	}
	return fmt.Sprintf("kind %d", int(k))
}

// Area adds up, in m², the ground of a kind.
func (o *Overlay) Area(k Kind) (sum float64) {
	kinds := o.kinds()
	for i, p := range o.pieces {
		if kinds[i] == k && p.from != zones.NoData {
			sum += p.area
		}
	}
	return sum
}

// kinds is the kind of every piece.
func (o *Overlay) kinds() []Kind {
	links := linked(o.overlaps(), areasOf(o.Earlier), areasOf(o.Later))
	goesOn, comesFrom := map[int]bool{}, map[int]bool{}
	for _, l := range links {
		goesOn[l.from], comesFrom[l.to] = true, true
	}
	kinds := make([]Kind, len(o.pieces))
	for i, p := range o.pieces {
		switch {
		case p.fromPatch >= 0 && p.toPatch >= 0:
			kinds[i] = Held
		case p.toPatch >= 0 && comesFrom[p.toPatch]:
			kinds[i] = Grown
		case p.toPatch >= 0:
			kinds[i] = New
		case p.fromPatch >= 0 && goesOn[p.fromPatch]:
			kinds[i] = Shrunk
		case p.fromPatch >= 0:
			kinds[i] = Gone
		}
	}
	return kinds
}

// Ground returns the ground of each kind in degrees with seven decimals. Kinds
// that do not occur, or vanish under rounding, are not in it.
func (o *Overlay) Ground(frame geo.Frame) map[Kind]orb.MultiPolygon {
	labels := make([]int, len(o.pieces))
	for i, k := range o.kinds() {
		labels[i] = int(k) // Never is Void
	}
	ground := zones.InDegrees(o.arrangement.Dissolve(labels), frame)
	out := map[Kind]orb.MultiPolygon{}
	for _, k := range Kinds() {
		if mp := ground(int(k)); len(mp) > 0 {
			out[k] = mp
		}
	}
	return out
}
