package figures

import (
	"math"
	"strconv"
	"strings"

	"github.com/geocoris/geocoris/internal/language/vocabulary"
)

// Signs are those that a language writes numbers with.
type Signs struct {
	Decimal  string // before the decimals
	Thousand string // between groups of three digits, from 1,000 on
	Under    string // before what is less than the least shown
}

// SignsOf are those of a language; of one that is not filled in, English.
func SignsOf(l vocabulary.Language) Signs {
	switch l {
	case vocabulary.English:
		return Signs{Decimal: ".", Thousand: ",", Under: "under "}
	case vocabulary.Spanish: // of Mexico and the United States: CLDR, es-MX and es-US
		return Signs{Decimal: ".", Thousand: ",", Under: "menos de "}
	}
	return SignsOf(vocabulary.English)
}

// decimalsOf is the one rounding of figures: three of them, never finer than 0.01, and
// never coarser than 1. It goes by what is left after rounding, so that 9.996 is 10.0.
func decimalsOf(v float64) int {
	switch a := math.Abs(v); {
	case a >= 99.95:
		return 0
	case a >= 9.995:
		return 1
	}
	return 2
}

// Short writes a figure without needless noughts: 0.05, 1.2, 12.4, 124, 1,235. What is
// no number is a dash.
func (s Signs) Short(v float64) string { return s.Trimmed(v, decimalsOf(v)) }

// Level is [Signs.Short] of a level, and of what is set against one: where that would read as
// none it has one figure, down to a millionth: 0.003.
func (s Signs) Level(v float64) string {
	decimals := decimalsOf(v)
	for a := math.Abs(v); a >= 1e-6 && decimals < 6 && Rounded(a, decimals) == 0; {
		decimals++
	}
	return s.Trimmed(v, decimals)
}

// Fixed writes a figure with its noughts, for areas and columns: 0.05, 1.20, 12.0, 124.
func (s Signs) Fixed(v float64) string { return s.Places(v, decimalsOf(v)) }

// Amount is for what is weighed and poured, a figure or two more: 0.0125, 1.25, 12.25,
// 123.4, 1,234.
func (s Signs) Amount(v float64) string {
	switch a := math.Abs(v); {
	case a >= 999.5:
		return s.Trimmed(v, 0)
	case a >= 99.95:
		return s.Trimmed(v, 1)
	case a >= 1:
		return s.Trimmed(v, 2)
	}
	return s.Trimmed(v, 4)
}

// Share writes a part of 1 in per cent with one decimal; one above 0 never reads as
// none.
func (s Signs) Share(part float64) string {
	if part > 0 && part < 0.0005 {
		return s.Under + s.Places(0.1, 1) + " %"
	}
	return s.Places(100*part, 1) + " %"
}

// Percent writes a part of 1 in per cent with one decimal at the most: 95 %, 26.7 %.
func (s Signs) Percent(part float64) string { return s.Trimmed(100*part, 1) + " %" }

// Whole writes a part of 1 in whole per cent, for what is estimated.
func (s Signs) Whole(part float64) string { return s.Places(100*part, 0) + " %" }

// Trimmed writes a number with so many decimals at the most.
func (s Signs) Trimmed(v float64, decimals int) string {
	return s.signed(v, strconv.FormatFloat(Rounded(v, decimals), 'f', -1, 64))
}

// Places writes a number with so many decimals.
func (s Signs) Places(v float64, decimals int) string {
	return s.signed(v, strconv.FormatFloat(Rounded(v, decimals), 'f', decimals, 64))
}

// signed puts the signs of the language into digits.
func (s Signs) signed(v float64, digits string) string {
	switch {
	case math.IsNaN(v):
		return "–"
	case math.IsInf(v, 1):
		return "∞"
	case math.IsInf(v, -1):
		return "-∞"
	}
	whole, decimals, broken := strings.Cut(digits, ".")
	text := s.grouped(whole)
	if broken {
		text += s.Decimal + decimals
	}
	return text
}

func (s Signs) grouped(digits string) string {
	var b strings.Builder
	for i, d := range digits {
		if left := len(digits) - i; i > 0 && left%3 == 0 && digits[i-1] != '-' {
			b.WriteString(s.Thousand)
		}
		b.WriteRune(d)
	}
	return b.String()
}

// Rounded keeps a number of decimals; what is not a number stays so.
func Rounded(v float64, decimals int) float64 {
	scale := math.Pow10(decimals)
	return math.Round(v*scale)/scale + 0
}

// Shown is the number that [Short] and [Fixed] write.
func Shown(v float64) float64 { return Rounded(v, decimalsOf(v)) }
