//go:build !small

package engine

import (
	"cmp"
	"context"
	"errors"
	"fmt"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/followup/compare"
	"github.com/geocoris/geocoris/internal/followup/season"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// A SeasonWriter is a season that is open to be added to.
type SeasonWriter interface {
	AddDay(v season.Visit, replace bool) (id int64, replaced []int64, err error)
	AddInPlace(v season.Visit, replace bool, visits ...int64) (id int64, replaced []int64, err error)
	AddTreatment(season.Record) (id int64, err error)
	Fields() ([]geo.Field, error)
}

// A SeasonAddRequest asks for a visit, treatments, or both to be added to a season.
type SeasonAddRequest struct {
	Season    string                       // its name, for messages
	Open      func() (SeasonWriter, error) // called once everything can be added
	Visit     *VisitRequest                // nil for none
	Replace   bool                         // the visit takes the place of one of the same day, or counts
	InPlaceOf []int64                      // and of those of these numbers
	Treated   *Source                      // treated ground; nil for none
	TreatedOn string                       // day of treatments that do not tell theirs
	Today     string                       // as for [MapRequest]
}

// A SeasonAddOutcome is what was stored; with an error, what was stored before it, and what
// was said of the counts.
type SeasonAddOutcome struct {
	Visits     []StoredVisit // one or none
	Treatments []StoredTreatment
	Rows       []string // of the counts: how many were set aside, and each; none for none
	Notes      []string
}

// A StoredVisit is a visit by its number in the season.
type StoredVisit struct {
	ID    int64
	Date  string // "" where not given
	Stops int
	// Beside is set where the season holds another visit to one of its fields, so that there is
	// something to be compared.
	Beside bool
}

// A StoredTreatment is a treatment by its number in the season.
type StoredTreatment struct {
	ID   int64
	Date string
}

// AddToSeason works everything out before anything is stored.
func AddToSeason(ctx context.Context, q SeasonAddRequest) (out SeasonAddOutcome, err error) {
	var visits []season.Visit
	if q.Visit != nil {
		v, said, err := visitOf(ctx, *q.Visit)
		if err != nil {
			return out, err
		}
		out.Rows, out.Notes = said.rows, said.notes
		visits = append(visits, v)
	}
	var treatments []compare.Treatment
	if q.Treated != nil {
		if treatments, err = TreatmentsOf(*q.Treated, q.TreatedOn); err != nil {
			return out, err
		}
	}
	file, err := q.Open()
	if err != nil {
		return out, err
	}
	if told, ok := file.(interface{ Notes() []string }); ok {
		out.Notes = append(out.Notes, told.Notes()...)
	}
	for _, v := range visits {
		before, err := file.Fields()
		if err != nil {
			return out, err
		}
		if err := q.store(file, v, &out); err != nil {
			return out, err
		}
		anew, err := drawnAnew(before, v.Fields)
		if err != nil {
			return out, err
		}
		out.Notes = append(out.Notes, anew...)
	}
	out.Notes = append(out.Notes, q.farDays(treatments)...)
	for _, t := range treatments {
		id, err := file.AddTreatment(season.Record{Date: t.Date, Note: t.Note, ReentryHours: t.ReentryHours, Ground: t.Ground})
		if errors.Is(err, season.ErrKnown) {
			out.Notes = append(out.Notes, fmt.Sprintf("%s: the treatment of %s is stored already, as treatment %d", q.Treated.Base(), t.Named(), id))
			continue
		}
		if err != nil {
			return out, err
		}
		out.Treatments = append(out.Treatments, StoredTreatment{id, t.Date})
	}
	notes, err := q.outside(file, treatments)
	out.Notes = append(out.Notes, notes...)
	return out, err
}

// farDays says of the days of treatments, each once, that they are still to come or long ago: a
// season is a list of days, of which one with a wrong year is never compared.
func (q SeasonAddRequest) farDays(treatments []compare.Treatment) (notes []string) {
	told := map[string]bool{}
	for _, t := range treatments {
		far := survey.FarDay(t.Date, q.Today)
		if far == "" || told[t.Date] {
			continue
		}
		told[t.Date] = true
		from := q.Treated.Base() + ": "
		if t.Date == q.TreatedOn {
			from = "--treated-on "
		}
		notes = append(notes, from+fmt.Sprintf("%s %s: check the year", t.Date, far))
	}
	return notes
}

// store adds a visit, in place of what it was asked to replace.
func (q SeasonAddRequest) store(file SeasonWriter, v season.Visit, out *SeasonAddOutcome) error {
	var id int64
	var replaced []int64
	var err error
	if len(q.InPlaceOf) > 0 {
		id, replaced, err = file.AddInPlace(v, q.Replace, q.InPlaceOf...)
	} else {
		id, replaced, err = file.AddDay(v, q.Replace)
	}
	if errors.Is(err, season.ErrKnown) {
		return q.known(id)
	}
	if err != nil {
		return q.held(err)
	}
	if q.Replace && len(replaced) == 0 {
		out.Notes = append(out.Notes, "--replace found no visit of the same day, or of the same counts, to replace; season list shows all, --replace-visit takes a number")
	}
	for _, n := range replaced {
		out.Notes = append(out.Notes, fmt.Sprintf("visit %d was replaced, as asked", n))
	}
	beside, err := BesideOthers(file, id)
	out.Visits = append(out.Visits, StoredVisit{id, v.Date, len(v.Stops), beside})
	return err
}

// BesideOthers reports whether a season that is open holds stops of other visits in a field in
// which a visit has stops, so that there is something to be compared.
func BesideOthers(file any, id int64) (bool, error) {
	told, ok := file.(interface {
		KeptStops() (map[int64]map[string]int, error)
	})
	if !ok {
		return false, nil
	}
	stops, err := told.KeptStops()
	if err != nil {
		return false, err
	}
	for other, fields := range stops {
		for field := range fields {
			if other != id && field != "" && stops[id][field] > 0 {
				return true, nil
			}
		}
	}
	return false, nil
}

// known says which visit the counts are already.
func (q SeasonAddRequest) known(id int64) error {
	return hinted(fmt.Errorf("%s: %w, as visit %d", season.Name(q.Season), season.ErrKnown, id),
		"nothing was added; to take out another visit of these counts, give its number: --replace-visit")
}

// held says what to do about a second visit of a field's day.
func (q SeasonAddRequest) held(err error) error {
	var held *season.HeldError
	if !errors.As(err, &held) {
		return err
	}
	hint := "nothing was added; geocoris season add --replace puts these counts in its place"
	by := cmp.Or(held.By, held.Anothers)
	switch {
	case held.Parts != "" && by == "":
		hint = fmt.Sprintf("nothing was added; if both are parts of one walk, geocoris season add --replace takes the files of both at once: %s, which season export gives back, and %s; if not, --replace-visit %d puts these counts in its place", held.Parts, listed(q.Visit.files()), held.Visit)
	case held.Parts != "" && season.Authors(q.Visit.Author) != "":
		hint = fmt.Sprintf("nothing was added; that one is %s's: add these counts to a season of your own; season merge keeps both, and compare takes parts of one walk as one visit", by)
	case held.Left != "":
		hint = "nothing was added; give the counts of all its fields"
	case held.Twin != 0:
		hint = "nothing was changed; season list shows which visit has which number"
	case by != "" && season.Authors(q.Visit.Author) != "":
		hint = fmt.Sprintf("nothing was added; that one is %s's: add these counts to a season of your own, and season merge keeps both", by)
	case by != "":
		hint = "nothing was added; if that one is yours, say so with --author; else add these counts to a season of your own: season merge keeps both"
	case held.Same:
		hint = "nothing was added; --replace puts them in its place, read as they are now; counts of another day want a column date"
	}
	return hinted(fmt.Errorf("%s: %w", season.Name(q.Season), err), hint)
}

// files are the names of the files of counts.
func (q VisitRequest) files() (names []string) {
	for _, s := range q.Samples {
		names = append(names, s.Base())
	}
	return names
}

// outside names the treatments that lie in no field of a season; one that has no fields
// yet says nothing of it.
func (q SeasonAddRequest) outside(file SeasonWriter, treatments []compare.Treatment) (notes []string, err error) {
	fields, err := file.Fields()
	if err != nil || len(fields) == 0 {
		return nil, err
	}
	outside, err := compare.Outside(fields, treatments)
	for _, t := range outside {
		notes = append(notes, fmt.Sprintf("%s: the treatment of %s lies in no field of the season so far", q.Treated.Base(), t.Named()))
	}
	return notes, err
}
