package survey

import (
	"fmt"
	"math"
	"strings"
)

// A Rough is a file whose places were rounded.
type Rough struct {
	File     string
	Decimals int     // of a degree, in the one that has most
	Off      float64 // how far a place may be from where it was, m, rounded up
}

// Places are rough where all of a file have so few decimals, as a column too narrow or a
// format of three decimals leaves them: the third is 111 m of latitude. A few rows may have
// noughts behind by chance.
const (
	roughDecimals = 3
	leastRough    = 5 // rows
)

// roughOf tells whether all places of a table were rounded: ok is false where one has more
// decimals, or is written otherwise than in decimal degrees.
func roughOf(t table, l *layout) (r Rough, ok bool) {
	r.File = t.File
	rows := 0
	for _, row := range t.Rows {
		lon, lat := l.text(row, colLongitude), l.text(row, colLatitude)
		if lon == "" || lat == "" {
			continue
		}
		for _, text := range [...]string{lon, lat} {
			n, plain := decimalsIn(text)
			if r.Decimals = max(r.Decimals, n); !plain || n > roughDecimals {
				return Rough{}, false
			}
		}
		rows++
	}
	const degree = 111_320 // m, of latitude, and of longitude at the equator
	half := 0.5 * math.Pow10(-r.Decimals) * degree * math.Sqrt2
	step := math.Pow10(int(math.Log10(half)))
	r.Off = math.Ceil(half/step) * step
	return r, rows >= leastRough
}

// decimalsIn is how many digits stand behind the point or comma of a number.
func decimalsIn(text string) (n int, plain bool) {
	whole, fraction, _ := strings.Cut(strings.Replace(text, ",", ".", 1), ".")
	whole = strings.TrimLeft(whole, "-−+")
	return len(fraction), isDigits(whole) && len(whole) <= len("180") && (fraction == "" || isDigits(fraction))
}

func (r Rough) note() string {
	return fmt.Sprintf("%s: places have %d decimals of a degree, so a stop may lie %.0f m off; give 5 or more", r.File, r.Decimals, r.Off)
}
