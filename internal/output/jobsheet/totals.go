package jobsheet

import (
	"fmt"

	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/mapping/visit"
	"github.com/geocoris/geocoris/internal/spraying/handoff"
	"github.com/geocoris/geocoris/internal/spraying/spray"
)

// totalRows are the sums over all fields.
func (s Sheet) totalRows() []row {
	u, t := s.Units, s.Result.Totals()
	rows := []row{
		s.row("Red ground", u.Area(t.Treat)),
		s.row("To spray", u.Area(t.Sprayed)),
	}
	if when := s.whenFirst(); when != "" {
		rows = append(rows, s.row("When", when))
	}
	if t.Left > leastTold {
		rows = append(rows, s.row("Left unsprayed", u.Area(t.Left)))
	}
	if t.OutOfField >= leastSpilled {
		rows = append(rows, s.row("Past the fields' edges", u.Area(t.OutOfField)))
	}
	rows = append(rows, s.row("Passes", fmt.Sprint(t.Passes)), s.row("To drive", u.Say("%s, without the way from field to field", u.Way(t.On+t.Off))))
	if t.Seconds > 0 {
		rows = append(rows, s.row("Time", u.Say("%s; filling and the way from field to field not in it", figures.Duration(t.Seconds))))
	}
	return append(rows, s.mixOf(t.Sprayed)...)
}

// whenFirst is the day of the spraying, or the first of those to spray by, over all fields;
// "" where none has any.
func (s Sheet) whenFirst() string {
	u, first := s.Units, ""
	for _, j := range s.Result.Jobs {
		switch {
		case j.Days.Late:
			return u.Text("too late for some: scout again")
		case j.Days.SprayOn != "":
			return u.Day(j.Days.SprayOn)
		}
		first = visit.Earlier(first, j.SprayBy())
	}
	if first == "" {
		return ""
	}
	return u.Say("by %s", u.Day(first))
}

// whenShort is the same of a field for a column.
func (s Sheet) whenShort(j *handoff.Job) string {
	u := s.Units
	switch {
	case j.Days.Late:
		return u.Text("too late")
	case j.Days.SprayOn != "":
		return u.ShortDay(j.Days.SprayOn)
	case j.SprayBy() != "":
		return u.Say("by %s", u.ShortDay(j.SprayBy()))
	}
	return ""
}

// fieldRows is a line for each field, with its head; without columns of what was not typed
// in.
func (s Sheet) fieldRows() [][]string {
	u := s.Units
	columns := 3
	if s.Mix.Rate != nil {
		columns++
		if s.Mix.Tank != nil {
			columns++
		}
	}
	head := []string{u.Text("Field"), u.Text("To spray, when"), u.Text("Passes"), u.Text("Carrier"), u.Text("Tank loads")}
	rows := [][]string{head[:columns]}
	for _, j := range s.Result.Jobs {
		carrier, tanks := s.carrier(j)
		what := u.Area(j.Figures().Sprayed)
		if when := s.whenShort(j); when != "" {
			what += ", " + when
		}
		cells := []string{j.Field, what, fmt.Sprint(len(j.Plan.Passes)), carrier, tanks}
		rows = append(rows, cells[:columns])
	}
	return rows
}

// carrier is what a job takes, and in which loads; dashes where nothing was typed in.
func (s Sheet) carrier(j *handoff.Job) (volume, tanks string) {
	if s.Mix.Rate == nil {
		return "–", "–"
	}
	litres := spray.Carrier(j.Figures().Sprayed, s.Mix.Rate.Base)
	if s.Mix.Tank == nil {
		return s.Units.Volume(litres), "–"
	}
	return s.Units.Volume(litres), s.loads(spray.Loads(litres, s.Mix.Tank.Base))
}
