//go:build !small

package engine

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// oneVisit refuses counts that come in of two visits to a field: a map of both is of neither
// day, and what is to be sprayed by it would be due before the later one. So it is where the
// days of some stops are a slip, and where a table may hold two visits without their days. All is
// one visit where that was said (--one-visit): of places counted again the later counts are used.
func oneVisit(fields []geo.Field, counts *survey.Survey, said bool) error {
	days := counts.Dates
	if len(days) < 2 && len(counts.Visits) == 0 && !assess.StandApart(counts.Stops) && !assess.MayBeRenumbered(counts.Stops) && !assess.MayStandElsewhere(counts.Stops) {
		return nil
	}
	placed, _, err := assess.Place(fields, counts.Stops)
	if err != nil {
		return err
	}
	for _, p := range placed {
		field := fmt.Sprintf("field %q: ", p.Field)
		if err := oneColumn(p.Stops, counts.Visits, field, said); err != nil {
			return err
		}
		if err := oneWalk(p, said); err != nil {
			return err
		}
		if err := oneTable(p.Stops, field); err != nil {
			return err
		}
		if stood := p.Renumbered(); stood.TwoTables() {
			return standTwice(stood, field, " stand twice, under other names", giveDates)
		}
		if n := p.StoodElsewhere(); n > 0 && !said {
			return doubtOf(fmt.Errorf("%s%d names of stops stand twice, at other places and without a day: are these two visits?", field, n), true, func(w visitWords) string {
				return "if so, map each alone, or give each its date; if they are parts of one visit, " + w.oneVisit
			})
		}
	}
	return nil
}

// undated are counts less their stops of known days, by which compare parts them.
func undated(counts *survey.Survey) *survey.Survey {
	left := *counts
	left.Stops = slices.DeleteFunc(slices.Clone(counts.Stops), func(s survey.Stop) bool { return s.Date != "" })
	left.Dates = nil
	return &left
}

// leastAgain is how many stops of two rounds are more than a stop that was walked to twice (our
// choice).
const leastAgain = 3

// oneColumn refuses stops of a table with a column that tells of several visits, where no day
// does: of weeks, or of rounds at the same stops. Rounds are parts of one visit where that was
// said, and weeks are at other stops.
func oneColumn(stops []survey.Stop, columns []survey.VisitColumn, field string, said bool) error {
	for _, v := range columns {
		values, again := v.In(stops)
		if len(values) < 2 || (said || again < leastAgain) && !v.Week || said && again < leastAgain {
			continue
		}
		last, walk, parts := len(values)-1, again < leastAgain, again >= leastAgain && !v.Week
		return doubtOf(fmt.Errorf("%scolumn %q of %s has %s and %s, and rows without a day: which visit is meant?", field, v.Column, v.File, strings.Join(values[:last], ", "), values[last]), walk || parts, func(w visitWords) string {
			hint := "keep the rows of one alone, give each row its date, or compare a file of each with --dates"
			switch {
			case walk:
				hint += "; if it is one walk that was finished later, " + w.oneVisit
			case parts:
				hint += "; if they are parts of one visit, " + w.oneVisit
			}
			if v.Week {
				hint += "; if it tells of something else, give the column another name"
			}
			return hint
		})
	}
	return nil
}

// visitWords are what to do with counts that may be of two visits, as who asks for them says it.
type visitWords struct {
	oneVisit string // for all to be one visit
	goesBy   string // likewise, which goes by something
	two      string // with two of them
}

var (
	mapWords     = visitWords{"give --one-visit", "--one-visit goes by", "keep the rows of one alone; compare takes both"}
	pageWords    = visitWords{"say so here", "say so here, which goes by", "keep the rows of one alone; Weeks compares both"}
	compareWords = visitWords{"give --one-visit", "--one-visit goes by", bothVisits}
)

// A visitDoubt is that counts may be of two visits, for who maps one.
type visitDoubt struct {
	HintedError
	hint func(visitWords) string
}

// Unwrap is what a screen says of it.
func (d visitDoubt) Unwrap() error { return d.HintedError }

// doubtOf is a doubt with what to do about it; a page asks where --one-visit may answer it.
func doubtOf(err error, answered bool, hint func(visitWords) string) error {
	d := visitDoubt{HintedError{Err: err, Hint: hint(mapWords), OnPage: hint(pageWords)}, hint}
	if answered {
		d.Setting = "one-visit"
	}
	return d
}

// A slippedDay is that of stops whose day is of another month or year than the others'.
type slippedDay struct{ error }

// oneWalk refuses stops of a field that are of two visits by their days, or have the day of
// another.
func oneWalk(p assess.Placed, said bool) error {
	u := figures.Both
	two := assess.TwoVisits(p)
	if said {
		two = assess.Visits{}
	}
	last, next := u.DayBeside(two.Last, two.Next), u.DayBeside(two.Next, two.Last)
	apart := assess.DaysApart(p)
	switch {
	case len(apart.Names) > 0 && (!two.Two() || apart.Swapped):
		stops, are, hint := "stop", "is", "correct its date, or take it out"
		if len(apart.Names) > 1 {
			stops, are, hint = "stops", "are", "correct their dates, or take them out"
		}
		if apart.Swapped {
			hint = "day and month are swapped in one of the two: write all days as YYYY-MM-DD"
		}
		return hinted(slippedDay{fmt.Errorf("field %q: %s %s %s of %s, the others of %s", p.Field, stops, survey.Listed(apart.Names), are, u.DayOfYear(apart.Day), u.DayOfYear(apart.Others))}, hint)
	case two.Again:
		return doubtOf(fmt.Errorf("field %q was counted on %s and again on %s: which visit is meant?", p.Field, last, next), true, func(w visitWords) string {
			return w.two + "; if it is one walk, " + w.goesBy + " the later count of each stop"
		})
	case two.Two():
		return doubtOf(fmt.Errorf("field %q was counted on %s and at other stops on %s: one visit, or two?", p.Field, last, next), true, func(w visitWords) string {
			return "if it is one walk that was finished later, " + w.oneVisit + "; if two, " + w.two + "; if stops were added round hot ones, mark these extra in a column kind"
		})
	}
	return nil
}

// oneTable refuses stops of which nearly all stand twice with different counts, in their table
// or in two.
func oneTable(stops []survey.Stop, field string) error {
	if in := assess.StoodInFiles(stops); in.TwoTables() {
		return standTwice(in.Stood, field, fmt.Sprintf(" of %s stand in %s too", in.File, in.Other), "if so, map each alone, or give each its date; of two scouts, give each row its observer; of upper and lower leaves, its leaf")
	}
	stood := assess.StoodTwice(stops)
	if !stood.TwoTables() {
		return nil
	}
	return standTwice(stood, field, " stand twice", giveDates)
}

// giveDates is what to do with a table that may hold two visits.
const giveDates = "if so, give each its date; if not, take out the wrong half; of two scouts, give each row its observer; of upper and lower leaves, its leaf"

func standTwice(stood assess.Stood, field, stand, hint string) error {
	// of how many is not said: what is equal in both was dropped as a copy
	which := fmt.Sprintf("%d stops", stood.Twice)
	differ := "with different counts"
	if stood.Different < stood.Twice {
		differ = fmt.Sprintf("%d of them %s", stood.Different, differ)
	}
	return hinted(fmt.Errorf("%s%s%s, %s: are these two visits?", field, which, stand, differ), hint)
}

// doubtedVisit is what [oneVisit] says, for who maps nothing; "" for nothing.
func doubtedVisit(fields []geo.Field, counts *survey.Survey, said bool) string {
	var err error
	if fields == nil {
		if err = oneColumn(counts.Stops, counts.Visits, "", said); err == nil {
			err = oneTable(counts.Stops, "")
		}
	} else {
		err = oneVisit(fields, counts, said)
	}
	if err == nil {
		return ""
	}
	text := err.Error()
	if h := (HintedError{}); errors.As(err, &h) {
		text += " (" + h.Hint + ")"
	}
	return text
}
