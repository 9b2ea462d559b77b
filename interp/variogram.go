package interp

import (
	"fmt"
	"math"
)

// A VariogramKind is the form in which the semivariance of values grows with
// the distance between their places. The zero value is no kind.
type VariogramKind int

// The kinds, for a partial sill c and a range a in metres, at distances h > 0
// (Chilès & Delfiner 2012, Geostatistics, 2nd ed., ch. 2). The range is the
// parameter of the formula: exponential and Matérn models reach 95 % of their
// sill at 3.0 a and 4.7 a, Gaussian ones at 1.7 a.
const (
	Spherical   VariogramKind = iota + 1 // c(1.5 h/a − 0.5 (h/a)³) up to a, c beyond
	Exponential                          // c(1 − exp(−h/a))
	Gaussian                             // c(1 − exp(−(h/a)²))
	Matern32                             // c(1 − (1 + h/a) exp(−h/a)): Matérn with smoothness 3/2
)

// String is the name of the kind in lower case.
func (k VariogramKind) String() string {
	switch k {
	case Spherical:
		return "spherical"
	case Exponential:
		return "exponential"
	case Gaussian:
		return "gaussian"
	case Matern32:
		return "matern 3/2"
	}
	return fmt.Sprintf("kind %d", int(k))
}

// shape is the correlation at a distance of u ranges: 1 at 0, falling to 0.
func (k VariogramKind) shape(u float64) float64 {
	switch k {
	case Spherical:
		if u >= 1 {
			return 0
		}
		return 1 - float64(u*(1.5-0.5*float64(u*u)))
	case Exponential:
		return math.Exp(-u)
	case Gaussian:
		return math.Exp(-float64(u * u))
	case Matern32:
		if math.IsInf(u, 1) {
			return 0
		}
		return (1 + u) * math.Exp(-u)
	}
	return math.NaN()
}

// A VariogramModel says how values at two places are related by the distance
// between them: the semivariance is 0 at distance 0, and Nugget plus the growing
// part above it.
type VariogramModel struct {
	Kind        VariogramKind
	Nugget      float64 // in the square of the values' unit
	PartialSill float64 // likewise; the sill is Nugget + PartialSill
	Range       float64 // metres, the a of the kind's formula
}

// Sill is the semivariance at great distance, and the covariance at 0.
func (m VariogramModel) Sill() float64 { return m.Nugget + m.PartialSill }

// Semivariance is half of the expected squared difference between two values h
// metres apart; NaN for a distance below 0.
func (m VariogramModel) Semivariance(h float64) float64 { return m.Sill() - m.Covariance(h) }

// Covariance is that of two values h metres apart. The nugget is part of it at
// distance 0 only.
func (m VariogramModel) Covariance(h float64) float64 {
	switch {
	case h == 0:
		return m.Sill()
	case h > 0:
		return m.PartialSill * m.Kind.shape(h/m.Range)
	}
	return math.NaN()
}

// Validate reports a model that no values can follow.
func (m VariogramModel) Validate() error {
	switch {
	case m.Kind < Spherical || m.Kind > Matern32:
		return fmt.Errorf("interp: variogram of %s: want spherical, exponential, gaussian or matern 3/2", m.Kind)
	case !(m.Nugget >= 0) || math.IsInf(m.Nugget, 0):
		return fmt.Errorf("interp: nugget %g: want a finite number of 0 or more", m.Nugget)
	case !(m.PartialSill >= 0) || math.IsInf(m.PartialSill, 0):
		return fmt.Errorf("interp: partial sill %g: want a finite number of 0 or more", m.PartialSill)
	case m.Sill() == 0:
		return fmt.Errorf("interp: nugget and partial sill are both 0: want one above 0")
	case !(m.Range > 0) || math.IsInf(m.Range, 0):
		return fmt.Errorf("interp: range %g m: want a finite number above 0", m.Range)
	}
	return nil
}
