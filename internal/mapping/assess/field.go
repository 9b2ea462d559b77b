package assess

import (
	"context"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/geometry/zones"
	"github.com/geocoris/geocoris/internal/scouting/layout"
	"github.com/geocoris/geocoris/internal/scouting/survey"
	"github.com/geocoris/geocoris/interp"
)

// A Field is what one field's stops say of it.
type Field struct {
	geo.Field
	Frame geo.Frame        // of the field, from its boundary alone
	XY    orb.MultiPolygon // the boundary in metres of that frame
	Area  float64          // m², in the field's frame
	Stops []Stop           // in the order of the survey
	// Together are stops that nobody marked and that count for one place: all but one of
	// each are extra.
	Together []Together
	// Levels and Statistic are the field's own: those of the result but where fields
	// have different ones.
	Levels    Levels
	Statistic Statistic
	// Unread are stops, or parts of them, that may have been counted here and were not
	// read.
	Unread []Unread
	// What follows is of use only where there are stops.
	Mean      float64 // of the values of the planned stops, each once; of all where none was planned
	Max       float64
	Settings  Used
	Layout    layout.Layout // how the stops lie over the field
	Trust     Trust
	Hindsight Hindsight
	Chance    *Chance // nil where the stops do not bear a model of chance
	Map       *zones.Map
	// Surface goes through the counts, as interpolated for the map; nil where
	// [Settings.KeepSurface] did not ask for it.
	Surface *zones.Surface

	losses *losses
	// withoutChances is why there is no Chance; nil where there is, or where nobody wanted it.
	withoutChances *noChancesError

	degrees func() map[zones.Class]orb.MultiPolygon
	packed  packed  // degrees, where the ground is forgotten,
	radius  float64 // and the radius of the largest treat patch
}

// LonLat are the zones in degrees, seven decimals; nil for a field without stops.
func (f *Field) LonLat() map[zones.Class]orb.MultiPolygon {
	if f.degrees == nil {
		return nil
	}
	return f.degrees()
}

// Scouted reports whether the field has stops.
func (f *Field) Scouted() bool { return len(f.Stops) > 0 }

// NoneRead reports whether somebody counted in the field and none of its stops were
// read: rows that were set aside lie in it.
func (f *Field) NoneRead() bool {
	return !f.Scouted() && slices.ContainsFunc(f.Unread, func(u Unread) bool { return u.Placed })
}

// Days are the days on which the field's stops were counted, ISO 8601, in their
// order and each once; none where the samples do not tell.
func (f *Field) Days() []string {
	var days []string
	for _, s := range f.Stops {
		if s.Date != "" {
			days = append(days, s.Date)
		}
	}
	slices.Sort(days)
	return slices.Compact(days)
}

// StopsIn counts the stops that a zone answers for: those inside and those just
// outside the boundary that stand nearest to it.
func (f *Field) StopsIn(c zones.Class) int {
	n := 0
	for _, s := range f.Stops {
		if s.Zone == c {
			n++
		}
	}
	return n
}

// Used are the settings of one field with everything filled in.
type Used struct {
	IDW    interp.IDW
	Tuned  bool
	Levels zones.Levels // at which the zones are cut: of chances where they go by chance
	Cell   float64      // metres
	Reach  float64      // metres, of the stops that reach farthest
	// LeastReach is that of those that reach least far, as they stand along a line.
	LeastReach float64
	Margin     float64 // metres, with Growth.Margin
	Growth     Growth  // until the spray
	MinArea    float64 // m²
	Simplify   float64 // metres
}

// A Stop is a stop of the survey in its field.
type Stop struct {
	survey.Stop
	Value   float64     // of the statistic
	XY      orb.Point   // metres in the field's frame
	Outside float64     // metres outside the boundary; 0 inside
	In      string      // what it stands in there, such as a pond by its name; "" where nothing says
	Zone    zones.Class // the ground it stands on; of a stop outside, the nearest ground's
	LeftOut float64     // what the other stops say of its place; NaN if nothing
	// First is the last of the counts before at its place, of another day, which are set aside;
	// nil of a place that was counted once.
	First *survey.Stop
}

// job is what one field is assessed by.
type job struct {
	levels   zones.Levels
	set      Settings
	grown    Growth
	doubling float64               // days; 0 where not known
	lattice  interp.Lattice        // over the field
	several  bool                  // other fields are mapped too, and go on without chances
	keeper   Keeper                // nil keeps nothing
	rows     func(done, total int) // hears of finished rows of nodes; nil is silence
}

// assess parts one field with stops.
func (s site) assess(ctx context.Context, f *Field, j job) (err error) {
	stops := f.Stops
	if len(stops) == 0 {
		return nil
	}
	if j.lattice, err = latticeOver(s.xy, cellOf(f.Area, j.set)); err != nil {
		return err
	}
	chances := s.chancesOf(ctx, stops, j)
	f.Together = markTogether(f.Area, j.levels.TreatAt, stops)
	samples := samplesOf(stops)
	_, f.Max = meanAndMax(samples)
	f.Mean, _ = meanAndMax(plannedSamples(stops))
	f.Settings = settle(f.Area, stops, j.set, j.grown)
	near := reaches(f.Area, f.Settings.Reach, stops, f.Together)
	f.Settings.LeastReach = slices.Min(near)
	g, err := s.groundwork(ctx, stops, near, f.Settings, j)
	if err != nil {
		return err
	}
	for i := range stops {
		stops[i].LeftOut = g.left[i].Value
	}
	f.Layout, f.Trust = g.layout, g.trust
	if err := s.part(ctx, f, slicing{g.surface, samples, j.levels}, g.left, chances, j); err != nil {
		return err
	}
	f.locate()
	if j.set.KeepSurface {
		f.Surface = &g.surface
	}
	return nil
}

func samplesOf(stops []Stop) []interp.Sample {
	samples := make([]interp.Sample, len(stops))
	for i := range stops {
		samples[i] = sampleOf(&stops[i])
	}
	return samples
}

func sampleOf(s *Stop) interp.Sample {
	return interp.Sample{X: s.XY[0], Y: s.XY[1], Value: s.Value, Weight: s.Units}
}

// plannedSamples are those of the [planned] stops, which are some ten times as large.
func plannedSamples(stops []Stop) []interp.Sample {
	samples := make([]interp.Sample, 0, len(stops))
	for i := range stops {
		if !stops[i].Extra {
			samples = append(samples, sampleOf(&stops[i]))
		}
	}
	if len(samples) == 0 {
		return samplesOf(stops)
	}
	return samples
}

// planned are the stops that speak for the field: those that were not added where
// more was to be learnt, as in hot spots, or all where there are no others.
func planned(stops []Stop) []Stop {
	out := slices.DeleteFunc(slices.Clone(stops), func(s Stop) bool { return s.Extra })
	if len(out) == 0 {
		return stops
	}
	return out
}

func meanAndMax(samples []interp.Sample) (mean, largest float64) {
	largest = math.Inf(-1)
	for _, s := range samples {
		mean += s.Value
		largest = max(largest, s.Value)
	}
	return mean / float64(len(samples)), largest
}

// settle fills in what the settings leave to the field. Extra stops crowd where it is hot
// and take nothing from the reach of the others.
func settle(area float64, stops []Stop, set Settings, grown Growth) Used {
	u := Used{IDW: set.IDW.WithDefaults(), Cell: cellOf(area, set), Margin: set.Margin + grown.Margin, Growth: grown}
	u.Reach = reachOf(area, plannedSamples(stops), set.IDW.Radius)
	u.MinArea, u.Simplify = u.Cell*u.Cell*minAreaCells, u.Cell*simplifyCells
	if set.MinArea != nil {
		u.MinArea = *set.MinArea
	}
	if set.MinArea != nil || set.Cell > 0 { // in a field much smaller than others
		u.MinArea = min(u.MinArea, mostMinArea*area)
	}
	if set.Simplify != nil {
		u.Simplify = *set.Simplify
	}
	if set.Tune {
		u.IDW, u.Tuned = tuned(samplesOf(stops), u.IDW)
	}
	return u
}

// tuned picks power and neighbours by leave-one-out; ok is false, and the
// settings stay, where there are too few places to tell them apart.
func tuned(samples []interp.Sample, set interp.IDW) (best interp.IDW, ok bool) {
	candidates := interp.TuneCandidates(len(interp.Pool(samples)))
	for i := range candidates {
		candidates[i].Plain, candidates[i].Radius = set.Plain, set.Radius
	}
	best, _, err := interp.Tune(samples, candidates)
	if err != nil {
		return set, false
	}
	return best.WithDefaults(), true
}

// surface interpolates at every node of every cell that touches the field.
func (s site) surface(ctx context.Context, samples []interp.Sample, u Used, j job) (zones.Surface, error) {
	p, err := u.IDW.Fit(samples)
	if err != nil {
		return zones.Surface{}, err
	}
	nodes := maskOf(s.xy, j.lattice)
	value, distance, err := interp.FillWithDistance(ctx, p, j.lattice, interp.FillSettings{Mask: nodes.Has, Progress: j.rows})
	if err != nil {
		return zones.Surface{}, err
	}
	return zones.Surface{Value: value, Distance: distance}, nil
}

// locate tells each stop the ground it stands on.
func (f *Field) locate() {
	for _, z := range f.Map.Zones {
		for _, i := range z.Stops {
			f.Stops[i].Zone = z.Class
		}
	}
	for i := range f.Stops {
		if f.Stops[i].Zone != zones.NoData {
			continue
		}
		nearest := math.Inf(1)
		for _, z := range f.Map.Zones { // worst first, so the worse of two as near
			if d := geo.DistanceToEdge(z.Polygons, f.Stops[i].XY); d < nearest {
				nearest, f.Stops[i].Zone = d, z.Class
			}
		}
	}
}
