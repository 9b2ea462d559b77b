package observer

import (
	"fmt"
	"math"
	"slices"

	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// A CorrectedStop is what the correction did to a stop of the survey, in its order.
type CorrectedStop struct {
	Corrected bool
	Before    float64 // mean per unit as estimated
	// CV is the standard deviation that the estimate adds to the stop's mean, as part
	// of it: of single leaves, which many leaves lessen, and of the observer's
	// line, which they do not.
	CV float64
	// Low and High bound the stop's mean with 95 % as far as the estimate goes (the
	// corrected rows together are normal on the logarithm), about the ends of classes
	// where counts were entered as such; counting few leaves comes on top. The Low and
	// High of the corrected survey's rows are the parts of it that fall to them, so
	// that they add up to it; see [survey.Stop.Bounds].
	Low, High float64
}

// Correct returns the survey with its counts corrected and what was done at each
// stop; what it was given stays as it is. Notes of the survey say whose counts
// were corrected and by how much, and whose were not.
func Correct(s *survey.Survey, file File) (*survey.Survey, []CorrectedStop) {
	out := *s
	out.Stops = slices.Clone(s.Stops)
	done := make([]CorrectedStop, len(out.Stops))
	sums := newSums()
	for i := range out.Stops {
		done[i] = correctStop(&out.Stops[i], file, sums)
	}
	out.Notes = append(slices.Clone(s.Notes), sums.notes()...)
	out.Unread = slices.Clone(s.Unread)
	for i := range out.Unread {
		correctUnread(&out.Unread[i], file)
	}
	return &out, done
}

func correctStop(stop *survey.Stop, file File, all *sums) CorrectedStop {
	done := CorrectedStop{Before: stop.Mean()}
	stop.Records = slices.Clone(stop.Records)
	stop.Total = 0
	noise := newNoise()
	for k := range stop.Records {
		r := &stop.Records[k]
		fit := file.Find(r.Observer)
		all.row(*r, fit)
		if fit != nil && !math.IsNaN(r.Total) {
			done.Corrected = true
			c := fit.Correct(r.Total / r.Units)
			r.Low, r.High = fit.Correct(r.Low/r.Units).Count*r.Units, fit.Correct(r.High/r.Units).Count*r.Units
			r.Total = c.Count * r.Units
			all.corrected(*r, c)
			noise.add(*r, fit, c)
		}
		stop.Total += r.Total
	}
	if cv := noise.cv(); cv > 0 {
		done.CV = cv * noise.total / stop.Total
		widen(stop.Records, file, math.Exp(1.96*math.Sqrt(math.Log1p(sq(cv)))))
	}
	done.Low, done.High = stop.Bounds()
	return done
}

// correctUnread corrects what a row that was not read tells of its count.
func correctUnread(u *survey.Unread, file File) {
	fit := file.Find(u.Row.Observer)
	if fit == nil {
		return
	}
	whole := u.Counted()
	u.Least = fit.Correct(u.Least).Count
	if !math.IsInf(u.Most, 1) {
		u.Most = fit.Correct(u.Most).Count
	}
	if whole {
		u.Row.Total = u.Least * u.Row.Units
	}
}

// widen moves the ends of the corrected rows apart by a factor. It is one of the
// stop's mean, not of a single leaf: rows that err apart make up for one another.
func widen(rows []survey.Record, file File, factor float64) {
	for k := range rows {
		if r := &rows[k]; file.Find(r.Observer) != nil {
			r.Low, r.High = r.Low/factor, r.High*factor
		}
	}
}

// noise is what the eye adds to the corrected rows of a stop.
type noise struct {
	total  float64          // of these rows, corrected
	leaves float64          // variance of single leaves
	shared map[*Fit]float64 // by each line, the deviation that all its leaves share
	lines  []*Fit
}

func newNoise() *noise { return &noise{shared: map[*Fit]float64{}} }

func (n *noise) add(r survey.Record, fit *Fit, c Corrected) {
	n.total += r.Total
	n.leaves += r.Units * sq(c.Count) * max(0, sq(c.CV)-sq(c.LineCV))
	if _, known := n.shared[fit]; !known {
		n.lines = append(n.lines, fit)
	}
	n.shared[fit] += r.Total * c.LineCV
}

// cv is the standard deviation of the total, as part of it; 0 where all is empty.
func (n *noise) cv() float64 {
	if n.total <= 0 {
		return 0
	}
	variance := n.leaves
	for _, fit := range n.lines {
		variance += sq(n.shared[fit])
	}
	return math.Sqrt(variance) / n.total
}

func sq(v float64) float64 { return float64(v * v) }

// sums are what the notes are made of, by observer in the order of appearance.
type sums struct {
	order []string
	by    map[string]*sum
}

type sum struct {
	name                string
	rows                int
	fit                 *Fit
	before, after, wide float64 // wide: rows beyond what was practised
}

func newSums() *sums { return &sums{by: map[string]*sum{}} }

func (s *sums) row(r survey.Record, fit *Fit) {
	key := Key(r.Observer)
	if s.by[key] == nil {
		s.by[key] = &sum{name: r.Observer, fit: fit}
		s.order = append(s.order, key)
	}
	s.by[key].rows++
	s.by[key].before += r.Total
}

func (s *sums) corrected(r survey.Record, c Corrected) {
	o := s.by[Key(r.Observer)]
	o.after += r.Total
	if c.Outside {
		o.wide++
	}
}

func (s *sums) notes() (notes []string) {
	for _, key := range s.order {
		o := s.by[key]
		name := o.name
		if name == "" {
			name = "rows without an observer"
		}
		switch {
		case o.fit == nil:
			notes = append(notes, fmt.Sprintf("%s: %d rows not corrected: no calibration", name, o.rows))
		case o.before > 0:
			notes = append(notes, fmt.Sprintf("%s: %d rows corrected by calibration, %.2f times as many in all%s", name, o.rows, o.after/o.before, o.beyond()))
		default:
			notes = append(notes, fmt.Sprintf("%s: %d rows, all empty, stay as they are", name, o.rows))
		}
	}
	return notes
}

func (o *sum) beyond() string {
	if o.wide == 0 {
		return ""
	}
	return fmt.Sprintf("; %.0f of them beyond what was practised", o.wide)
}
