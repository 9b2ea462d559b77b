package change

import (
	"fmt"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/geometry/zones"
)

// A Kind says what became of treat ground between two visits. The zero value is
// ground that was treat at neither.
type Kind int

const (
	Never   Kind = iota
	New          // treat now, in a patch that no former patch touches
	Grown        // treat now, in a patch that goes on from a former one
	Held         // treat at both
	NotSeen      // treat before, and no later stop was near it
	Shrunk       // no longer treat, of a patch that goes on
	Gone         // no longer treat, of a patch that is no more
)

// Kinds are the kinds of treat ground, in the order of danger.
func Kinds() []Kind { return []Kind{New, Grown, Held, NotSeen, Shrunk, Gone} }

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
	case NotSeen:
		return "not looked at again"
	case Shrunk:
		return "shrunk"
	case Gone:
		return "gone"
	}
	return fmt.Sprintf("kind %d", int(k))
}

// A Lot is treat ground of a kind, treated between the visits or not.
type Lot struct {
	Kind    Kind
	Treated bool
}

// Lots are all of them, in the order of their kinds, what was not treated first.
func Lots() (out []Lot) {
	for _, k := range Kinds() {
		out = append(out, Lot{k, false}, Lot{k, true})
	}
	return out
}

// number tells lots apart; 0 is ground that was treat at neither visit.
func (l Lot) number() int {
	if l.Kind == Never {
		return 0
	}
	n := 2*int(l.Kind) - 1
	if l.Treated {
		n++
	}
	return n
}

// Area adds up, in m², the ground of a kind, treated or not.
func (o *Overlay) Area(k Kind) float64 {
	return o.AreaOf(Lot{k, false}) + o.AreaOf(Lot{k, true})
}

// AreaOf adds up, in m², the ground of a lot.
func (o *Overlay) AreaOf(lot Lot) (sum float64) {
	kinds := o.kinds()
	for i, p := range o.pieces {
		if (Lot{kinds[i], p.treated}) == lot && p.from != zones.NoData {
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
		case p.fromPatch >= 0 && p.unseen:
			kinds[i] = NotSeen
		case p.fromPatch >= 0 && goesOn[p.fromPatch]:
			kinds[i] = Shrunk
		case p.fromPatch >= 0:
			kinds[i] = Gone
		}
	}
	return kinds
}

// Ground returns the ground of each lot in degrees with seven decimals. Lots that do
// not occur, or vanish under rounding, are not in it.
func (o *Overlay) Ground(frame geo.Frame) map[Lot]orb.MultiPolygon {
	labels := make([]int, len(o.pieces))
	for i, k := range o.kinds() {
		labels[i] = Lot{k, o.pieces[i].treated}.number() // Never is Void
	}
	ground := zones.InDegrees(o.arrangement.Dissolve(labels), frame)
	out := map[Lot]orb.MultiPolygon{}
	for _, lot := range Lots() {
		if mp := ground(lot.number()); len(mp) > 0 {
			out[lot] = mp
		}
	}
	return out
}
