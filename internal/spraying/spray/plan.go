package spray

import (
	"errors"
	"fmt"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
)

// A Plan is how the ground of one field is sprayed.
type Plan struct {
	Settings Settings // the heading filled in
	By       By       // what the heading goes by
	Heading  float64  // degrees clockwise from north, [0, 360)
	A, B     orb.Point
	Passes   []Pass
	Cover    Cover
	Turns    int
	On, Off  float64 // m driven with the boom on and off, turns as straight lines
	// Astride is how many m sections spray beside barred ground while the boom's
	// middle would lie over it: no pass leads along there, and someone must steer round.
	Astride float64
	Seconds float64 // 0 where no speed was given
}

// A Pass is one swath, or the piece of it up to ground that is not field, in the order
// in which it is driven: between its ends it leaves the field nowhere by more than
// half a metre, but where the boom sprays past the outer edge.
type Pass struct {
	Number   int
	Part     int          // of the field, in the order in which parts are driven, from 0
	From, To orb.Point    // first on and last off, on the middle of the boom
	Sections [][]geo.Span // on, metres along the heading, left of the boom's end first
	Switches []Switch     // of the boom as a whole, in driving order
	On, Off  float64      // m between first on and last off
	on       []geo.Span
}

// A Switch is where the boom goes on or off.
type Switch struct {
	On     bool
	At     orb.Point // where the spray begins or ends
	Thrown orb.Point // where to throw the switch: earlier by lag × speed
}

// ErrNothing tells that no ground is left to spray.
var ErrNothing = errors.New("no ground is left to spray")

// NewPlan lays passes over the ground.
func NewPlan(g *Target, s Settings) (*Plan, error) {
	if err := s.Validate(); err != nil {
		return nil, fmt.Errorf("spray: %w", err)
	}
	if len(g.Spray) == 0 {
		return nil, ErrNothing
	}
	p := &Plan{Settings: s}
	var err error
	if p.By, p.Heading, err = headingOf(g, s); err != nil {
		return nil, err
	}
	p.Settings.Heading = &p.Heading
	w, err := newWork(g, s, p.Heading)
	if err != nil {
		return nil, err
	}
	l := w.lay()
	p.A, p.B = w.line(l.start)
	p.drive(w, l)
	p.Cover, err = newCover(g, w, l)
	return p, err
}

// layout is where each section of each lane is on.
type layout struct {
	start float64
	lanes [][]runs
}

func (w *work) lay() layout {
	l := layout{start: w.start()}
	for lane := range w.lanes() {
		sections := make([]runs, w.set.sections())
		for section := range sections {
			sections[section] = w.runs(w.strip(l.start, lane, section))
		}
		w.keepDrivable(w.middle(l.start, lane), sections)
		l.lanes = append(l.lanes, sections)
	}
	return l
}

// line is the A–B line: the middle of the first lane, past the whole ground.
func (w *work) line(start float64) (a, b orb.Point) {
	y := w.middle(start, 0)
	return w.turned.back(orb.Point{w.reach.From, y}), w.turned.back(orb.Point{w.reach.To, y})
}
