package plan

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
)

// Settings say what is wanted. Zero fields mean the defaults.
type Settings struct {
	Stops   int              // required
	Inside  float64          // metres from the edge; 7.62, 25 ft (Texas A&M AgriLife; Alabama 2015), less in a field that has no such inside
	Edge    int              // further stops along the edge
	KeepOff orb.MultiPolygon // ground in degrees where nobody may stop
	// Heading lays the stops in rows along this direction, degrees from north
	// clockwise; nil lays them freely.
	Heading *float64
	// Spread lays the stops so that any number of the first ones is spread over the
	// field, and walks them in that order: the way is longer, and may end early.
	Spread  bool
	Start   *orb.Point // where the walk begins, in degrees; nil begins anywhere
	OneWay  bool       // the walk ends at its last stop; else it comes back
	Speed   float64    // metres per second between stops; 1.1 (common practice, no source)
	Minutes float64    // at a stop; 5 (common practice, no source)
	Seed    uint64
}

const (
	insideEdge = 25 * geo.MetresPerFoot
	edgeInside = 3.0 // metres inside the boundary at which edge stops stand: our choice
	walkSpeed  = 1.1
	stopTime   = 5.0
	mostStops  = 2000
)

func (s Settings) withDefaults() Settings {
	if s.Inside == 0 {
		s.Inside = insideEdge
	}
	if s.Speed == 0 {
		s.Speed = walkSpeed
	}
	if s.Minutes == 0 {
		s.Minutes = stopTime
	}
	return s
}

// Validate says what is wrong with settings.
func (s Settings) Validate() error {
	s = s.withDefaults()
	finite := func(v float64) bool { return v >= 0 && !math.IsInf(v, 0) }
	switch {
	case s.Stops < 1 || s.Stops > mostStops:
		return fmt.Errorf("%d stops: want 1 to %d", s.Stops, mostStops)
	case s.Edge < 0 || s.Edge > mostStops:
		return fmt.Errorf("%d stops along the edge: want 0 to %d", s.Edge, mostStops)
	case !finite(s.Inside):
		return fmt.Errorf("%v m inside the edge: want 0 or more", s.Inside)
	case !finite(s.Speed):
		return fmt.Errorf("a speed of %v m/s: want a number above 0", s.Speed)
	case !finite(s.Minutes):
		return fmt.Errorf("%v minutes at a stop: want 0 or more", s.Minutes)
	case s.Spread && s.Heading != nil:
		return fmt.Errorf("stops in rows along a heading are walked row by row: give a heading or the spread order")
	case s.Heading != nil && !(math.Abs(*s.Heading) <= 360):
		return fmt.Errorf("a heading of %v: want degrees from north, -360 to 360", *s.Heading)
	}
	return nil
}

// A Stop is a place to count.
type Stop struct {
	Name   string    // "1", "2" … in walking order; "E1" … along the edge
	Lonlat orb.Point // degrees
	Edge   bool      // along the edge: not to be averaged with the others
	Extra  bool      // where more was to be learnt, as along the edge: the mean is of the others
	Leg    float64   // metres from the stop before, or from the start
	Gain   float64   // m² it is expected to bring to the right zone; see After
}

// A Plan is stops in walking order.
type Plan struct {
	Field    geo.Field
	Settings Settings // with defaults filled in
	Stops    []Stop
	Distance float64 // metres as the crow flies, the way back included unless one way
	Minutes  float64 // walking and counting
	// Reach is the mean distance, in metres, from a place in the field to the
	// nearest stop that is not along the edge.
	Reach float64
	// OffField is the number of legs that leave the field or cross ground to be
	// kept off: the true way is longer there.
	OffField int
}

// Make plans the walk of a field. A field without enough ground inside its edge
// is an error that says how much there is.
func Make(field geo.Field, set Settings) (Plan, error) {
	if err := set.Validate(); err != nil {
		return Plan{}, err
	}
	set = set.withDefaults()
	frame, err := geo.FrameOf(field.Boundary)
	if err != nil {
		return Plan{}, err
	}
	g, err := newGround(frame.ForwardPolygons(field.Boundary), frame.ForwardPolygons(set.KeepOff), set)
	if err != nil {
		return Plan{}, fmt.Errorf("field %s: %w", field.Name, err)
	}
	places, err := g.places(set)
	if err != nil {
		return Plan{}, fmt.Errorf("field %s: %w", field.Name, err)
	}
	edge, err := g.alongEdge(set.Edge)
	if err != nil {
		return Plan{}, fmt.Errorf("field %s: %w", field.Name, err)
	}
	w := walk{points: append(append([]orb.Point(nil), places...), edge...), oneWay: set.OneWay, seed: set.Seed}
	if set.Start != nil {
		start := frame.Forward(*set.Start)
		w.start = &start
	}
	set.Inside = g.inside
	p := Plan{Field: field, Settings: set, Reach: g.reach(places)}
	order := set.orderOf(w)
	p.lay(w, order, len(places))
	for i := range p.Stops {
		p.Stops[i].Lonlat = frame.Inverse(p.Stops[i].Lonlat)
	}
	p.OffField = g.legsOff(w, order)
	p.Minutes = p.Distance/set.Speed/60 + set.Minutes*float64(len(p.Stops))
	return p, nil
}

// places are where the stops are.
func (g *ground) places(set Settings) ([]orb.Point, error) {
	if !set.Spread {
		return g.cover(set), nil
	}
	places := g.balanced(set.Stops, set.Seed)
	if len(places) < set.Stops {
		return nil, fmt.Errorf("room for %d stops in spread order where %d are wanted; ask for fewer", len(places), set.Stops)
	}
	return places, nil
}

// orderOf is the order in which the points are walked.
func (s Settings) orderOf(w walk) []int {
	if !s.Spread {
		return w.order()
	}
	order := make([]int, len(w.points))
	for i := range order {
		order[i] = i
	}
	return order
}

// lay puts the points into the plan in walking order, still in metres; those
// from inside on are along the edge.
func (p *Plan) lay(w walk, order []int, inside int) {
	last := w.start
	names := [2]int{}
	for _, at := range order {
		s := Stop{Lonlat: w.points[at], Edge: at >= inside, Extra: at >= inside}
		if last != nil {
			s.Leg = distance(*last, s.Lonlat)
		}
		p.Distance += s.Leg
		if s.Edge {
			names[1]++
			s.Name = fmt.Sprintf("E%d", names[1])
		} else {
			names[0]++
			s.Name = fmt.Sprint(names[0])
		}
		p.Stops = append(p.Stops, s)
		last = &w.points[at]
	}
	if back := w.back(order); back != nil {
		p.Distance += distance(*last, *back)
	}
}

func distance(a, b orb.Point) float64 {
	dx, dy := a[0]-b[0], a[1]-b[1]
	return math.Sqrt(float64(dx*dx) + float64(dy*dy))
}

// StartAt sets where the walk begins, in degrees.
func (s *Settings) StartAt(lonlat [2]float64) {
	p := orb.Point(lonlat)
	s.Start = &p
}
