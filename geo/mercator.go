package geo

import "math"

const degree = math.Pi / 180

// sphere is a position on the rectifying sphere of the transverse Mercator
// projection: northing ξ and easting η in units of rectifyingRadius at scale 1,
// the northing counted from the equator.
type sphere struct{ xi, eta float64 }

// project takes a latitude and a longitude east of the central meridian, both
// in degrees. Its error is below 5 nm within 3900 km of the central meridian
// (Karney 2011, §5) and grows without bound beyond; a latitude outside
// [-90, 90] gives NaN.
func project(lat, dlon float64) sphere {
	if !(math.Abs(lat) <= 90) {
		return sphere{math.NaN(), math.NaN()}
	}
	sinPhi, cosPhi := math.Sincos(lat * degree)
	sinLam, cosLam := math.Sincos(dlon * degree)
	tau := conformalTan(sinPhi / cosPhi)
	xi := math.Atan2(tau, cosLam)
	eta := math.Asinh(sinLam / math.Hypot(tau, cosLam))
	d := sineSeries(alpha(), sphere{xi, eta})
	return sphere{xi + d.xi, eta + d.eta}
}

// unproject is the inverse of project.
func unproject(s sphere) (lat, dlon float64) {
	d := sineSeries(beta(), s)
	xi, eta := s.xi-d.xi, s.eta-d.eta
	sinXi, cosXi := math.Sincos(xi)
	sinhEta := math.Sinh(eta)
	tau := geographicTan(sinXi / math.Hypot(sinhEta, cosXi))
	return math.Atan(tau) / degree, math.Atan2(sinhEta, cosXi) / degree
}

// conformalTan gives the tangent of the conformal latitude from the tangent of
// the geographic latitude: Karney (2011), equations 7 to 9.
func conformalTan(tau float64) float64 {
	e := math.Sqrt(e2)
	sec := math.Hypot(1, tau)
	sigma := math.Sinh(e * math.Atanh(e*tau/sec))
	return tau*math.Hypot(1, sigma) - sigma*sec
}

// geographicTan undoes conformalTan by Newton's method: Karney (2011),
// equations 19 to 21. Two or three steps reach rounding; NaN stays NaN.
func geographicTan(conformal float64) float64 {
	const enough = 6
	tau := conformal / (1 - e2)
	for range enough {
		at := conformalTan(tau)
		step := (conformal - at) / math.Hypot(1, at) *
			(1 + (1-e2)*tau*tau) / ((1 - e2) * math.Hypot(1, tau))
		tau += step
		if math.Abs(step) <= 1e-15*math.Max(1, math.Abs(tau)) {
			break
		}
	}
	return tau
}

// sineSeries sums c[j-1]·sin(2jζ) over j = 1…6 for ζ = ξ + iη, by Clenshaw's
// recurrence.
func sineSeries(c [6]float64, s sphere) sphere {
	sin, cos := math.Sincos(2 * s.xi)
	sinh, cosh := math.Sinh(2*s.eta), math.Cosh(2*s.eta)
	twice := complex(2*cos*cosh, -2*sin*sinh)
	var b1, b2 complex128
	for j := len(c) - 1; j >= 0; j-- {
		b1, b2 = complex(c[j], 0)+twice*b1-b2, b1
	}
	sum := complex(sin*cosh, cos*sinh) * b1
	return sphere{real(sum), imag(sum)}
}

// wrap brings a longitude, or a difference of two, into [-180, 180] degrees;
// both ends stay as they are. It is exact.
func wrap(lon float64) float64 { return math.Remainder(lon, 360) }
