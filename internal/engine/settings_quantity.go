package engine

import (
	"strings"

	"github.com/geocoris/geocoris/internal/spraying/spray"
)

// A Quantity is a number with its unit; nil where none was typed.
type Quantity[M measure] struct{ Typed *Typed }

// Typed is a number as it was typed, in its unit and in the base unit.
type Typed = spray.Quantity

// Quantities by what they measure.
type (
	Length = Quantity[inLength] // m, ft, in, cm
	Speed  = Quantity[inSpeed]  // km/h, mph, m/s
	Time   = Quantity[inTime]   // s, min
	Rate   = Quantity[inRate]   // of the carrier: L/ha, gal/ac
	Volume = Quantity[inVolume] // L, gal
)

// measure is what a quantity is a measure of, with the units that may be typed.
type measure interface {
	parse(text string) (spray.Quantity, error)
	name() string
}

type (
	inLength struct{}
	inSpeed  struct{}
	inTime   struct{}
	inRate   struct{}
	inVolume struct{}
)

func (inLength) parse(text string) (spray.Quantity, error) { return spray.ParseLength(text) }
func (inSpeed) parse(text string) (spray.Quantity, error)  { return spray.ParseSpeed(text) }
func (inTime) parse(text string) (spray.Quantity, error)   { return spray.ParseTime(text) }
func (inRate) parse(text string) (spray.Quantity, error)   { return spray.ParseRate(text) }
func (inVolume) parse(text string) (spray.Quantity, error) { return spray.ParseVolume(text) }

func (inLength) name() string { return "length" }
func (inSpeed) name() string  { return "speed" }
func (inTime) name() string   { return "time" }
func (inRate) name() string   { return "rate" }
func (inVolume) name() string { return "volume" }

func (q *Quantity[M]) Set(text string) error {
	var m M
	v, err := m.parse(text)
	if err == nil {
		q.Typed = &v
	}
	return err
}

func (q *Quantity[M]) String() string { return q.text() }

func (q *Quantity[M]) Type() string {
	var m M
	return m.name()
}

// UnmarshalText takes what [Quantity.Set] takes; "" is none.
func (q *Quantity[M]) UnmarshalText(text []byte) error {
	if len(text) == 0 {
		q.Typed = nil
		return nil
	}
	return q.Set(string(text))
}

// MarshalText writes what [Quantity.UnmarshalText] reads.
func (q Quantity[M]) MarshalText() ([]byte, error) { return []byte(q.text()), nil }

func (q Quantity[M]) text() string {
	if q.Typed == nil {
		return ""
	}
	return strings.ReplaceAll(q.Typed.String(), " ", "")
}

// base is the number in the base unit; 0 where none was typed.
func (q Quantity[M]) base() float64 {
	if q.Typed == nil {
		return 0
	}
	return q.Typed.Base
}
