package verdict

import (
	"errors"
	"runtime"
	"slices"
	"sync"

	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/mapping/fieldstats"
	"github.com/geocoris/geocoris/internal/mapping/visit"
)

// A Verdict is the answer for one field.
type Verdict struct {
	Field string
	Kind  Kind
	Line  string   // the line of the table that decided
	Says  string   // its reason in a few words, for a heading; "" where the kind says it
	Where string   // more stops are to be walked; "" for anywhere
	Round []string // stops that they are to be walked round, by name; nil for none, or not known
	// InsideOf are stops of the edge that one more is to be walked inside of, by name; nil for
	// none, or not known.
	InsideOf []string
	// Fill is set where more stops are to be walked on the ground that lies farthest from any:
	// whatever was counted does not choose their places, so that they are part of the sample.
	Fill bool
	Why  string
	// Instead is what to do where more stops are to be walked and cannot be today; None of
	// other kinds.
	Instead Kind
	// Close is a call in which another choice is expected to cost about as much. Saves is
	// what Further more stops would save on average over such fields, in money, or without
	// prices in treatments times m²; StopsCost what walking them costs, 0 where not known.
	Close            bool
	Saves, StopsCost float64
	More             int     // stops that would settle it; 0 where more stops are not the question
	Days             float64 // from the last count until the next look; where more stops are needed, until it at the latest
	On               string  // the day of it, ISO 8601; "" where the samples tell no day
	// GoodFor is how many days the map is good for: until ground just below the
	// watch level can be over the threshold, or until the next visit where no
	// growth is known.
	GoodFor   float64
	GoodUntil string
	// Stale is a field whose first counts were too old for its map when the last were
	// taken.
	Stale bool
	// AllOver is set where the pest was found at nearly all stops, LowNumbers besides where
	// the ground outside the treat zone is below the watch level and the field's mean
	// below the threshold.
	AllOver, LowNumbers bool
	// Unread are rows of the field that were not read, and Undated how many that were
	// used have a day that could not be. Without is what the rows that were read say by
	// themselves, where reading the others first is the verdict; else None. Where that is
	// undecided as well, Says, Where, Round and More are of it: both are to be done today.
	Unread  []assess.Unread
	Undated int
	Without Kind
	// Shared are pairs of stops at one place whose counts are of different zones, so that one of
	// them may be another place's.
	Shared []assess.SharedPlace
	// Away are stops of the field's files that lie in no field, where any of them is at
	// or above the watch level; AwayLoose is set where they may be another field's.
	Away      int
	AwayLoose bool
	// Shut are those of them, at or above the watch level, that lie in what was left out of
	// the field, the highest first.
	Shut []assess.Shut

	Figures
}

// Decide finds the first line of the table that holds. Where none does, the figures
// lack something, and the verdict is to look again soon.
func Decide(f Figures, s Settings) Verdict { return decide(table(), f, s) }

func decide(lines []line, f Figures, s Settings) Verdict {
	s = s.WithDefaults()
	partial := f.layout.Stops > 0 && f.layout.Partial() // who stood in a part has not seen the rest
	allOver := f.Stats.Found.Share >= s.Everywhere && !partial
	for _, l := range lines {
		if !l.when(f, s) {
			continue
		}
		v := Verdict{Kind: l.kind, Line: l.name, Says: l.says, Where: l.where, Why: l.why, Days: s.Revisit, Figures: f, AllOver: allOver, LowNumbers: allOver && f.RestMean < f.Watch && f.Stats.Mean < f.Treat}
		if l.round && f.hotPlaces() <= fewOver {
			v.Round = f.HotInside
		}
		if l.inside {
			v.InsideOf = f.HotEdge
		}
		if l.more != nil {
			v.More, v.Fill = max(1, min(s.MostStops, l.more(f, s))), !l.round && !l.inside
		}
		if l.few {
			v.More = enough(lines, f, s)
		}
		if v.Anew() {
			v.Where = wholeField
		}
		switch {
		case l.days != nil:
			v.Days = l.days(f, s)
		case l.kind == Undecided:
			v.Days = soon(f, s)
		}
		if l.kind == Undecided {
			v.Instead = f.instead(s)
		}
		v.Days = v.beforeOver(v.Days)
		v.worth(s)
		return v
	}
	v := Verdict{Kind: LookAgain, Line: "nothing-holds", Says: "the figures do not say", Why: "the figures do not say", Figures: f}
	v.Days = v.beforeOver(s.RevisitFound)
	return v
}

// On is the verdict of a field by its name, of those given; ok is false where none is its.
func On(all []Verdict, field string) (v Verdict, ok bool) {
	for _, v := range all {
		if v.Field == field {
			return v, true
		}
	}
	return v, false
}

// Of gives the verdict of each field of a result in which somebody counted, in their
// order.
func Of(r *assess.Result, s Settings) ([]Verdict, error) {
	judge, err := JudgeOf(r, s)
	if err != nil {
		return nil, err
	}
	var counted []*assess.Field
	for _, f := range r.Fields {
		if f.Scouted() || f.NoneRead() {
			counted = append(counted, f)
		}
	}
	all := make([]Verdict, len(counted))
	workersAtOnce := runtime.GOMAXPROCS(0)
	var workers sync.WaitGroup
	for first := range workersAtOnce {
		workers.Go(func() { // each field by itself, so that the result does not depend on how many
			for i := first; i < len(counted); i += workersAtOnce {
				all[i] = judge.Of(counted[i])
			}
		})
	}
	workers.Wait()
	return all, nil
}

// A Judge gives the verdicts of fields of one result, each by itself.
type Judge struct {
	result   *assess.Result
	settings Settings // with their defaults
	shut     assess.ShutAt
}

// JudgeOf settles by what the fields of a result are judged: only of the one judged more
// has to be known than its stops and levels.
func JudgeOf(r *assess.Result, s Settings) (Judge, error) {
	if err := s.Validate(); err != nil {
		return Judge{}, err
	}
	if s.Money != nil && s.Money.Price > 0 && (r.Statistic.Share() || slices.ContainsFunc(r.Fields, func(f *assess.Field) bool { return f.Statistic.Share() })) {
		return Judge{}, errors.New("the break-even test wants a mean for each unit; of a share, leave out price and loss")
	}
	if s.Revisit == 0 {
		s.Revisit = r.Levels.NextVisit
	}
	return Judge{result: r, settings: s.WithDefaults()}, nil
}

// Of is the verdict of a field in which somebody counted.
func (j Judge) Of(f *assess.Field) Verdict { return of(f, j.result, j.shut, j.settings) }

// of is the verdict of one field; settings have their defaults.
func of(f *assess.Field, r *assess.Result, shut assess.ShutAt, s Settings) Verdict {
	r = r.Of(f)
	if f.NoneRead() {
		return noneRead(f, r, s)
	}
	v := Decide(FiguresOf(f, r, s), s)
	v.Field = f.Name
	v.readFirst(f, r, s)
	v.Away, v.AwayLoose = r.AwayFrom(f, v.Watch)
	v.placesFirst(f, r, shut, s)
	return v.Dated(f.Days(), s.Revisit)
}

// Dated is a verdict with its days, by those on which the field was counted, in their
// order, and the usual days to the next visit: of several the oldest decides how long
// the map is good, and the last from when on the next look is. That look is no later than
// the map is good, and after the last count ([visit.NextLook]). Where the first counts are
// too old by the last, they are to be made again on the day of that.
func (v Verdict) Dated(counted []string, usual float64) Verdict {
	v.GoodFor = visit.GoodFor(v.Treat, v.Watch, v.Doubling, usual)
	v.Days = max(1, min(v.Days, v.GoodFor))
	if len(counted) == 0 {
		return v
	}
	first, last := counted[0], counted[len(counted)-1]
	v.GoodUntil = visit.After(first, v.GoodFor)
	v.On = visit.NextLook(last, v.Days, v.GoodUntil)
	if v.Stale = v.GoodUntil < last; v.Stale {
		v.On = last // the old stops are to be counted again at once
	}
	v.Days = visit.Between(last, v.On)
	return v
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
