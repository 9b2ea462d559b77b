package assess

import (
	"math"
	"slices"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/internal/geometry/zones"
	"github.com/geocoris/geocoris/internal/mapping/decision"
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
	places []decision.Place            // as yet without their losses
	values []float64                   // of the counts' surface there; nil where there is a model
	kept   [][]interp.ShiftedLogNormal // what the model said of them before; nil where it is to be asked
	model  *interp.Chances             // nil where the stops do not bear one
	scale  float64                     // values of the statistic per mean of the model
	stat   Statistic
	grown  float64          // by what densities grow until the spray
	level  float64          // the treat level
	now    []decision.Place // with their losses at that level
}

// lossesOf lays out places over a field whose zones are cut.
func (s site) lossesOf(f *Field, surface interp.Grid, m chanceMap, j job) *losses {
	l := &losses{scale: 1, stat: j.set.Statistic, grown: 1}
	all, inZone := plainLossNodes, plainZoneNodes
	if m.model != nil {
		l.model, l.scale = m.model, m.scale
		all, inZone = lossNodes, zoneNodes
	}
	if d := j.doubling; d > 0 && j.set.Statistic.Tally == 0 {
		l.grown = math.Exp2(f.Settings.Growth.Days / d)
	}
	treat := f.Map.Zone(zones.Treat)
	l.lay(s.xy, treat.Polygons, f.Area-treat.Area, surface, thinnedTo(surface.Len(), all), false, m)
	nodes := treat.Area / (surface.Cell * surface.Cell)
	l.lay(treat.Polygons, nil, treat.Area, surface, thinnedTo(int(nodes), inZone), true, m)
	l.level = j.levels.TreatAt
	l.now = l.at(l.level)
	l.kept = make([][]interp.ShiftedLogNormal, len(l.kept)) // too much to hold for all fields
	return l
}

// lay puts places on the nodes of a lattice inside some ground, less other, and shares
// out its area among them: every node where so many as step asks for are too few to
// find any. Ground smaller than a cell may have none, and then weighs nothing.
func (l *losses) lay(ground, less orb.MultiPolygon, area float64, surface interp.Grid, step int, treat bool, m chanceMap) {
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
		l.kept = append(l.kept, m.keptAt(lattice, i))
	}
	if len(l.places) == from && step > 1 {
		l.lay(ground, less, area, surface, 1, treat, m)
		return
	}
	for i := range l.places[from:] {
		l.places[from+i].Area = area / float64(len(l.places)-from)
	}
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
	return f.losses.at(level)
}

// at shares the places among the processors, since each takes microseconds.
func (l *losses) at(level float64) []decision.Place {
	all, said := make([]decision.Place, len(l.places)), l.said()
	level /= l.scale * l.grown
	inShares(len(all), 1, func(from, to int) {
		for i := from; i < to; i++ {
			if p := l.place(i, said[i], level); !math.IsNaN(p.Loss) { // nobody has been near
				all[i] = p
			}
		}
	})
	return all
}

// said is what the model says of each place: what was kept of it, or asked for now. It is
// nil of each where there is no model.
func (l *losses) said() [][]interp.ShiftedLogNormal {
	if l.model == nil {
		return l.kept
	}
	all := slices.Clone(l.kept)
	var places [][2]float64
	var at []int
	for i, p := range l.places {
		if all[i] == nil {
			places, at = append(places, [2]float64{p.X, p.Y}), append(at, i)
		}
	}
	for k, said := range l.model.AtEach(places) {
		all[at[k]] = said
	}
	return all
}

// place is a place with its losses by what the model says of it, level being in the unit of
// the model or the surface.
func (l *losses) place(i int, said []interp.ShiftedLogNormal, level float64) decision.Place {
	p := l.places[i]
	if l.model == nil {
		v := l.values[i] / level
		p.Loss, p.Capped = min(v, decision.Most), min(v, 1)
		return p
	}
	for _, d := range said {
		loss, capped := d.CappedTwice(decision.Most*level, level)
		p.Loss += loss / level
		p.Capped += capped / level
	}
	return p
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
