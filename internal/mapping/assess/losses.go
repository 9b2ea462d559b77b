package assess

import (
	"math"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/internal/geometry/zones"
	"github.com/geocoris/geocoris/internal/mapping/decision"
	"github.com/geocoris/geocoris/internal/shares"
	"github.com/geocoris/geocoris/interp"
)

// Nodes by which losses are summed up: over a field, and over its treat zone, which may
// be small; fewer where no model of chance tells them apart.
const (
	lossNodes, zoneNodes           = 900, 300
	plainLossNodes, plainZoneNodes = 200, 100
)

// losses is what a field's expected losses go by.
type losses struct {
	places []decision.Place // as yet without their losses
	values []float64        // of the counts' surface there; nil where there is a model
	model  *interp.Chances  // nil where the stops do not bear one
	scale  float64          // values of the statistic per mean of the model
	stat   Statistic
	grown  float64          // by what densities grow until the spray
	level  float64          // the treat level
	now    []decision.Place // with their losses at that level
}

// lossesOf lays out places over a field whose zones are cut, of which choices are about one.
func (s site) lossesOf(f *Field, treat zones.Zone, surface interp.Grid, m chanceMap, j job) *losses {
	l := &losses{scale: 1, stat: j.set.Statistic, grown: f.grown(j)}
	all, inZone := plainLossNodes, plainZoneNodes
	if m.model != nil {
		l.model, l.scale = m.model, m.scale
		all, inZone = lossNodes, zoneNodes
	}
	known := l.lay(s.xy, treat.Polygons, f.Area-treat.Area, surface, thinnedTo(surface.Len(), all), false, m)
	nodes := treat.Area / (surface.Cell * surface.Cell)
	known = append(known, l.lay(treat.Polygons, nil, treat.Area, surface, thinnedTo(int(nodes), inZone), true, m)...)
	l.level = j.levels.TreatAt
	l.now = l.at(l.level, known)
	return l
}

// grown is by what densities grow until the spray.
func (f *Field) grown(j job) float64 {
	if d := j.doubling; d > 0 && j.set.Statistic.Tally == 0 {
		return math.Exp2(f.Settings.Growth.Days / d)
	}
	return 1
}

// lay puts places on the nodes of a lattice inside some ground, less other, and shares
// out its area among them: every node where so many as step asks for are too few to
// find any. Ground smaller than a cell may have none, and then weighs nothing. It returns
// what is known of each place.
func (l *losses) lay(ground, less orb.MultiPolygon, area float64, surface interp.Grid, step int, treat bool, m chanceMap) (known []*lost) {
	from := len(l.places)
	lattice := surface.Lattice
	lattice.Cell *= float64(step)
	lattice.Cols, lattice.Rows = (lattice.Cols-1)/step+1, (lattice.Rows-1)/step+1
	in, out := insideOf(ground, lattice), insideOf(less, lattice)
	for i, there := range in.nodes {
		if !there || out.nodes[i] {
			continue
		}
		col, row := i%lattice.Cols, i/lattice.Cols
		x, y := lattice.Node(col, row)
		l.places = append(l.places, decision.Place{X: x, Y: y, Treat: treat})
		if l.model == nil {
			l.values = append(l.values, surface.At(col*step, row*step))
		}
		known = append(known, m.lostAt(lattice, i))
	}
	if len(l.places) == from && step > 1 {
		return l.lay(ground, less, area, surface, 1, treat, m)
	}
	for i := range l.places[from:] {
		l.places[from+i].Area = area / float64(len(l.places)-from)
	}
	return known
}

// thinnedTo is the step over a lattice by which about so many of its nodes are left.
func thinnedTo(nodes, most int) int {
	return max(1, int(math.Ceil(math.Sqrt(float64(nodes)/float64(most)))))
}

// Losses are the places of a field with what leaving each is expected to cost, level
// being the density at which a treatment pays when it is sprayed, above 0: by the model
// of chance, or where the stops do not bear one by the surface through the counts. They
// are the field's own, not to be changed.
func (f *Field) Losses(level float64) []decision.Place {
	if f.losses == nil {
		return nil
	}
	if level == f.losses.level {
		return f.losses.now
	}
	return f.losses.at(level, make([]*lost, len(f.losses.places)))
}

// at are the places with their losses, some of which may be known.
func (l *losses) at(level float64, known []*lost) []decision.Place {
	all := make([]decision.Place, len(l.places))
	for i, lost := range l.lost(level/(l.scale*l.grown), known) {
		if !math.IsNaN(lost.loss) { // nobody has been near
			all[i] = l.places[i]
			all[i].Loss, all[i].Capped = lost.loss, lost.capped
		}
	}
	return all
}

// lost is what leaving a place is expected to cost, in treatments: [decision.Most] at most,
// and 1 at most.
type lost struct{ loss, capped float64 }

// lost is that of each place, level being in the unit of the model or the surface.
func (l *losses) lost(level float64, known []*lost) []lost {
	all := make([]lost, len(l.places))
	if l.model == nil {
		for i, v := range l.values {
			all[i] = lost{min(v/level, decision.Most), min(v/level, 1)}
		}
		return all
	}
	var places [][2]float64
	for i, p := range l.places {
		if known[i] == nil {
			places = append(places, [2]float64{p.X, p.Y})
		}
	}
	asked := lostOf(l.model.AtEach(places), level)
	for i, lost := range known {
		if lost == nil {
			lost, asked = &asked[0], asked[1:]
		}
		all[i] = *lost
	}
	return all
}

// lostOf is what leaving places is expected to cost by what a model says of each, level being
// in its unit. The processors share the places, since each takes microseconds.
func lostOf(said [][]interp.ShiftedLogNormal, level float64) []lost {
	all := make([]lost, len(said))
	shares.Of(len(all), 1, func(from, to int) {
		caps := interp.NewCaps(decision.Most*level, level)
		for i := from; i < to; i++ {
			loss, capped := caps.Of(said[i])
			all[i] = lost{loss / level, capped / level}
		}
	})
	return all
}

// saves is what treating the zone is expected to save against the cheaper of the whole
// field and nothing, in treatments of the field; 0 where it saves nothing, NaN without a
// model.
func (l *losses) saves() float64 {
	sums := decision.Weigh(l.now, decision.Prices{})
	if l.model == nil || !sums.Known() {
		return math.NaN()
	}
	if !sums.HasZone() {
		return 0
	}
	return max(0, min(sums.Nothing, sums.Whole)-sums.Zone) / sums.Area
}
