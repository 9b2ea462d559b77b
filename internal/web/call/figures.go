package call

import "math"

// squareMetres are those of a hectare.
const squareMetres = 1e4

// rounded is a number to a part of one; what is no number is none in JSON.
func rounded(v, parts float64) float64 { return math.Round(v*parts) / parts }

// known is a number that is known; nil where it is none.
func known(v float64) *float64 {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return nil
	}
	return &v
}

// some are lines, none of them an empty list: a page counts them.
func some(lines []string) []string {
	if lines == nil {
		return []string{}
	}
	return lines
}
