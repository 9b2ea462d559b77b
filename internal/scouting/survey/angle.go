package survey

import (
	"errors"
	"strconv"
	"strings"
)

// Signs that part degrees, minutes and seconds, and what they are read as.
var angleSigns = strings.NewReplacer(
	"°", " ", "º", " ", "˚", " ", "'", " ", "’", " ", "′", " ", "\"", " ", "”", " ", "″", " ", "´", " ",
	":", " ", "\u2212", "-", "\u00a0", " ")

// angleForm is up to three numbers with a letter for the hemisphere on either
// side, or a sign.
var angleForm = pattern(`^([NSEWnsew])?\s*([-+])?\s*(\d+(?:\.\d*)?)(?:\s+(\d+(?:\.\d*)?))?(?:\s+(\d+(?:\.\d*)?))?\s*([NSEWnsew])?$`)

var (
	errAngle      = errors.New("is no angle: want decimal degrees, or degrees, minutes and seconds")
	errHemisphere = errors.New("names a hemisphere twice")
	errMinutes    = errors.New("has minutes or seconds of 60 or more")
	errFraction   = errors.New("has a fraction before its last part")
	errNoPair     = errors.New("is no latitude and longitude in one")
	errOst        = errors.New("has the letter O, which is west in Spanish and east in German")
	errAxis       = errors.New("names a hemisphere of the other axis: latitude and longitude may be swapped")
)

// parseAngle reads degrees in any of the usual ways: -101.6, W101.6, 101.6 W,
// 101 36.0 W, 101°36'00"W. sexagesimal tells that there were minutes. letters are
// those of the axis, the positive one first: NS or EW.
func (d decimals) parseAngle(text, letters string) (degrees float64, sexagesimal bool, err error) {
	if v, err := d.parse(text); !errors.Is(err, errNotNumber) {
		return v, false, err
	}
	text = strings.TrimSpace(angleSigns.Replace(text))
	if d.comma {
		text = strings.ReplaceAll(text, ",", ".")
	}
	m := angleForm().FindStringSubmatch(text)
	if m == nil {
		return 0, false, errAngle
	}
	before, sign, after := strings.ToUpper(m[1]), m[2], strings.ToUpper(m[6])
	hemisphere := before + after
	if len(hemisphere) > 1 || hemisphere != "" && sign != "" {
		return 0, false, errHemisphere
	}
	if hemisphere != "" && !strings.Contains(letters, hemisphere) {
		return 0, false, errAxis
	}
	degrees, err = sexagesimalSum(m[3:6])
	if sign == "-" || hemisphere == letters[1:] && hemisphere != "" {
		degrees = -degrees
	}
	return degrees, m[4] != "", err
}

// sexagesimalSum adds degrees, minutes and seconds; only the last may have a
// fraction.
func sexagesimalSum(parts []string) (sum float64, err error) {
	unit := 1.0
	for i, part := range parts {
		if part == "" {
			break
		}
		v, err := strconv.ParseFloat(part, 64)
		if err != nil {
			return 0, errAngle
		}
		if i > 0 && v >= 60 {
			return 0, errMinutes
		}
		if i+1 < len(parts) && parts[i+1] != "" && strings.Contains(part, ".") {
			return 0, errFraction
		}
		sum += v / unit
		unit *= 60
	}
	return sum, nil
}
