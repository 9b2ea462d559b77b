package jobsheet

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/spraying/spray"
)

// Units say in which units figures are shown.
type Units string

// The choices of units; [Both] shows metric with US in brackets.
const (
	Both   Units = ""
	Metric Units = "metric"
	US     Units = "us"
)

func (u Units) choose(metric, us string) string {
	switch u {
	case Metric:
		return metric
	case US:
		return us
	}
	return metric + " (" + us + ")"
}

func (u Units) area(m2 float64) string {
	return u.choose(fixed(m2/geo.SquareMetresPerHectare)+" ha", fixed(m2/geo.SquareMetresPerAcre)+" ac")
}

// length shows short lengths in metres and feet.
func (u Units) length(m float64) string {
	if math.IsInf(m, 1) {
		return "–"
	}
	return u.choose(short(m)+" m", short(m/geo.MetresPerFoot)+" ft")
}

// way shows long lengths in kilometres and miles.
func (u Units) way(m float64) string {
	return u.choose(fixed(m/1000)+" km", fixed(m/spray.MetresPerMile)+" mi")
}

func (u Units) volume(litres float64) string {
	return u.choose(short(litres)+" L", short(litres/spray.LitresPerGallon)+" gal")
}

func (u Units) rate(litresPerHectare float64) string {
	return u.choose(short(litresPerHectare)+" L/ha", short(litresPerHectare/spray.LitresHaPerGallonAc)+" gal/ac")
}

func (u Units) speed(mps float64) string {
	return u.choose(short(mps*3.6)+" km/h", short(mps/spray.MetresSPerMileHour)+" mph")
}

func duration(seconds float64) string {
	minutes := int(math.Ceil(seconds / 60))
	if minutes < 60 {
		return fmt.Sprintf("%d min", minutes)
	}
	return fmt.Sprintf("%d h %02d min", minutes/60, minutes%60)
}

// short is about three figures without needless noughts.
func short(v float64) string {
	switch a := math.Abs(v); {
	case a >= 99.95:
		return thousands(strconv.FormatFloat(v, 'f', 0, 64))
	case a >= 9.995:
		return trimmed(v, 1)
	}
	return trimmed(v, 2)
}

// amount is for what is weighed and poured: one figure more.
func amount(v float64) string {
	switch a := math.Abs(v); {
	case a >= 999.5:
		return thousands(strconv.FormatFloat(v, 'f', 0, 64))
	case a >= 99.95:
		return trimmed(v, 1)
	case a >= 1:
		return trimmed(v, 2)
	}
	return trimmed(v, 4)
}

func trimmed(v float64, decimals int) string {
	scale := math.Pow10(decimals)
	return strconv.FormatFloat(math.Round(v*scale)/scale+0, 'f', -1, 64)
}

func fixed(v float64) string { return strconv.FormatFloat(v, 'f', 2, 64) }

func thousands(digits string) string {
	var b strings.Builder
	for i, d := range digits {
		if left := len(digits) - i; i > 0 && left%3 == 0 && digits[i-1] != '-' {
			b.WriteByte(',')
		}
		b.WriteRune(d)
	}
	return b.String()
}
