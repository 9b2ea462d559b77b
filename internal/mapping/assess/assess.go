// Package assess takes one morning's stops and the fields they lie in to zones:
// the only place that knows the order of the steps.
//
// Stops go to their field; each field gets a metric frame made from its
// boundary alone, so weeks share it; the stops' values are interpolated on
// nodes that come from the field and the settings, never from the counts; the
// surface is cut into zones; the zones go back to degrees. Coordinates change
// space exactly twice, on the way in and on the way out. Beside the zones stands
// what leave-one-out says of the map.
package assess

import (
	"cmp"
	"context"
	"fmt"
	"maps"
	"math"
	"runtime"
	"slices"
	"sync"

	"github.com/paulmach/orb"
	"golang.org/x/sync/errgroup"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/recall"
	"github.com/geocoris/geocoris/internal/scouting/survey"
	"github.com/geocoris/geocoris/interp"
)

// Defaults that go by the cell: the tolerance of level lines, and the least
// patch that stands for itself, below which the grid shows no form.
const (
	simplifyCells = 1.0 / 50
	minAreaCells  = 4
)

// Settings say how to assess. The zero value is the documented default
// throughout.
type Settings struct {
	Levels    LevelSettings
	Statistic Statistic
	Only      []string // names of the fields that are asked for; nil is all
	OnlyBy    string   // how they were asked for, for a note; "" is --only
	ByField   ByField  // in place of both, where fields have levels of their own; nil is one for all
	IDW       interp.IDW
	Chance    ChanceSettings
	OfMany    bool     // others are mapped in other runs: a field that bears no chances is mapped without, even alone
	Tune      bool     // choose power and neighbours by leave-one-out
	Cell      float64  // metres between nodes; 0 is chosen from the field's area
	Margin    float64  // metres by which treat ground is grown
	Growth    []Growth // besides, of each field, in their order; nil is none
	MinArea   *float64 // m², see zones.Settings; nil is four cells
	Simplify  *float64 // metres; nil is a fiftieth of a cell
	// KeepSurface keeps each field's surface for those who draw it or compare it with
	// other mornings': some hundred kilobytes a field, so that runs of many fields do
	// without.
	KeepSurface bool
	// Each hears of each field with stops, or of which none was read, as soon as it is
	// assessed, on the goroutine that did, with the result that it is of: there the
	// outlines, stops, levels and rows not read of all fields are known. An error stops the
	// work. Nil is silence.
	Each func(*Result, *Field) error
	// Forget lets go of what only judging, drawing and comparing a field need as soon as
	// Each has heard of it, so that a run of many fields holds little of each: losses, the
	// surface, the grid of chances, the zones in metres. Figures stay, and the zones in degrees.
	Forget bool
	// Keeper is asked, when it is known which fields have stops, for what keeps the work on
	// each, where all else is let go of; nil, or one that answers nil, keeps nothing.
	Keeper func(*Result) (Keeper, error)
	// Memory keeps what does not go by the levels for the next time; nil keeps nothing.
	Memory *recall.Memory
	// Jobs is how many fields are worked on at once; 0 is as many as there are cores.
	// What comes out is the same.
	Jobs int
	// Progress hears how far the work is: fields done of several, or rows of
	// nodes of a single one. It is called by one goroutine at a time; nil is
	// silence.
	Progress func(done, total int)
}

// Validate reports settings that cannot be meant.
func (s Settings) Validate() error {
	if err := s.IDW.Validate(); err != nil {
		return err
	}
	if err := s.Chance.Validate(); err != nil {
		return err
	}
	if l := s.Levels; l.TreatAt > 0 && l.WatchAt >= l.TreatAt {
		return fmt.Errorf("watch-at %g: want it below treat-at, which is %g", l.WatchAt, l.TreatAt)
	}
	if days := s.Levels.NextVisit; days > 0 && days < 1 { // the next look would be on the day of the count
		return fmt.Errorf("next-visit %g: want 1 day or more", days)
	}
	for _, v := range []struct {
		name  string
		value float64
	}{
		{"treat-at", s.Levels.TreatAt}, {"watch-at", s.Levels.WatchAt}, {"next visit", s.Levels.NextVisit},
		{"doubling", s.Levels.Doubling}, {"cell", s.Cell}, {"margin", s.Margin},
		{"min-area", setting(s.MinArea)}, {"simplify", setting(s.Simplify)},
	} {
		if !(v.value >= 0) || math.IsInf(v.value, 0) {
			return fmt.Errorf("%s %g: want a finite number that is not negative", v.name, v.value)
		}
	}
	return s.Statistic.Validate()
}

// setting is what a setting holds, 0 where it is left to the field.
func setting(v *float64) float64 {
	if v == nil {
		return 0
	}
	return *v
}

// A Result is what a morning says.
type Result struct {
	Fields    []*Field  // in the order of the boundary file, those without stops too
	Levels    Levels    // of all fields; where they have their own, of the first that has stops, see [Result.Of]
	Statistic Statistic // likewise
	Survey    *survey.Survey
	Away      []survey.Stop // stops in no field, nor within 15 m of one
	Notes     []string
	leftOut   map[string]bool      // files of stops in fields that were not asked for
	from      map[string]int       // how many fields have stops of a file; nil where no stop is away
	onEdge    map[string][]besides // of fields by name; nil where no stop stands on the edge of another field
}

// Tally counts the rows of the survey anew, now that it is known which stops lie
// in a field: those that do not are set aside.
func (r *Result) Tally() survey.Tally {
	t := r.Survey.Tally
	for _, s := range r.Away {
		t.Used -= len(s.Records)
		t.SetAside += len(s.Records)
	}
	return t
}

// noStops explains why there is nothing to map.
func (r *Result) noStops(fields []geo.Field) error {
	if len(r.Survey.Stops) == 0 {
		t := r.Survey.Tally
		other := ""
		if t.OtherPest > 0 {
			other = fmt.Sprintf(", %d of another pest", t.OtherPest)
		}
		return fmt.Errorf("no row can be used: %d read, %d set aside%s", t.Read, t.SetAside, other)
	}
	first := r.Away[0]
	return fmt.Errorf("no stop lies in a field or within %d m of one; the first, %s, is at %.6f, %.6f: %s",
		nearField, first.Name, first.Longitude, first.Latitude, WhyAway(fields, r.Away))
}

// Run assesses fields by a survey. Fields share no stop: each goes to the first
// field it lies in, or to the nearest one within 15 m.
func Run(ctx context.Context, fields []geo.Field, s *survey.Survey, set Settings) (*Result, error) {
	if err := set.Validate(); err != nil {
		return nil, err
	}
	if set.ByField == nil {
		if _, err := levelsFor(s.Pest, set.Statistic, set.Levels); err != nil {
			return nil, err
		}
	}
	r := &Result{Survey: s}
	sites := make([]site, len(fields))
	var err error
	for i, f := range fields {
		if sites[i], err = newSite(f); err != nil {
			return nil, fmt.Errorf("field %q: %w", f.Name, err)
		}
	}
	stops := r.assign(sites)
	if len(r.Away) == len(s.Stops) {
		return nil, r.noStops(fields)
	}
	r.laterCounts(sites, stops)
	unread := r.unreadAndOutOfPlace(sites, stops)
	if sites, stops, unread, err = r.narrow(sites, stops, unread, set.Only, cmp.Or(set.OnlyBy, "--only")); err != nil {
		return nil, err
	}
	if err := tooCoarse(sites, stops, set); err != nil {
		return nil, err
	}
	if set.Growth != nil && len(set.Growth) != len(sites) {
		return nil, fmt.Errorf("growth of %d fields for %d: want that of each", len(set.Growth), len(sites))
	}
	of, err := r.standards(sites, stops, set)
	if err != nil {
		return nil, err
	}
	if err := value(sites, stops, of); err != nil {
		return nil, err
	}
	r.begin(sites, stops, unread, of)
	kept, err := r.keeper(set)
	if err != nil {
		return nil, err
	}
	if err := r.assessAll(ctx, sites, of, set, kept); err != nil {
		return nil, err
	}
	r.noteDays()
	r.noteNoChances(set.Chance)
	return r, nil
}

// noteDays tells of fields that were counted on several days.
func (r *Result) noteDays() {
	for _, f := range r.Fields {
		if days := f.Days(); len(days) > 1 {
			r.Notes = append(r.Notes, fmt.Sprintf("field %q: the samples are of %d days, %s to %s, on one map", f.Name, len(days), days[0], days[len(days)-1]))
		}
	}
}

// assign gives each stop to its field, and names the others.
func (r *Result) assign(sites []site) (stops [][]Stop) {
	stops = make([][]Stop, len(sites))
	all := r.Survey.Stops
	found := newIndex(sites).findAll(len(all), func(i int) *survey.Stop { return &all[i] })
	shared, of := map[[2]int]int{}, make([]int, len(sites))
	for _, at := range found {
		if at.field >= 0 {
			of[at.field]++
		}
	}
	for i, n := range of { // lists that grew stop by stop would take some times the room
		if n > 0 {
			stops[i] = make([]Stop, 0, n)
		}
	}
	for i, at := range found {
		s := all[i]
		switch {
		case at.field < 0:
			r.Away = append(r.Away, s)
			continue
		case at.also >= 0:
			shared[[2]int{at.field, at.also}]++
		}
		stops[at.field] = append(stops[at.field], Stop{
			Stop: s, XY: sites[at.field].frame.Forward(orb.Point{s.Longitude, s.Latitude}), Outside: at.outside,
		})
		r.noteEdge(sites, at, s)
	}
	r.noteOverlaps(sites, shared)
	return stops
}

func (r *Result) noteOverlaps(sites []site, shared map[[2]int]int) {
	pairs := slices.SortedFunc(maps.Keys(shared), func(a, b [2]int) int {
		return cmp.Or(a[0]-b[0], a[1]-b[1])
	})
	for _, p := range pairs {
		r.Notes = append(r.Notes, fmt.Sprintf("fields %q and %q overlap: %s in both went to the first",
			sites[p[0]].field.Name, sites[p[1]].field.Name, figures.Counted(shared[p], "stop")))
	}
}

// begin fills in what is known of all fields before one of them is assessed.
func (r *Result) begin(sites []site, stops [][]Stop, unread [][]Unread, of []standard) {
	r.Fields = make([]*Field, len(sites))
	for i, s := range sites {
		r.Fields[i] = &Field{
			Field: s.field, Frame: s.frame, XY: s.xy, Area: geo.Area(s.xy), Stops: stops[i], Unread: unread[i],
			Levels: of[i].levels, Statistic: of[i].statistic,
		}
	}
	r.countFiles()
}

// assessAll works on several fields at a time; each is by itself, so the result
// does not depend on how many.
func (r *Result) assessAll(ctx context.Context, sites []site, of []standard, set Settings, kept Keeper) error {
	var mu sync.Mutex
	done := 0
	j := job{set: set, several: set.OfMany || r.Scouted() > 1, keeper: kept}
	if len(sites) == 1 {
		j.rows = set.Progress
	}
	g, ctx := errgroup.WithContext(ctx)
	g.SetLimit(cmp.Or(set.Jobs, runtime.GOMAXPROCS(0)))
	for i, s := range sites {
		j := j
		j.levels, j.doubling, j.set.Statistic = of[i].levels.Levels, of[i].levels.Doubling, of[i].statistic
		if set.Growth != nil {
			j.grown = set.Growth[i]
		}
		g.Go(func() error {
			if err := r.assessOne(ctx, i, s, j); err != nil {
				return err
			}
			if set.Progress != nil && len(sites) > 1 {
				mu.Lock()
				defer mu.Unlock()
				done++
				set.Progress(done, len(sites))
			}
			return nil
		})
	}
	return g.Wait()
}

// heard tells of a field that is assessed, and forgets what is of no more use.
func (r *Result) heard(f *Field, set Settings) error {
	if set.Each != nil && (f.Scouted() || f.NoneRead()) {
		if err := set.Each(r, f); err != nil {
			return err
		}
	}
	if set.Forget && f.Scouted() {
		f.forget()
	}
	return nil
}
