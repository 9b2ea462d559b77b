// Package fieldwork renders what is carried to the field and asked there: answers
// of a tally, the pocket card, the sheet and files of a plan, what a calibration
// found, the drill, and the answers of the key. Like internal/output/report it computes
// nothing but rounding and places on a picture.
package fieldwork

import (
	"math"
	"strconv"
)

// short writes a number in about three figures, without needless noughts.
func short(v float64) string {
	switch a := math.Abs(v); {
	case math.IsNaN(v):
		return "–"
	case a == 0 || a >= 100:
		return strconv.FormatFloat(v, 'f', 0, 64)
	case a >= 10:
		return trimmed(v, 1)
	case a >= 1:
		return trimmed(v, 2)
	default:
		return trimmed(v, 3)
	}
}

// trimmed writes a number with so many decimals at the most.
func trimmed(v float64, decimals int) string {
	scale := math.Pow10(decimals)
	return strconv.FormatFloat(math.Round(v*scale)/scale+0, 'f', -1, 64)
}

// percent writes a part of 1.
func percent(v float64) string { return trimmed(100*v, 1) + " %" }
