package verdict

import (
	"errors"
	"fmt"
	"math"
	"runtime"
	"sync"
	"time"

	"github.com/geocoris/geocoris/internal/assess"
	"github.com/geocoris/geocoris/internal/fieldstats"
)

// A Verdict is the answer for one field.
type Verdict struct {
	Field string
	Kind  Kind
	Line  string // the line of the table that decided
	Why   string
	More  int     // stops that would settle it; 0 where more stops are not the question
	Days  float64 // until the next look
	On    string  // the day of it, ISO 8601; "" where the samples tell no day
	// GoodFor is how many days the map is good for: until ground just below the
	// watch level can be over the threshold, or until the next visit where no
	// growth is known.
	GoodFor   float64
	GoodUntil string
	// AllOver is set where the pest was found at nearly all stops, LowNumbers besides where
	// the ground outside the treat zone is below the watch level and the field's mean
	// below the threshold.
	AllOver, LowNumbers bool
	Figures
}

// Decide finds the first line of the table that holds. Where none does, the figures
// lack something, and the verdict is to look again soon.
func Decide(f Figures, s Settings) Verdict {
	s = s.WithDefaults()
	allOver := f.Stats.Found.Share >= s.Everywhere
	for _, l := range table() {
		if !l.when(f, s) {
			continue
		}
		v := Verdict{Kind: l.kind, Line: l.name, Why: l.why, Days: s.Revisit, Figures: f, AllOver: allOver, LowNumbers: allOver && f.RestMean < f.Watch && f.Stats.Mean < f.Treat}
		if l.more != nil {
			v.More = max(1, l.more(f, s))
		}
		if l.days != nil {
			v.Days = l.days(f, s)
		}
		return v
	}
	return Verdict{Kind: LookAgain, Line: "nothing-holds", Why: "the figures do not tell", Days: s.RevisitFound, Figures: f}
}

// Of gives the verdict of each scouted field of a result, in their order.
func Of(r *assess.Result, s Settings) ([]Verdict, error) {
	if err := s.Validate(); err != nil {
		return nil, err
	}
	if s.Money != nil && s.Money.Price > 0 && r.Statistic.Tally > 0 {
		return nil, errors.New("the break-even test wants a mean for each unit; of a share, leave out price and loss")
	}
	if s.Revisit == 0 {
		s.Revisit = r.Levels.NextVisit
	}
	s = s.WithDefaults()
	var scouted []*assess.Field
	for _, f := range r.Fields {
		if f.Scouted() {
			scouted = append(scouted, f)
		}
	}
	all, errs := make([]Verdict, len(scouted)), make([]error, len(scouted))
	workersAtOnce := runtime.GOMAXPROCS(0)
	var workers sync.WaitGroup
	for first := range workersAtOnce {
		workers.Go(func() { // each field by itself, so that the result does not depend on how many
			for i := first; i < len(scouted); i += workersAtOnce {
				all[i], errs[i] = of(scouted[i], r, s)
			}
		})
	}
	workers.Wait()
	return all, errors.Join(errs...)
}

// of is the verdict of one field; settings have their defaults.
func of(f *assess.Field, r *assess.Result, s Settings) (Verdict, error) {
	g, err := FiguresOf(f, r, s)
	if err != nil {
		return Verdict{}, fmt.Errorf("field %q: %w", f.Name, err)
	}
	v := Decide(g, s)
	v.Field = f.Name
	v.GoodFor = goodFor(g, s)
	if days := r.Survey.Dates; len(days) > 0 { // of several the oldest decides how long the map is good
		v.On, v.GoodUntil = later(days[len(days)-1], v.Days), later(days[0], v.GoodFor)
	}
	return v, nil
}

// goodFor is when ground at the watch level reaches the threshold.
func goodFor(f Figures, s Settings) float64 {
	if f.Doubling > 0 && f.Watch > 0 {
		return math.Floor(f.Doubling*math.Log2(f.Treat/f.Watch) + 1e-9)
	}
	return s.Revisit
}

// later is a day so many days on, "" where the day is none.
func later(day string, days float64) string {
	t, err := time.Parse(time.DateOnly, day)
	if err != nil || !(days >= 0 && days < 3660) {
		return ""
	}
	return t.AddDate(0, 0, int(days)).Format(time.DateOnly)
}

// AcrossFields is how the scatter between stops grows with the mean over the fields
// of a morning (Taylor's power law); an error where too few of them tell.
func AcrossFields(all []Verdict) (fieldstats.PowerLaw, error) {
	var spreads []fieldstats.Spread
	for _, v := range all {
		spreads = append(spreads, fieldstats.Spread{Mean: v.Stats.Mean, Variance: v.Stats.Variance})
	}
	return fieldstats.FitPowerLaw(spreads)
}
