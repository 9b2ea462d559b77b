package engine

import (
	"errors"
	"strconv"

	"github.com/geocoris/geocoris/internal/geometry/boundary"
	"github.com/geocoris/geocoris/internal/scouting/survey"
	"github.com/geocoris/geocoris/interp"
)

// Neighbors is a number of stops, or all of them.
type Neighbors struct{ Count int }

func (n *Neighbors) Set(text string) error {
	if text == "all" {
		n.Count = interp.AllNeighbors
		return nil
	}
	v, err := strconv.Atoi(text)
	if err != nil || v < 1 {
		return errors.New("want a number of 1 or more, or all")
	}
	n.Count = v
	return nil
}

func (n *Neighbors) String() string {
	if n.Count == interp.AllNeighbors {
		return "all"
	}
	return strconv.Itoa(n.Count)
}

func (n *Neighbors) Type() string { return "number" }

// UnmarshalText takes a number or a text of a settings file.
func (n *Neighbors) UnmarshalText(text []byte) error { return n.Set(string(text)) }

// MarshalText writes what [Neighbors.Set] reads.
func (n Neighbors) MarshalText() ([]byte, error) { return []byte(n.String()), nil }

// Inner is what an outline inside another one is, a hole or a field; "" is to be asked.
type Inner string

func (k *Inner) Set(text string) error {
	if text != boundary.InnerHole && text != boundary.InnerField {
		return errors.New("want hole or field")
	}
	*k = Inner(text)
	return nil
}

func (k *Inner) String() string { return string(*k) }
func (k *Inner) Type() string   { return "kind" }

// UnmarshalText takes a text of a settings file.
func (k *Inner) UnmarshalText(text []byte) error { return k.Set(string(text)) }

// UTCOffset is how far the clocks of the fields are from UTC; "" leaves it to the sun.
type UTCOffset string

func (o *UTCOffset) Set(text string) error {
	if text == "" {
		*o = ""
		return nil
	}
	minutes, err := survey.ParseUTCOffset(text)
	if err != nil {
		return err
	}
	*o = UTCOffset(survey.OffsetText(minutes))
	return nil
}

func (o *UTCOffset) String() string { return string(*o) }
func (o *UTCOffset) Type() string   { return "hours" }

// UnmarshalText takes a number or a text of a settings file.
func (o *UTCOffset) UnmarshalText(text []byte) error { return o.Set(string(text)) }

// DayOrder is what comes first in dates that can be read both ways.
type DayOrder = survey.DayOrder

// The orders of day and month.
const (
	DayFirst   = survey.DayFirst
	MonthFirst = survey.MonthFirst
)

// An OpenDay is a date of a file that can be two days.
type OpenDay = survey.OpenDay
