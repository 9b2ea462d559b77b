// Package check looks over a morning's samples before they are mapped: what is
// wrong with single rows the reader has named already; here is what only shows
// when rows are compared with one another and with the field.
//
// Findings are doubts: nothing is changed by them.
package check

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/mapping/fieldstats"
	"github.com/geocoris/geocoris/internal/scouting/survey"
	"github.com/geocoris/geocoris/internal/sorted"
)

const (
	// fewUnits: average at least five plants at a stop before mapping it (Elliott
	// et al. 2017, Southwest. Entomol. 42, by what they found).
	fewUnits = 5
	// farBack in minutes: a stop so much earlier than the one before is out of
	// order, a minute less is a clock.
	farBack = 1
)

// A Report is all that is to be said of the samples.
type Report struct {
	Survey    *survey.Survey
	Tally     survey.Tally
	Problems  []survey.Problem // of rows, from the reader
	Findings  []survey.Problem // of stops, from here
	Away      []survey.Stop    // that lie in no field, and are set aside
	Again     []survey.Stop    // that were counted again on a later day, and are set aside
	Displaced []survey.Stop    // that stand at the place of another, and are set aside
	Notes     []string         // on the fields; those of the survey stand with it
	Edge      []Edge
	Observers []Observer

	displaced []survey.Unread // their rows
	crowding  map[row]bool    // stops taken as extra, since others stand for their place
	oneVisit  bool
}

// row tells a stop from all others: by its first row.
type row struct {
	file string
	line int
}

func firstRow(s survey.Stop) row { return row{s.Records[0].File, s.Records[0].Line} }

// Edge compares the stops near a field's edge with those inside.
type Edge struct {
	Field            string
	Near, Inside     int     // stops
	NearMean, InMean float64 // of their means; NaN without any
	NearEdgeMetres   float64
}

// Observer is one who counted.
type Observer struct {
	Name  string  // "" where not given
	Stops int     // that the mean is of
	Extra int     // more stops, marked or taken as extra
	Mean  float64 // NaN of no stops
}

// Clean reports whether nothing is refused or doubted.
func (r *Report) Clean() bool { return len(r.Problems)+len(r.Findings) == 0 }

// ToPutRight reports whether rows are refused that somebody can put right: not those with
// nothing wrong in them ([survey.Problem.Settled]).
func (r *Report) ToPutRight() bool {
	return slices.ContainsFunc(r.All(), func(p survey.Problem) bool { return p.Severity == survey.Refused && !p.Settled() })
}

// Run looks over a survey, against fields where there are any.
func Run(s *survey.Survey, fields []geo.Field) (*Report, error) {
	return RunBeside(s, fields, func(float64, float64) string { return "" }, false)
}

// RunBeside is Run where it is known what ground in or beside the fields is closed, by
// longitude and latitude, "" where none is, and whether stops counted on several days are said to
// be of one visit.
func RunBeside(s *survey.Survey, fields []geo.Field, closed func(longitude, latitude float64) string, oneVisit bool) (*Report, error) {
	r := &Report{oneVisit: oneVisit, Survey: s, Tally: s.Tally, Problems: s.Problems, crowding: map[row]bool{}}
	r.plants()
	r.units()
	r.oddUnits()
	r.times()
	if len(fields) == 0 {
		r.days("", s.Stops)
	} else if err := r.places(fields, closed); err != nil {
		return r, err
	}
	r.observers()
	return r, nil
}

// Stops are those that are used: all but the ones in no field, counted again or out of place. They may not be changed.
func (r *Report) Stops() []survey.Stop {
	if len(r.Away)+len(r.Again)+len(r.Displaced) == 0 {
		return r.Survey.Stops
	}
	away := map[row]bool{}
	for _, s := range slices.Concat(r.Away, r.Again, r.Displaced) {
		away[firstRow(s)] = true
	}
	return slices.DeleteFunc(slices.Clone(r.Survey.Stops), func(s survey.Stop) bool { return away[firstRow(s)] })
}

// at is a finding about a stop, placed at its first row.
func at(s survey.Stop, column, value string) survey.Problem {
	rec := s.Records[0]
	return survey.Problem{File: rec.File, Line: rec.Line, Column: column, Value: value, Severity: survey.Doubtful}
}

// place is the column of a stop's place, and the place as findings show it: longitude first, or as
// the file's one column for both angles has it.
func (r *Report) place(s survey.Stop) (column, value string) {
	first, second := s.Longitude, s.Latitude
	column = "longitude"
	if one, is := r.Survey.OneCell[s.Records[0].File]; is {
		if column = one.Header; one.LatitudeFirst {
			first, second = second, first
		}
	}
	return column, fmt.Sprintf("%.6f, %.6f", first, second)
}

func (r *Report) found(p survey.Problem, what, fix string) {
	p.What, p.Fix = what, fix
	r.Findings = append(r.Findings, p)
}

// foundOf is found where what is said goes on from the name of the stop.
func (r *Report) foundOf(s survey.Stop, column, value, what, fix string) {
	p := at(s, column, value)
	p.Stop = s.Name
	r.found(p, what, fix)
}

// units names stops with little effort, and files in which it is given unevenly.
func (r *Report) units() {
	var few []survey.Stop
	one, more := 0, 0
	counted := 0
	for _, s := range r.Survey.Stops {
		if math.IsNaN(s.Total) {
			continue // plants were looked at, and nothing was counted on leaves
		}
		if thingOf(s.Records[0]) != "" { // ten sweeps, or a square metre, are no single leaf
			continue
		}
		counted++
		if s.Units < fewUnits {
			few = append(few, s)
		}
		if s.Records[0].Units == 1 {
			one++
		} else {
			more++
		}
	}
	// Where each row is a leaf, one stop may still hold many; where every stop has
	// few, it is the design and one line says it.
	switch {
	case len(few) == counted && counted > 0:
		r.found(at(few[0], "leaves", fmt.Sprint(few[0].Units)), fmt.Sprintf("no stop has %d leaves or more: single leaves say little of their place", fewUnits), "look at five plants or more a stop")
	default:
		for _, s := range few {
			r.foundOf(s, "leaves", fmt.Sprint(s.Units), fmt.Sprintf("has fewer than %d leaves", fewUnits), "look at five plants or more a stop")
		}
	}
	if one > 0 && more > 0 && min(one, more)*10 < one+more {
		r.found(survey.Problem{File: r.Survey.Files[0], Severity: survey.Doubtful, Column: "leaves"},
			fmt.Sprintf("%d stops begin with a row of one leaf, %d with one of several: are means and totals mixed?", one, more), "enter all rows alike")
	}
}

// oddUnits names stops whose leaves are far from those of the others.
func (r *Report) oddUnits() {
	for _, o := range r.Survey.Odd {
		what, fix := o.What()
		r.foundOf(o.Stop, o.Stop.Of().Column(), fmt.Sprint(o.Things()), what, fix)
	}
}

// times names stops that were counted out of their observer's order, in one file: two scouts
// who give no names have a file each, and two files stand in no order.
func (r *Report) times() {
	type walk struct{ file, observer string }
	last := map[walk]survey.Stop{}
	for _, s := range r.Survey.Stops {
		of := walk{s.Records[0].File, s.Observer}
		before, known := last[of]
		if known && s.Date == before.Date && minutes(s.Time)+farBack <= minutes(before.Time) {
			timed := s
			if i := slices.IndexFunc(s.Records, func(rec survey.Record) bool { return rec.Time == s.Time }); i > 0 {
				timed.Records = s.Records[i:]
			}
			r.foundOf(timed, "time", timed.Records[0].Clock, fmt.Sprintf("was counted before stop %s, which stands above it", before.Name), "check the clock and the order")
		}
		if s.Time != "" {
			last[of] = s
		}
	}
}

// minutes of the day; a time that is not given is never before another.
func minutes(clock string) int {
	var h, m int
	if n, _ := fmt.Sscanf(clock, "%d:%d", &h, &m); n != 2 {
		return math.MaxInt32
	}
	return 60*h + m
}

func (r *Report) observers() {
	index := map[string]int{}
	var sums []float64
	for _, s := range r.Stops() {
		i, known := index[s.Observer]
		if !known {
			i = len(r.Observers)
			index[s.Observer] = i
			r.Observers = append(r.Observers, Observer{Name: s.Observer})
			sums = append(sums, 0)
		}
		if s.Extra || r.crowding[firstRow(s)] {
			r.Observers[i].Extra++
			continue
		}
		r.Observers[i].Stops++
		sums[i] += s.Mean()
	}
	for i := range r.Observers {
		r.Observers[i].Mean = sums[i] / float64(r.Observers[i].Stops)
	}
}

// places compares the stops with the fields.
func (r *Report) places(fields []geo.Field, closed func(longitude, latitude float64) string) error {
	ground, away, err := assess.Place(fields, r.Survey.Stops)
	if err != nil {
		return err
	}
	r.Away = away
	for _, s := range away {
		r.Tally.Used -= len(s.Records)
		r.Tally.SetAside += len(s.Records)
		column, value := r.place(s)
		p := at(s, column, value)
		p.Severity, p.Stop = survey.Refused, s.Name
		r.found(p, "lies in no field, nor within 15 m of one", "check the place and the boundary")
	}
	for _, g := range ground {
		g = r.again(g)
		g = r.outOfPlace(g)
		r.outside(g, closed)
		r.sharedPlaces(g, r.together(g))
		r.edge(g)
		r.layout(g)
		r.days(g.Field, g.Stops)
	}
	r.ownDays(ground)
	return nil
}

// again sets the first counts of stops aside that were counted again, as a map does. Of two
// visits, which map asks about, it leaves both.
func (r *Report) again(g assess.Placed) assess.Placed {
	if !r.oneVisit && assess.TwoVisits(g).Again {
		return g
	}
	left, first, days := g.LaterCounts()
	r.Again = append(r.Again, first...)
	for i, s := range first {
		r.Tally.Used -= len(s.Records)
		r.Tally.SetAside += len(s.Records)
		for k := range s.Records {
			r.Findings = append(r.Findings, survey.AgainOn(&s.Records[k], days[i]))
		}
	}
	return left
}

// outOfPlace sets stops aside that stand at the place of another, as a map does.
func (r *Report) outOfPlace(g assess.Placed) assess.Placed {
	left, displaced, before := g.OutOfPlace(r.Survey)
	r.Displaced = append(r.Displaced, displaced...)
	for i, s := range displaced {
		r.Tally.Used -= len(s.Records)
		r.Tally.SetAside += len(s.Records)
		rows := s.WithoutPlace(before[i])
		p := rows[0].Problem
		p.Column, p.Value = r.place(s)
		p.Stop = s.Name
		r.Findings, r.displaced = append(r.Findings, p), append(r.displaced, rows...)
	}
	return left
}

// outside names the stops that lie outside their field, and in what.
func (r *Report) outside(g assess.Placed, closed func(longitude, latitude float64) string) {
	for i, s := range g.Stops {
		if g.Outside[i] == 0 {
			continue
		}
		where := fmt.Sprintf("lies %.0f m outside field %q and is counted in", g.Outside[i], g.Field)
		if in := closed(s.Longitude, s.Latitude); in != "" {
			where = fmt.Sprintf("lies in %s, %.0f m from field %q, and is counted in", in, g.Outside[i], g.Field)
		}
		column, value := r.place(s)
		r.foundOf(s, column, value, where, "check the place")
	}
}

func (r *Report) edge(g assess.Placed) {
	var extra []fieldstats.Stop
	stops, marked := make([]fieldstats.Stop, 0, len(g.Stops)), 0
	for i, s := range g.Stops {
		one := fieldstats.Stop{Value: s.Mean(), Inside: g.ToEdge[i]}
		if g.Outside[i] > 0 {
			one.Inside = -g.ToEdge[i]
		}
		if g.Extra[i] {
			extra = append(extra, one)
		} else {
			stops = append(stops, one)
		}
		if g.Extra[i] && !r.crowding[firstRow(s)] {
			marked++
		}
	}
	switch {
	case len(stops) == 0:
		stops = extra
	case marked > 0:
		r.extra(g.Field, marked)
	}
	parted := fieldstats.EdgeAgainstInterior(stops)
	e := Edge{
		Field: g.Field, NearEdgeMetres: fieldstats.EdgeStrip,
		Near: parted.EdgeStops, NearMean: parted.EdgeMean, Inside: parted.InteriorStops, InMean: parted.InteriorMean,
	}
	if len(g.Stops) > 0 {
		r.Edge = append(r.Edge, e)
	}
	if e.Near > 0 && e.Inside == 0 && g.HasInside(fieldstats.EdgeStrip) {
		r.found(survey.Problem{File: g.Stops[0].Records[0].File, Severity: survey.Doubtful}, fmt.Sprintf("field %q was only looked at within %d m of its edge", g.Field, fieldstats.EdgeStrip), "never decide on edge plants alone: walk into the field")
	}
}

// together names stops that stand together, so that they count for one place, and takes
// all but one of each as extra.
func (r *Report) together(g assess.Placed) []assess.Together {
	all := g.Together()
	for _, t := range all {
		s := g.Stops[t.At]
		column, value := r.place(s)
		r.foundOf(s, column, value, besides(t),
			"check the positions; give further stops round a hot one the kind extra")
		for _, i := range t.Others {
			r.crowding[firstRow(g.Stops[i])] = true
			g.Extra[i] = true
		}
	}
	return all
}

// farCount is how many times one of two counts of a place is the other before it is asked which
// holds (our choice).
const farCount = 2

// sharedPlaces names stops at one place of which the counts lie far apart.
func (r *Report) sharedPlaces(g assess.Placed, together []assess.Together) {
	for _, s := range assess.SharedPlaces(r.Survey, together, len(g.Stops), func(i int) *survey.Stop { return &g.Stops[i] }) {
		first, then := g.Stops[s.First], g.Stops[s.Then]
		least, most := min(first.Mean(), then.Mean()), max(first.Mean(), then.Mean())
		if most > farCount*least {
			column, at := r.place(then)
			r.foundOf(then, column, at, fmt.Sprintf("is at the place of stop %s, with less than half or more than twice its count: which holds?", first.Name), "take out the one that is wrong")
		}
	}
}

// besides tells how many stops stand so near to one.
func besides(t assess.Together) string {
	n, within := len(t.Others), max(1, math.Ceil(t.Within))
	switch {
	case t.Round: // of four stops at least
		return fmt.Sprintf("has %d more stops round it within %.0f m: they are in no average here, nor in map's if it is hot", n, within)
	case n == 1:
		return fmt.Sprintf("has 1 more stop within %.0f m, where places lie about %.0f m apart: they count for one place", within, t.Spacing)
	default:
		return fmt.Sprintf("has %d more stops within %.0f m, where places lie about %.0f m apart: they count for one place", n, within, t.Spacing)
	}
}

// extra tells that the means of a field leave out stops that were added where more was
// to be learnt.
func (r *Report) extra(field string, n int) {
	said := fmt.Sprintf("%d extra stops are not in the mean", n)
	if n == 1 {
		said = "1 extra stop is not in the mean"
	}
	r.Notes = append(r.Notes, fmt.Sprintf("field %q: %s", field, said))
}

// layout says which ground no stop speaks for.
func (r *Report) layout(g assess.Placed) {
	if lacking := assess.Lacking(g.Layout()); lacking != "" {
		r.found(survey.Problem{File: g.Stops[0].Records[0].File, Severity: survey.Doubtful}, fmt.Sprintf("field %q: %s", g.Field, lacking), "plan spreads stops over a field, and plan --after finds where more are needed")
	}
}

// All are the problems and findings in the order of files and lines.
func (r *Report) All() []survey.Problem {
	all := append(append([]survey.Problem(nil), r.Problems...), r.Findings...)
	order := map[string]int{}
	for i, f := range r.Survey.Files {
		order[f] = i
	}
	sorted.Stably(all, func(a, b survey.Problem) int {
		if a.File != b.File {
			return order[a.File] - order[b.File]
		}
		return a.Line - b.Line
	})
	return all
}

// Lines are all of them as text, those alike but for the row on one line.
func (r *Report) Lines(tell survey.Teller) []string {
	var lines []string
	for _, alike := range survey.TogetherAlike(r.All()) {
		lines = append(lines, tell(alike[0].Severity.String())+": "+strings.TrimSpace(alike.In(tell)))
	}
	return lines
}
