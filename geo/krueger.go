package geo

// WGS 84: the two defining numbers of the ellipsoid (NGA.STND.0036_1.0.0_WGS84,
// 2014, table 3.1), and what follows from them. Go works out constant
// expressions exactly, so each coefficient below is rounded to a float64 once.
const (
	wgs84A = 6378137.0             // semi-major axis a, metres
	wgs84F = 1 / 298.257223563     // flattening f
	e2     = wgs84F * (2 - wgs84F) // squared first eccentricity e²

	n1 = wgs84F / (2 - wgs84F) // third flattening n
	n2 = n1 * n1
	n3 = n2 * n1
	n4 = n3 * n1
	n5 = n4 * n1
	n6 = n5 * n1

	// rectifyingRadius is the radius A of the circle as long as a meridian,
	// metres: Karney (2011), equation 14.
	rectifyingRadius = wgs84A / (1 + n1) * (1 + n2/4 + n4/64 + n6/256)
)

// alpha holds Krüger's coefficients from the conformal to the rectifying
// sphere, to order n⁶: C. F. F. Karney, "Transverse Mercator with an accuracy
// of a few nanometers", J. Geodesy 85 (2011) 475–485, equation 35.
func alpha() [6]float64 {
	return [6]float64{
		n1/2 - 2*n2/3 + 5*n3/16 + 41*n4/180 - 127*n5/288 + 7891*n6/37800,
		13*n2/48 - 3*n3/5 + 557*n4/1440 + 281*n5/630 - 1983433*n6/1935360,
		61*n3/240 - 103*n4/140 + 15061*n5/26880 + 167603*n6/181440,
		49561*n4/161280 - 179*n5/168 + 6601661*n6/7257600,
		34729*n5/80640 - 3418889*n6/1995840,
		212378941 * n6 / 319334400,
	}
}

// beta holds the coefficients of the way back: Karney (2011), equation 36.
func beta() [6]float64 {
	return [6]float64{
		n1/2 - 2*n2/3 + 37*n3/96 - n4/360 - 81*n5/512 + 96199*n6/604800,
		n2/48 + n3/15 - 437*n4/1440 + 46*n5/105 - 1118711*n6/3870720,
		17*n3/480 - 37*n4/840 - 209*n5/4480 + 5569*n6/90720,
		4397*n4/161280 - 11*n5/504 - 830251*n6/7257600,
		4583*n5/161280 - 108847*n6/3991680,
		20648693 * n6 / 638668800,
	}
}
