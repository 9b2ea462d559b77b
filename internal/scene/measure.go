package scene

import (
	"strings"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/math/fixed"
)

// ruler measures text in the font of the PDF and the PNG; viewers of SVG have
// one of about the same width.
type ruler struct{ regular, bold font.Face }

// rulerSize is in pixels; text is measured at it and scaled.
const rulerSize = 100

func newRuler() (r ruler, err error) {
	if r.regular, err = faceOf(goregular.TTF); err != nil {
		return r, err
	}
	r.bold, err = faceOf(gobold.TTF)
	return r, err
}

func faceOf(ttf []byte) (font.Face, error) {
	f, err := opentype.Parse(ttf)
	if err != nil {
		return nil, err
	}
	return opentype.NewFace(f, &opentype.FaceOptions{Size: rulerSize, DPI: 72, Hinting: font.HintingNone})
}

// width is that of a text of a size, in its unit.
func (r ruler) width(text string, size float64, bold bool) float64 {
	face := r.regular
	if bold {
		face = r.bold
	}
	const perUnit = 64 // fixed.Int26_6
	var sum fixed.Int26_6
	for _, c := range text {
		if a, ok := face.GlyphAdvance(c); ok {
			sum += a
		}
	}
	return float64(sum) / perUnit / rulerSize * size
}

// wrap breaks a text into lines no wider than width, between words; a longer
// word stands alone.
func (r ruler) wrap(text string, size, width float64, bold bool) (lines []string) {
	line := ""
	for _, word := range strings.Fields(text) {
		longer := word
		if line != "" {
			longer = line + " " + word
		}
		if line != "" && r.width(longer, size, bold) > width {
			lines = append(lines, line)
			longer = word
		}
		line = longer
	}
	if line == "" {
		return lines
	}
	return append(lines, line)
}
