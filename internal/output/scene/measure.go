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
		if a, ok := face.GlyphAdvance(c); ok && hasGlyph(c) {
			sum += a
		} else {
			sum += fixed.I(rulerSize) // a square, as letters of other fonts may be
		}
	}
	return float64(sum) / perUnit / rulerSize * size
}

// wrap breaks a text into lines no wider than width, between words, and words that
// are wider anywhere.
func (r ruler) wrap(text string, size, width float64, bold bool) (lines []string) {
	return Wrap(text, func(line string) bool { return r.width(line, size, bold) <= width })
}

// Wrap breaks a text into lines that fit: between words, and words that do not fit a
// line of their own between their letters. A line has at least one letter; a text
// of white space alone has no lines.
func Wrap(text string, fits func(line string) bool) (lines []string) {
	line := ""
	for _, word := range strings.Fields(text) {
		if line != "" && fits(line+" "+word) {
			line += " " + word
			continue
		}
		if line != "" {
			lines = append(lines, line)
		}
		line = ""
		for _, letter := range word {
			if line != "" && !fits(line+string(letter)) {
				lines = append(lines, line)
				line = ""
			}
			line += string(letter)
		}
	}
	if line == "" {
		return lines
	}
	return append(lines, line)
}
