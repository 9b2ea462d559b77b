//go:build !small

package engine

import (
	"bytes"
	"errors"
	"fmt"
	"slices"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/mapping/check"
	"github.com/geocoris/geocoris/internal/output/report"
)

// A CheckRequest asks what is wrong with a morning's samples.
type CheckRequest struct {
	Setup
	Samples  []Source
	Boundary *Source // nil for none
	Today    string  // as for [MapRequest]
}

// A CheckOutcome is what was found, and the files that hold it.
type CheckOutcome struct {
	Report *check.Report
	Files  []File
	// FarDays are lines on days of the counts that lie far from today.
	FarDays []string
	// Several tells that a field was counted at two visits, which map refuses; Undated that
	// their days do not tell them apart, so that compare asks too.
	Several, Undated bool
	// SlippedDay tells that some stops have the day of another month or year, which map refuses.
	SlippedDay bool
	fields     []geo.Field
}

// CheckFiles are the names of the files of Check.
var CheckFiles = [...]string{"problems.csv", "clean.csv", "clean.schema.json"}

// Check looks over a morning's counts before they are mapped. The clean file holds
// counts as they were entered: read with the same file of observers, it is corrected
// then, and not twice.
func Check(q CheckRequest) (*CheckOutcome, error) {
	var g ground
	if q.Boundary != nil {
		var err error
		if g, err = q.ground(*q.Boundary); err != nil {
			return nil, err
		}
	}
	q.uncounted = true
	entered, err := q.entered(g, q.Samples)
	if err != nil {
		return nil, err
	}
	if err := q.claim(&g, entered); err != nil {
		return nil, err
	}
	clean, err := check.RunBeside(entered, g.Fields, g.ClosedAt, q.Settings.OneVisit)
	if err != nil {
		return nil, err
	}
	found := clean
	if q.Settings.Observers != "" {
		corrected, err := q.byObserver(entered)
		if err != nil {
			return nil, err
		}
		if found, err = check.RunBeside(corrected, g.Fields, g.ClosedAt, q.Settings.OneVisit); err != nil {
			return nil, err
		}
	}
	found.Notes = slices.Concat(g.Notes, g.Warnings, found.Notes)
	if err := g.hold(entered); err != nil {
		found.Notes = append(found.Notes, err.Error())
	}
	list, err := q.rosterOn(g.Fields)
	if err == nil && q.Boundary != nil && len(list.Entries) > 0 {
		_, err = q.compared(list, g.Fields)
	}
	if err != nil {
		found.Notes = append(found.Notes, err.Error())
	}
	if doubted := doubtedVisit(g.Fields, entered, q.Settings.OneVisit); doubted != "" {
		found.Notes = append(found.Notes, doubted)
	}
	asked := oneVisit(g.Fields, entered, q.Settings.OneVisit)
	files, err := checked(found, clean)
	return &CheckOutcome{
		Report: found, Files: files, FarDays: entered.FarDays(q.Today),
		Several: asked != nil, SlippedDay: errors.As(asked, &slippedDay{}),
		fields:  g.Fields,
		Undated: oneVisit(g.Fields, undated(entered), q.Settings.OneVisit) != nil,
	}, err
}

// NoneUsed is what nothing usable at all comes to, as much as map makes of it; nil where
// some stop can be used.
func (o *CheckOutcome) NoneUsed() error {
	r := o.Report
	switch {
	case len(r.Stops()) > 0:
		return nil
	case r.Tally.Read == 0:
		return hinted(errors.New("no row below the header: nothing was counted"), "want a row for each leaf, plant or stop; geocoris template writes a table to fill in")
	case len(r.Away) > 0:
		return hinted(fmt.Errorf("no stop can be used: %d rows read, %d set aside, and no stop lies in a field", r.Tally.Read, r.Tally.SetAside), assess.WhyAway(o.fields, r.Away))
	}
	return hinted(fmt.Errorf("no row can be used: %d read, %d set aside", r.Tally.Read, r.Tally.SetAside), "look at the first rows that are named: most often one column is the cause")
}

func checked(found, entered *check.Report) ([]File, error) {
	var problems, clean, schema bytes.Buffer
	err := errors.Join(found.WriteProblems(&problems), entered.WriteClean(&clean), report.WriteJSON(&schema, check.Schema(entered.Columns())))
	return []File{{CheckFiles[0], problems.Bytes()}, {CheckFiles[1], clean.Bytes()}, {CheckFiles[2], schema.Bytes()}}, err
}
