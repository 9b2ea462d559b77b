package assess

import (
	"context"
	"errors"
	"fmt"
	"math"
	"sync"

	"github.com/paulmach/orb"
	"golang.org/x/sync/errgroup"

	"github.com/geocoris/geocoris/internal/geometry/catch"
	"github.com/geocoris/geocoris/internal/geometry/zones"
	"github.com/geocoris/geocoris/interp"
)

// slicing is what zones are cut from: a surface, the stops in its unit, levels.
type slicing struct {
	surface zones.Surface
	samples []interp.Sample
	levels  zones.Levels
}

// part cuts the zones, by chance where it is asked for, and says what the model
// of chance makes of them.
func (s site) part(ctx context.Context, f *Field, plain slicing, left []interp.LeftOut, chances func() (chanceMap, error), j job) error {
	f.Settings.Levels = plain.levels
	cut, m, err := s.cutAndBuild(ctx, f, plain, chances, j)
	if err != nil {
		return err
	}
	byCounts := cut.levels
	if m.set.Surface {
		averages(f.Map, plain)
		byCounts = plain.levels
	}
	f.degrees = sync.OnceValue(func() map[zones.Class]orb.MultiPolygon { return f.Map.LonLat(s.frame) })
	go f.degrees() // beside what else goes by the zones
	f.Hindsight = f.hindsight(plain.levels.TreatAt, func(i int) zones.Class {
		return byCounts.ClassOf(left[i].Value, left[i].Distance, f.Settings.Reach)
	})
	chosen, err := s.chosen(f, cut)
	if err != nil {
		return err
	}
	f.losses = s.lossesOf(f, chosen, plain.surface.Value, m, j)
	f.Trust.Quiet = f.Max <= CleanShare*j.levels.WatchAt
	f.Trust = f.Trust.saving(f.losses.saves())
	if m.model == nil {
		f.withoutChances = m.without
		return nil
	}
	f.Chance, err = m.tell(f, plain, left)
	return err
}

// cutAndBuild builds the zones, by the chances or while these are found.
func (s site) cutAndBuild(ctx context.Context, f *Field, plain slicing, chances func() (chanceMap, error), j job) (cut slicing, m chanceMap, err error) {
	var built errgroup.Group
	asked := j.set.Chance.asked()
	if !asked {
		built.Go(func() error { return s.build(f, plain) })
	}
	m, err = chances()
	cut = plain
	switch {
	case err == nil && asked && m.model != nil:
		cut, err = s.cutByChance(ctx, f, plain, &m, j)
	case err == nil && m.model != nil:
		m.loseAt(j.levels.TreatAt / (m.scale * f.grown(j)))
	}
	if err != nil {
		err = fmt.Errorf("chances: %w", err)
	} else if asked {
		err = s.build(f, cut)
	}
	return cut, m, errors.Join(err, built.Wait())
}

func (s site) build(f *Field, cut slicing) (err error) {
	f.Map, err = s.zonesOf(f, cut, f.Settings.Margin)
	return err
}

func (s site) zonesOf(f *Field, cut slicing, margin float64) (*zones.Map, error) {
	return zones.Build(s.xy, cut.surface, cut.samples, zones.Settings{
		Levels: cut.levels, Reach: f.Settings.Reach, Margin: margin,
		MinArea: f.Settings.MinArea, Simplify: f.Settings.Simplify,
	})
}

// chosen is the treat zone by which choices are weighed: without the margin that a person
// asked for, which is for the spraying and says nothing of where the pest is. With it the
// choice to treat the zone would pay for ground that nobody found hot.
func (s site) chosen(f *Field, cut slicing) (zones.Zone, error) {
	m := f.Map
	if margin := f.Settings.Growth.Margin; f.Settings.Margin > margin {
		var err error
		if m, err = s.zonesOf(f, cut, margin); err != nil {
			return zones.Zone{}, err
		}
	}
	return m.Zone(zones.Treat), nil
}

// cutByChance settles at which chances, or at which value, the zones are cut.
func (s site) cutByChance(ctx context.Context, f *Field, plain slicing, m *chanceMap, j job) (slicing, error) {
	worthwhile := m.ground.Expected() >= leastExpected*f.Area
	if m.set.Catch > 0 && worthwhile {
		cut, err := m.ground.Catching(m.set.Catch, m.grid.Values)
		if err != nil {
			return slicing{}, err
		}
		m.set.TreatAt = max(cut.Level, leastChance)
	}
	switch {
	case m.set.Surface:
		f.Settings.Levels = zones.Levels{TreatAt: m.set.cut(), WatchAt: m.set.WatchAt}
		inside := interp.FillSettings{Mask: maskOf(s.xy, m.grid.Lattice).Has}
		treat := m.grid
		if m.set.Loss {
			var err error
			if treat, err = interp.Fill(ctx, m.treats(j.levels.TreatAt/m.scale), m.grid.Lattice, inside); err != nil {
				return slicing{}, err
			}
		}
		watch, err := interp.Fill(ctx, m.model.Over(j.levels.WatchAt/m.scale), m.grid.Lattice, inside)
		if err != nil { // as of a run that was told to end
			return slicing{}, err
		}
		return m.sliced(plain, treat, watch), nil
	case m.set.Catch == 0 || !worthwhile:
		return plain, nil
	}
	cut, err := m.ground.Catching(m.set.Catch, plain.surface.Value.Values)
	if err != nil {
		return slicing{}, err
	}
	if cut.Level < plain.levels.TreatAt && cut.Level > 0 {
		// Watch ground grows to the cut, as it grew to the treat level.
		plain.levels.WatchAt *= cut.Level / plain.levels.TreatAt
		plain.levels.TreatAt = cut.Level
	}
	f.Settings.Levels = plain.levels
	return plain, nil
}

// leastChance keeps the chance at which ground is treated apart from 0, which is
// everywhere.
const leastChance = 1e-6

// nearOne keeps a certain chance of the watch level below the cut of treat
// ground.
const nearOne = 0.999

// joint puts both chances on one surface: 1 or more where the chance of the treat
// level, or the loss, is at or above its own cut, and nearOne times the cut of the watch
// chance or more where the chance of the watch level is, or where what treat ground goes
// by comes near its cut.
func (c ChanceSettings) joint(treat, watch float64) float64 {
	return max(treat/c.cut(), nearOne*watch)
}

// cut is the chance, or the loss, from which on ground is treated.
func (c ChanceSettings) cut() float64 {
	if c.Loss {
		return treatLoss
	}
	return c.TreatAt
}

// sliced are the chances, or losses, as a surface, with the stops on it: what was counted at
// or above the treat level is over, whatever the chance says, and at or above the
// watch level to be watched.
func (m *chanceMap) sliced(plain slicing, treat, watch interp.Grid) slicing {
	out := slicing{
		surface: zones.Surface{Value: interp.NewGrid(m.grid.Lattice), Distance: plain.surface.Distance},
		samples: make([]interp.Sample, len(plain.samples)),
		levels:  zones.Levels{TreatAt: 1, WatchAt: nearOne * m.set.WatchAt},
	}
	for i, v := range treat.Values {
		out.surface.Value.Values[i] = m.set.joint(v, watch.Values[i])
	}
	overTreat, overWatch := m.treats(plain.levels.TreatAt/m.scale), m.model.Over(plain.levels.WatchAt/m.scale)
	for i, s := range plain.samples {
		v := m.set.joint(overTreat.Predict(s.X, s.Y), overWatch.Predict(s.X, s.Y))
		switch {
		case s.Value >= plain.levels.TreatAt:
			v = max(v, 1)
		case s.Value >= plain.levels.WatchAt:
			v = max(v, out.levels.WatchAt)
		}
		s.Value = v
		out.samples[i] = s
	}
	return out
}

// tell fills in what the model says of a map.
func (m *chanceMap) tell(f *Field, plain slicing, left []interp.LeftOut) (*Chance, error) {
	c := &Chance{Grid: m.withUnseen(), BySurface: m.set.Surface, ByLoss: m.set.Loss, TreatAt: m.set.TreatAt, WatchAt: m.set.WatchAt}
	seen := m.ground.Expected()
	c.Expected = catch.Nodes{Chance: c.Grid.Values, Area: m.ground.Area}.Expected()
	c.Unseen = c.Expected - seen
	whole, err := m.ground.At(thinnedValues(plain.surface.Value, m.grid.Lattice), plain.levels.TreatAt)
	if err != nil {
		return nil, err
	}
	c.AtLevel = whole
	treat := f.Map.Zone(zones.Treat)
	in := catch.NewNodes(m.grid, insideOf(treat.Polygons, m.grid.Lattice).Has)
	c.Caught = in.Expected() / seen
	c.Added = treat.Area - c.AtLevel.Area
	treatChances, watchChances := m.model.LeaveOneOut(plain.levels.TreatAt/m.scale), m.model.LeaveOneOut(plain.levels.WatchAt/m.scale)
	cuts := zones.Levels{TreatAt: 1, WatchAt: nearOne * m.set.WatchAt}
	byChance := m.set
	byChance.Loss = false
	c.Hindsight = f.hindsight(plain.levels.TreatAt, func(i int) zones.Class {
		return cuts.ClassOf(byChance.joint(treatChances[i].Ground, watchChances[i].Ground), left[i].Distance, f.Settings.Reach)
	})
	c.Calibration = calibrate(treatChances, plain)
	return c, nil
}

// withUnseen are the chances as they are shown. Zones are cut by those without, as
// patches that no stop met are as likely in one place as in another.
func (m *chanceMap) withUnseen() interp.Grid {
	g := interp.NewGrid(m.grid.Lattice)
	for i, p := range m.grid.Values {
		g.Values[i] = m.model.WithUnseen(p) // NaN stays
	}
	return g
}

// thinnedValues are a grid's values at the nodes of a lattice thinned from its
// own.
func thinnedValues(g interp.Grid, l interp.Lattice) []float64 {
	k := int(math.Round(l.Cell / g.Cell))
	values := make([]float64, 0, l.Len())
	for row := range l.Rows {
		for col := range l.Cols {
			values = append(values, g.At(col*k, row*k))
		}
	}
	return values
}

// calibrationBounds part the chances for [Calibration].
var calibrationBounds = [...]float64{0, 0.1, 0.3, 0.6, 1}

func calibrate(left []interp.LeftOutChance, plain slicing) (all []Calibration) {
	last := len(calibrationBounds) - 1
	for k := range last {
		c := Calibration{From: calibrationBounds[k], To: calibrationBounds[k+1]}
		for i, l := range left {
			if l.Reading < c.From || l.Reading >= c.To && !(k == last-1 && l.Reading == c.To) {
				continue
			}
			c.Stops++
			c.Predicted += l.Reading
			if plain.samples[i].Value >= plain.levels.TreatAt {
				c.Found++
			}
		}
		all = append(all, c)
	}
	return all
}

// averages gives zones cut by chance the mean and the highest value of the
// surface through the counts and of the stops, as zones of the counts have them.
func averages(m *zones.Map, plain slicing) {
	for k := range m.Zones {
		m.Zones[k].Average(plain.surface.Value, plain.samples)
	}
}
