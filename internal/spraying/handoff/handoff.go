// Package handoff takes zones to spray jobs: one for each field with ground to
// treat, each planned in the metric frame of its field.
//
// Zones and keep-offs come as features in degrees and results go back to degrees
// at the very end, so coordinates change space twice, as everywhere.
package handoff

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/geometry/planar"
	"github.com/geocoris/geocoris/internal/geometry/zones"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/mapping/verdict"
	"github.com/geocoris/geocoris/internal/spraying/spray"
)

// Settings say how the ground is to be sprayed.
type Settings struct {
	Margin   spray.Margin // Days is filled in from the dates: each job has its own, the result the most
	Spray    spray.Settings
	KeepOffs []KeepOff
	Rows     Rows // how the rows run, where the zones do not tell
	// SprayOn is the day of the spraying, YYYY-MM-DD; "" means the day of the count.
	SprayOn string
	// GoodFor is for how many days after the count the map may be used; 0 is until the
	// day that the zones say themselves.
	GoodFor int
	// Grown is by how much the map grew the treat zone of each field, by name, as its
	// record tells, for zones that do not.
	Grown map[string]Grown
	// Closed is ground that was drawn with the fields and is none, such as a pond across
	// an edge, which the zones do not show: nothing is sprayed there.
	Closed []geo.Field
	// Stops are those of the map, of which jobs hold the ones that were not read.
	Stops []geo.Feature
	// Edited is what is known of the map whose zones a person edited; nil where nobody did.
	Edited *Edited
	// AgainstVerdict makes jobs where the map advised otherwise.
	AgainstVerdict bool
	// WholeField sprays whole fields in place of their treat zones, as is done anyway where
	// the map advised it, unless RedOnly is set.
	WholeField, RedOnly bool
	// Fallback makes the job that an undecided map names for where its stops cannot be
	// walked.
	Fallback bool
	// Only are the names of the fields that get jobs; nil is all. The others are ground where
	// nothing is sprayed, as always.
	Only []string
	// Gates are places in degrees at which fields are entered.
	Gates []orb.Point
	// MaxPoints is how many points the outlines of a field may have, see
	// [spray.Target.Points]; 0 for as many as they have.
	MaxPoints int
	// Cell is the side of the cells, m, where task data are a grid; 0 where they are
	// polygons, or where there are none.
	Cell float64
}

// Result is the jobs of all fields.
type Result struct {
	Settings Settings
	Jobs     []*Job
	Idle     []Idle // fields without a job
	Notes    []string
	// KeepOffNotes are to be read before all else: what files of keep-offs hold
	// and is not kept off, or not as it was written.
	KeepOffNotes []string
	Days         Days // of all jobs together
}

// Idle is a field without a job.
type Idle struct {
	Field  string
	Why    error
	Advice Advice // what the map said of it
}

// String names the field with the reason.
func (i Idle) String() string { return fmt.Sprintf("%s: %v", i.Field, i.Why) }

// NoTreat tells whether the map has no treat zone there.
func (i Idle) NoTreat() bool { return errors.Is(i.Why, errNoTreat) }

// A Job is the spraying of one field. Coordinates are metres in its frame.
type Job struct {
	Field     string
	Customer  string // whose it is, and its farm, where the zones tell
	Farm      string
	Date      string // of the count, as the zones have it
	SprayOn   string // planned day, "" where none was given
	Pest      string
	Unit      string
	Threshold string
	Trust     string
	Advice    Advice
	Days      Days
	Margin    spray.Margin // with its days filled in
	Grown     *Grown       // nil where nothing tells
	Whole     bool         // the whole field is sprayed
	Fallback  bool         // since the stops that the map asks for cannot be walked
	// Doubts are what may make the map's verdict wrong, in each language by its code.
	Doubts   map[string][]string
	Sprayed  []Sprayed // before, where that is its ground too or where nobody knows
	Overlap  string    // what was done where the field was drawn over another; "" for nothing
	Frame    geo.Frame
	Area     float64 // m² of the field
	Watch    float64 // m² of watch ground
	Ground   *spray.Target
	Plan     *spray.Plan // passes over the spray ground, or over the cells of the grid that are on
	KeepOffs []spray.KeepOff
	Grid     *Grid       // nil where the task data are polygons
	Gate     *orb.Point  // degrees; nil where none of those given is near
	NotRead  []orb.Point // stops that may have been counted and were not read
	Points   Points
	Fewer    *Fewer  // nil where as many points as there are were wanted
	Shared   float64 // m² that lie in a field before this one too, and are sprayed there
}

// Points are how many points the outlines of a job have, before and after they were
// simplified.
type Points struct{ Before, After int }

// Run plans a job for each field that the zones name. Zones are features with a
// property zone: treat, watch or clear; and field, which tells fields apart.
func Run(zones []geo.Feature, s Settings) (*Result, error) {
	r, err := run(zones, s)
	var few *spray.PointsError
	if errors.As(err, &few) {
		return nil, s.enough(zones, err, few.Least)
	}
	return r, err
}

func run(zones []geo.Feature, s Settings) (*Result, error) {
	if err := s.Spray.Validate(); err != nil {
		return nil, err
	}
	fields, err := group(zones)
	if err != nil {
		return nil, err
	}
	r := &Result{Settings: s}
	if s.Edited != nil {
		if err := s.Edited.edited(fields); err != nil {
			return nil, err
		}
		r.Notes = s.Edited.notes(fields)
	}
	r.Settings.Margin.Days = 0
	if s.SprayOn != "" && dayOf(s.SprayOn) == "" {
		return nil, fmt.Errorf("%q is not a day: want YYYY-MM-DD", s.SprayOn)
	}
	sites := make([]site, len(fields))
	for i, f := range fields {
		if sites[i], err = newSite(f.name, f.whole()); err != nil {
			return nil, fmt.Errorf("%s: %w", f.name, err)
		}
	}
	if s.Rows, err = s.Rows.named(fields); err != nil {
		return nil, fmt.Errorf("--rows: %w", err)
	}
	var kept [][]spray.KeepOff
	if kept, r.KeepOffNotes, err = keepOffs(s.KeepOffs, sites); err != nil {
		return nil, err
	}
	wanted, err := s.chosen(fields)
	if err != nil {
		return nil, err
	}
	for i, f := range fields {
		if !slices.Contains(wanted, i) {
			continue
		}
		job, err := f.job(s, sites[i], kept[i], func() ([]spray.Neighbour, float64, error) { return neighbours(fields, sites, i) })
		switch {
		case errors.Is(err, errNoTreat), errors.Is(err, spray.ErrNothing), errors.As(err, new(*AdvisedError)):
			r.Idle = append(r.Idle, Idle{f.name, err, f.advice})
		case err != nil:
			return nil, fmt.Errorf("%s: %w", f.name, err)
		default:
			r.Jobs = append(r.Jobs, job)
			for _, note := range slices.Concat(job.Days.notes(), job.grownNotes(s.Margin)) {
				r.Notes = append(r.Notes, job.Field+": "+note)
			}
			for _, note := range job.notes() {
				if !slices.Contains(r.Notes, note) { // of an overlap both fields tell
					r.Notes = append(r.Notes, note)
				}
			}
			r.Settings.Margin.Days = max(r.Settings.Margin.Days, job.Margin.Days)
		}
	}
	if len(r.Jobs) == 0 {
		return nil, &NoJobError{r.Idle, r.KeepOffNotes, r.noJob(fields)}
	}
	r.Days = together(r.Jobs)
	return r, nil
}

// chosen are the places of the fields that get jobs.
func (s Settings) chosen(fields []*field) ([]int, error) {
	var names []string
	for _, f := range fields {
		names = append(names, f.name)
	}
	at, err := assess.Chosen(names, s.Only)
	if err != nil {
		return nil, fmt.Errorf("--only: %w", err)
	}
	return at, nil
}

// A NoJobError is zones of which no field has a job.
type NoJobError struct {
	Idle  []Idle   // each field with its reason
	Notes []string // on keep-offs
	err   error
}

func (e *NoJobError) Error() string { return e.err.Error() }

// noJob says why no field has a job, what is undecided first: that is no all clear.
func (r *Result) noJob(fields []*field) error {
	says := "nothing to spray"
	var first, then []string
	undecided := map[string]bool{}
	for _, f := range fields {
		undecided[f.name] = f.advice.Undecided()
	}
	for _, idle := range r.Idle {
		if undecided[idle.Field] {
			says, first = "no job", append(first, idle.String())
			continue
		}
		then = append(then, idle.String())
	}
	return fmt.Errorf("%s: %s", says, strings.Join(slices.Concat(first, then, r.KeepOffNotes), "; "))
}

// Where more than wholeField of a field is sprayed the whole of it may be simpler, which is
// no news where the treat zone is nearlyWhole of it; and a boom that sprays tooCoarse times
// the ground is too coarse for it. All are judgement, no source; nearlyWhole is the share
// from which a verdict is to treat the whole field.
const (
	wholeField  = 0.6
	nearlyWhole = 0.9
	tooCoarse   = 1.5
	// leastShared is the least ground, m², that fields share by more than how their
	// borders were drawn or rounded.
	leastShared = 10
	// muchLeft is the share of the spray ground beyond which it is said how less of it
	// would stay unsprayed.
	muchLeft = 0.02
)

// notes are what the person should think over.
func (j *Job) notes() (notes []string) {
	if !j.Advice.Known() {
		notes = append(notes, j.Field+": the zones carry no verdict: read on the map whether to spray at all")
	}
	if j.LookFirst() {
		notes = append(notes, fmt.Sprintf("%s: look again before spraying on %s: the map asks for a look on %s", j.Field, figures.Day(j.Days.SprayOn), figures.Day(j.SprayBy())))
	}
	if j.Overlap != "" {
		notes = append(notes, j.Overlap)
	}
	if share := j.Share(); share > wholeField && !j.Whole && j.Ground.Treat < nearlyWhole*j.Area {
		notes = append(notes, fmt.Sprintf("%s: %s of the field would be sprayed: treating all of it may be simpler", j.Field, figures.Whole(share)))
	}
	if j.Shared > leastShared {
		notes = append(notes, fmt.Sprintf("%s: %s of it lie in a field before it too: they are in that field's job, not in this one", j.Field, figures.Metric.Area(j.Shared)))
	}
	f := j.Figures()
	if ratio := f.Ratio(); ratio > tooCoarse {
		notes = append(notes, fmt.Sprintf("%s: %.2f times the ground would be sprayed: narrower sections, or another heading, spray less", j.Field, ratio))
	}
	if f.Left > muchLeft*f.Ground {
		notes = append(notes, fmt.Sprintf("%s: %s of the spray ground stays unsprayed: %s", j.Field, figures.Whole(f.Left/f.Ground), j.leavesLess()))
	}
	return notes
}

// Covers tells whether the job is of the whole field, asked for or because all of it is
// treat zone, to a square metre.
func (j *Job) Covers() bool { return j.Whole || j.Ground.Treat >= j.Area-1 }

// Share is the part of the field that is sprayed, 0 to 1: what is sprayed past its
// edge is not of it, and what is sprayed twice counts once.
func (j *Job) Share() float64 {
	f := j.Figures()
	return min(1, (f.Sprayed-f.Overlap-f.OutOfField)/j.Area)
}

// leavesLess is what helps where much stays unsprayed.
func (j *Job) leavesLess() string {
	if j.Grid != nil {
		return "a smaller --grid, or task data without one, leave less"
	}
	return "more --sections, or another --heading, leave less"
}

var (
	errNoTreat      = errors.New("no treat zone")
	errTreatOutside = fmt.Errorf("%w within the field: all of it that was drawn lies outside", errNoTreat)
	errWholeOnly    = fmt.Errorf("%w, and the map's verdict is to treat the whole field: plan it without --red-only", errNoTreat)
)

// field is the zones of one field, as they were read.
type field struct {
	name  string
	zones map[string]orb.MultiPolygon // degrees, by treat, watch, clear
	first geo.Properties
	// advice is what the map said, and outline the field, where that is known.
	advice  Advice
	outline orb.MultiPolygon // degrees
	ground  orb.MultiPolygon // degrees, of all of it; nil as yet
}

// group puts zones to their fields, in the order in which these come.
func group(features []geo.Feature) ([]*field, error) {
	var fields []*field
	for i, f := range features {
		zone := word(f.Properties, "zone")
		if !slices.ContainsFunc(zones.Classes(), func(c zones.Class) bool { return c.String() == zone }) {
			return nil, fmt.Errorf("feature %d has no property zone that is treat, watch or clear: want zones.geojson of a map", i+1)
		}
		ground := polygonsOf(f.Geometry)
		if ground == nil {
			return nil, fmt.Errorf("feature %d is no polygon: want zones.geojson of a map", i+1)
		}
		if property := tooLong(f.Properties); property != "" {
			return nil, fmt.Errorf("feature %d: its property %s is longer than %d bytes: want zones.geojson of a map", i+1, property, mostText)
		}
		name := word(f.Properties, "field")
		at := slices.IndexFunc(fields, func(f *field) bool { return f.name == name })
		if at < 0 {
			at = len(fields)
			fields = append(fields, &field{name: name, zones: map[string]orb.MultiPolygon{}, first: withDays(f.Properties, ground)})
			fields[at].advice = adviceOf(fields[at].first)
		}
		fields[at].zones[zone] = append(fields[at].zones[zone], ground...)
	}
	if len(fields) == 0 {
		return nil, errors.New("no zones")
	}
	return fields, nil
}

// mostText is how long a text of a zone may be, in bytes: it stands on every sheet.
// Judgement, no source.
const mostText = 10_000

// tooLong names a property whose text is longer than that; "" for none.
func tooLong(p geo.Properties) string {
	for _, one := range p {
		if text, is := one.Value.(string); is && len(text) > mostText {
			return one.Name[:min(len(one.Name), mostText)]
		}
	}
	return ""
}

// polygonsOf is the ground of a geometry; nil where it is no polygon. A collection of
// polygons, as KML has several, is one.
func polygonsOf(g orb.Geometry) orb.MultiPolygon {
	switch g := g.(type) {
	case orb.Polygon:
		return orb.MultiPolygon{g}
	case orb.MultiPolygon:
		return g
	case orb.Collection:
		var all orb.MultiPolygon
		for _, part := range g {
			ground := polygonsOf(part)
			if ground == nil {
				return nil
			}
			all = append(all, ground...)
		}
		return all
	}
	return nil
}

func word(p geo.Properties, name string) string {
	v, ok := p.Get(name)
	if !ok || v == nil {
		return ""
	}
	return fmt.Sprint(v)
}

// whole is all ground of the field, zone by zone, or its outline where that is known.
func (f *field) whole() (all orb.MultiPolygon) {
	if f.outline != nil {
		return f.outline
	}
	for _, zone := range zones.Classes() {
		all = append(all, f.zones[zone.String()]...)
	}
	return all
}

// laid takes a zone to metres. Zones that were edited by hand may lie on one another
// or have a hole over their edge: what they hold is ground once, and holes are none.
func laid(zone orb.MultiPolygon, frame geo.Frame) (orb.MultiPolygon, error) {
	xy := frame.ForwardPolygons(zone)
	if planar.Valid(xy) == nil {
		return geo.Wind(xy), nil
	}
	return planar.Ground(xy)
}

// job plans one field in its frame, with the keep-offs in its reach. A field
// without treat zone has a job only where all of it was asked for and was advised, or
// may have to be, as far as the map could decide.
func (f *field) job(s Settings, here site, kept []spray.KeepOff, others func() ([]spray.Neighbour, float64, error)) (*Job, error) {
	frame := here.frame
	advice := f.advice
	fallback := s.Fallback && advice.Fallback() != verdict.None
	whole := s.WholeField || advice.Whole() && !s.RedOnly || fallback && advice.Fallback() == verdict.TreatWhole
	if len(f.zones[zones.Treat.String()]) == 0 && !(whole && (advice.Whole() || fallback || advice.Undecided() && s.AgainstVerdict)) {
		return nil, advice.noTreat()
	}
	if advice.Against() && !fallback && !s.AgainstVerdict {
		return nil, &AdvisedError{advice}
	}
	days, err := f.days(s)
	if err != nil {
		return nil, err
	}
	j := &Job{
		Field: f.name, Customer: word(f.first, "customer"), Farm: word(f.first, "farm"), Date: word(f.first, "date"), Pest: word(f.first, "pest"), Unit: word(f.first, "unit"),
		Threshold: word(f.first, "threshold"), Trust: word(f.first, "trust"), Frame: frame, KeepOffs: kept,
		SprayOn: s.SprayOn, Advice: advice, Overlap: word(f.first, "overlap"), Whole: whole, Fallback: fallback, Days: days, Grown: f.grown(s),
		Gate: here.gate(s.Gates), NotRead: f.notRead(s.Stops, frame),
	}
	j.Margin = marginOf(s.Margin, days, j.Grown)
	all, err := f.metres(frame)
	if err != nil {
		return nil, err
	}
	j.Area = geo.Area(all)
	watch, err := f.zone(zones.Watch, frame, all)
	if err != nil {
		return nil, err
	}
	j.Watch = geo.Area(watch)
	zone := spray.Zone{Treat: all, Field: all, KeepOffs: j.KeepOffs, Margin: j.Margin}
	if !j.Whole {
		if zone.Treat, err = f.zone(zones.Treat, frame, all); err != nil {
			return nil, err
		}
		if len(zone.Treat) == 0 {
			return nil, errTreatOutside
		}
	}
	if zone.Neighbours, j.Shared, err = others(); err != nil {
		return nil, err
	}
	if zone.Closed, err = closedNear(s.Closed, here, all); err != nil {
		return nil, err
	}
	before := zone.Points()
	if s.MaxPoints > 0 {
		if zone, err = zone.Reduced(s.MaxPoints); err != nil {
			return nil, err
		}
	}
	if j.Ground, err = spray.NewTarget(zone); err != nil {
		return nil, err
	}
	j.Points = Points{Before: max(before, j.Ground.Points())}
	if s.MaxPoints > 0 {
		if j.Ground, err = j.Ground.Reduced(s.MaxPoints); err != nil {
			return nil, fmt.Errorf("--max-points %d: %w", s.MaxPoints, err)
		}
	}
	j.Points.After = j.Ground.Points()
	set := s.Spray
	if set.Rows, err = s.rows(f, here); err != nil {
		return nil, err
	}
	if err := j.overAntimeridian(j.Ground.Field); err != nil {
		return nil, err
	}
	if s.Cell > 0 {
		err = j.gridded(s.Cell, set)
	} else {
		j.Plan, err = spray.NewPlan(j.Ground, set)
	}
	if err != nil {
		return nil, err
	}
	if !(j.Plan.Cover.Sprayed > 0) { // slivers, such as between a keep-off and the edge
		return nil, spray.ErrNothing
	}
	if err := j.reaches(); err != nil {
		return nil, err
	}
	if s.MaxPoints > 0 {
		if j.Fewer, err = j.fewer(s.MaxPoints); err != nil {
			return nil, fmt.Errorf("--max-points %d: %w", s.MaxPoints, err)
		}
	}
	return j, nil
}
