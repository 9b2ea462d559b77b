// Package figures writes numbers and quantities for people. There is one rounding: three
// figures, never finer than 0.01 and never coarser than 1, so that an area or a mean
// reads the same on the screen, on maps, pages, sheets and in names of files' features.
// Values in files keep the decimals of their own.
package figures

import (
	"fmt"
	"math"

	"github.com/geocoris/geocoris/internal/language/vocabulary"
)

func english() Signs { return SignsOf(vocabulary.English) }

// Short is [Signs.Short] in English.
func Short(v float64) string { return english().Short(v) }

// Level is [Signs.Level] in English.
func Level(v float64) string { return english().Level(v) }

// Fixed is [Signs.Fixed] in English.
func Fixed(v float64) string { return english().Fixed(v) }

// Amount is [Signs.Amount] in English.
func Amount(v float64) string { return english().Amount(v) }

// Share is [Signs.Share] in English.
func Share(part float64) string { return english().Share(part) }

// Percent is [Signs.Percent] in English.
func Percent(part float64) string { return english().Percent(part) }

// Whole is [Signs.Whole] in English.
func Whole(part float64) string { return english().Whole(part) }

// Trimmed is [Signs.Trimmed] in English.
func Trimmed(v float64, decimals int) string { return english().Trimmed(v, decimals) }

// Number is [Units.Number] in English.
func Number(n int) string { return Both.Number(n) }

// Counted is [Units.Counted] in English.
func Counted(n int, thing string) string { return Both.Counted(n, thing) }

// Duration is a time of work, up to the next minute: 45 min, 1 h 05 min.
func Duration(seconds float64) string {
	minutes := int(math.Ceil(seconds / 60))
	if minutes < 60 {
		return fmt.Sprintf("%d min", minutes)
	}
	return fmt.Sprintf("%d h %02d min", minutes/60, minutes%60)
}
