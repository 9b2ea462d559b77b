package spray

import (
	"fmt"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
)

// Cover is what the passes do to the ground: areas in m².
type Cover struct {
	Swaths      orb.MultiPolygon // all that is sprayed, with the straight edges of the sections
	Sprayed     float64          // what leaves the nozzles, overlaps counted twice
	Overlap     float64          // sprayed twice
	Treatable   float64          // spray ground that a section can pass without a keep-off
	Missed      float64          // treatable and not sprayed: 0
	Beyond      float64          // sprayed beside the spray ground
	OutOfField  float64          // of that, past the field's edge
	Untreatable []Remnant        // spray ground that no section can do, largest first
	Left        float64          // all of Untreatable and slivers too small to list
	Unsprayed   orb.MultiPolygon // the ground of Left
}

// Ratio is the sprayed area over the treatable.
func (c Cover) Ratio() float64 { return c.Sprayed / c.Treatable }

// A Remnant is a piece of spray ground that stays unsprayed.
type Remnant struct {
	Ground orb.Polygon
	Area   float64
	Point  orb.Point // a place in it
	Why    Reason
}

// Reason is why ground stays unsprayed.
type Reason int

// The reasons.
const (
	TooNarrow Reason = iota // for a section beside closed ground or an edge that must not be passed
	TooShort                // for the boom to switch
	NoWay                   // the middle of the boom would lie over barred ground all along
)

// sliver is the least remnant that is listed, m²; smaller ones are added up.
const sliver = 1.0

func newCover(g *Target, w *work, l layout) (Cover, error) {
	c := Cover{}
	turnedSwaths, sprayed, err := w.bands(l, isOn).united()
	if err != nil {
		return c, err
	}
	c.Sprayed = sprayed
	c.Swaths = mapped(turnedSwaths, w.turned.back)
	united := geo.Area(turnedSwaths)
	c.Overlap = max(0, snapped(sprayed-united))
	left, err := Less(w.spray, turnedSwaths)
	if err != nil {
		return c, err
	}
	if c.Missed, err = w.missed(left, l); err != nil {
		return c, err
	}
	c.Untreatable, c.Left = w.remnants(left, l)
	c.Unsprayed = mapped(left, w.turned.back)
	c.Treatable = geo.Area(w.spray) - c.Left + c.Missed
	c.Beyond = max(0, snapped(united-(geo.Area(w.spray)-c.Left)))
	outside, err := Less(c.Swaths, g.Field)
	if err != nil {
		return c, err
	}
	c.OutOfField = geo.Area(outside)
	return c, w.checkClosed(turnedSwaths)
}

// checkClosed fails where anything would be sprayed that must not be: a fault of
// this program, found before it does harm.
func (w *work) checkClosed(swaths orb.MultiPolygon) error {
	touched, err := Both(swaths, w.closed)
	if err != nil {
		return err
	}
	if area := geo.Area(touched); area > closedTolerance*max(1, math.Sqrt(geo.Area(swaths))) {
		return fmt.Errorf("spray: %.3g m² of keep-off ground would be sprayed", area)
	}
	return nil
}

// closedTolerance times the size of the ground is a hair along its border.
const closedTolerance = 1e-4

// snapped takes away what the noding loses along long borders.
func snapped(v float64) float64 {
	if math.Abs(v) < 0.01 {
		return 0
	}
	return v
}

// missed is the part of what is left that lies where the boom could have been
// on. It is 0 unless this program is at fault.
func (w *work) missed(left orb.MultiPolygon, l layout) (float64, error) {
	barred, _, err := w.bands(l, func(s strip, r runs) []geo.Span {
		return united(slices.Concat(without([]geo.Span{w.reach}, w.allowed(s)), r.dropped, r.cut))
	}).united()
	if err != nil {
		return 0, err
	}
	missed, err := Less(left, barred)
	return snapped(geo.Area(missed)), err
}
