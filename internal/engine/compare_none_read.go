//go:build !small

package engine

import (
	"errors"
	"fmt"
	"strings"

	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/mapping/verdict"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// noneRead are visits of which nothing was read in a field though somebody counted there. The
// comparison goes without them, but the answer of the visit before is not that of now.
type noneRead []noneReadVisit

type noneReadVisit struct {
	field  string
	day    string          // the last that its rows tell; "" where they tell none
	answer verdict.Verdict // of no meaning with an error
	err    error           // of a visit that has nothing else
}

// add takes those among the verdicts of a visit.
func (n *noneRead) add(answers []verdict.Verdict, counts *survey.Survey) {
	for _, v := range answers {
		if v.NoneRead() {
			*n = append(*n, noneReadVisit{v.Field, lastDay(counts), v, nil})
		}
	}
}

// refused takes a visit that was left out since nothing was read in the fields asked for.
func (n *noneRead) refused(err error, counts *survey.Survey) {
	var none assess.NoneReadError
	if !errors.As(err, &none) {
		return
	}
	for _, field := range none.Fields {
		*n = append(*n, noneReadVisit{field: field, day: lastDay(counts), err: fmt.Errorf("%s: %w", strings.Join(counts.Files, ", "), err)})
	}
}

// since is the answer of the last of such visits to a field that is no older than a day.
func (n noneRead) since(field, day string) (v verdict.Verdict, is bool, err error) {
	last := -1
	for i, one := range n {
		if one.field == field && (one.day == "" || one.day >= day) && (last < 0 || one.day == "" || one.day >= n[last].day && n[last].day != "") {
			last = i
		}
	}
	if last < 0 {
		return v, false, nil
	}
	return n[last].answer, true, n[last].err
}

// lastDay is the last day that the counts of a visit tell, be it of rows that could not be read.
func lastDay(counts *survey.Survey) (day string) {
	if n := len(counts.Dates); n > 0 {
		return counts.Dates[n-1]
	}
	for _, u := range counts.Unread {
		day = max(day, u.Row.Date)
	}
	return day
}
