package engine

import (
	"errors"
	"math"
	"strconv"
	"strings"
)

// A Place is a longitude and a latitude in degrees.
type Place [2]float64

// UnmarshalText takes a text such as "-101.6053,35.8925", longitude first.
func (p *Place) UnmarshalText(text []byte) error {
	wrong := errors.New("want longitude,latitude in degrees")
	parts := strings.FieldsFunc(string(text), func(r rune) bool { return r == ',' || r == ' ' })
	if len(parts) != 2 {
		return wrong
	}
	var at Place
	for i, limit := range []float64{180, 90} {
		v, err := strconv.ParseFloat(parts[i], 64)
		if err != nil || !(math.Abs(v) <= limit) {
			return wrong
		}
		at[i] = v
	}
	*p = at
	return nil
}

// MarshalText writes what [Place.UnmarshalText] reads.
func (p Place) MarshalText() ([]byte, error) { return []byte(p.String()), nil }

func (p Place) String() string {
	return strconv.FormatFloat(p[0], 'f', -1, 64) + "," + strconv.FormatFloat(p[1], 'f', -1, 64)
}

// Places are several.
type Places []Place

// Set adds one.
func (p *Places) Set(text string) error {
	var one Place
	err := one.UnmarshalText([]byte(text))
	if err == nil {
		*p = append(*p, one)
	}
	return err
}

func (p *Places) String() string { return spaced(*p) }

// Type names a value in a command's help.
func (p *Places) Type() string { return "LON,LAT" }
