package report

import (
	"fmt"
	"image/color"
	"strings"

	"github.com/geocoris/geocoris/internal/geometry/zones"
)

// colours are the one home of what a zone looks like on maps, pages, sheets and in KML.
// The hues are vermillion, yellow and sky blue of Okabe & Ito 2008 ("Color Universal
// Design"), which people with any colour vision can tell apart. Yellow is deeper and
// blue paler than there, so that in grey the palest ground is clear and the darkest is
// to be treated; black lines, hatch and text stand out on all of them.
var colours = map[zones.Class]struct {
	name string
	rgb  color.NRGBA
}{
	zones.Treat: {"red", color.NRGBA{0xD5, 0x5E, 0x00, 0xFF}},
	zones.Watch: {"yellow", color.NRGBA{0xE6, 0xBE, 0x1E, 0xFF}},
	zones.Clear: {"pale blue", color.NRGBA{0xCF, 0xE8, 0xF8, 0xFF}},
}

// Colour is that of a zone on every map; ground without data is white.
func Colour(c zones.Class) color.NRGBA {
	if known, ok := colours[c]; ok {
		return known.rgb
	}
	return color.NRGBA{0xFF, 0xFF, 0xFF, 0xFF}
}

// PaleColour is that of a zone under many lines and figures: mixed with white.
func PaleColour(c zones.Class) color.NRGBA {
	const white = 0.63 // of the mixture
	pale := func(v uint8) uint8 { return v + uint8(white*float64(0xFF-v)) }
	full := Colour(c)
	return color.NRGBA{pale(full.R), pale(full.G), pale(full.B), full.A}
}

// ColoursCSS sets the colours of the zones as custom properties of a page, --treat,
// --watch and --clear (CSS Custom Properties Level 1, W3C).
func ColoursCSS() string {
	var b strings.Builder
	for _, c := range zones.Classes() {
		rgb := Colour(c)
		fmt.Fprintf(&b, " --%s: #%02x%02x%02x;", c, rgb.R, rgb.G, rgb.B)
	}
	return ":root {" + b.String() + " }\n"
}
