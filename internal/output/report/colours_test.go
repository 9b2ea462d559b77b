package report_test

import (
	"image/color"
	"io/fs"
	"math"
	"os"
	"regexp"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/geometry/zones"
	"github.com/geocoris/geocoris/internal/output/report"
)

// linear is a colour in linear light (IEC 61966-2-1), red, green, blue, 0 to 1.
func linear(c color.NRGBA) (out [3]float64) {
	for i, v := range [3]uint8{c.R, c.G, c.B} {
		part := float64(v) / 0xFF
		if part <= 0.04045 {
			out[i] = part / 12.92
		} else {
			out[i] = math.Pow((part+0.055)/1.055, 2.4)
		}
	}
	return out
}

// luminance is the relative luminance of WCAG 2.2.
func luminance(c color.NRGBA) float64 {
	l := linear(c)
	return 0.2126*l[0] + 0.7152*l[1] + 0.0722*l[2]
}

// contrast is the contrast ratio of WCAG 2.2.
func contrast(a, b color.NRGBA) float64 {
	la, lb := luminance(a), luminance(b)
	return (max(la, lb) + 0.05) / (min(la, lb) + 0.05)
}

// In grey the palest ground is clear, then watch, then treat, with steps that a copier
// keeps; lines and text in black are read on each. The least steps are our own; 4.5 is
// what WCAG 2.2, 1.4.3, wants of text.
func TestInGreyTheWorseGroundIsTheDarker(t *testing.T) {
	treat, watch, clear := report.Colour(zones.Treat), report.Colour(zones.Watch), report.Colour(zones.Clear)
	assert.Greater(t, luminance(clear), luminance(watch))
	assert.Greater(t, luminance(watch), luminance(treat))
	assert.GreaterOrEqual(t, contrast(clear, watch), 1.4)
	assert.GreaterOrEqual(t, contrast(watch, treat), 1.4)
	for _, c := range zones.Classes() {
		assert.GreaterOrEqual(t, contrast(report.Colour(c), color.NRGBA{A: 0xFF}), 4.5, c)
		assert.GreaterOrEqual(t, contrast(report.PaleColour(c), color.NRGBA{A: 0xFF}), 4.5, c)
		assert.Greater(t, luminance(report.PaleColour(c)), luminance(report.Colour(c)), c)
	}
}

// blind takes linear light to what is seen without one kind of cones: Machado,
// Oliveira & Fernandes 2009 (IEEE TVCG 15:1291–1298), their matrices for severity 1.
var blind = map[string][3][3]float64{
	"all cones": {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}},
	"protan":    {{0.152286, 1.052583, -0.204868}, {0.114503, 0.786281, 0.099216}, {-0.003882, -0.048116, 1.051998}},
	"deutan":    {{0.367322, 0.860646, -0.227968}, {0.280085, 0.672501, 0.047413}, {-0.011820, 0.042940, 0.968881}},
	"tritan":    {{1.255528, -0.076749, -0.178779}, {-0.078411, 0.930809, 0.147602}, {0.004733, 0.691367, 0.303900}},
}

// lab is a colour as eyes of a kind see it, in CIELAB under D65 (CIE 15).
func lab(c color.NRGBA, eyes [3][3]float64) [3]float64 {
	l := linear(c)
	var seen [3]float64
	for i, row := range eyes {
		seen[i] = max(0, min(1, row[0]*l[0]+row[1]*l[1]+row[2]*l[2]))
	}
	f := func(v float64) float64 {
		if v > 216.0/24389 {
			return math.Cbrt(v)
		}
		return (24389.0/27*v + 16) / 116
	}
	x := f((0.4124*seen[0] + 0.3576*seen[1] + 0.1805*seen[2]) / 0.95047)
	y := f(0.2126*seen[0] + 0.7152*seen[1] + 0.0722*seen[2])
	z := f((0.0193*seen[0] + 0.1192*seen[1] + 0.9505*seen[2]) / 1.08883)
	return [3]float64{116*y - 16, 500 * (x - y), 200 * (y - z)}
}

// Zones are far apart for any colour vision: by CIE 1976 a distance of 2.3 is just
// seen (Mahy et al. 1994); ten times that is asked.
func TestZonesAreToldApartWithAnyColourVision(t *testing.T) {
	for eyes, m := range blind {
		for i, a := range zones.Classes() {
			for _, b := range zones.Classes()[i+1:] {
				p, q := lab(report.Colour(a), m), lab(report.Colour(b), m)
				d := math.Sqrt((p[0]-q[0])*(p[0]-q[0]) + (p[1]-q[1])*(p[1]-q[1]) + (p[2]-q[2])*(p[2]-q[2]))
				assert.Greater(t, d, 23.0, "%s: %s and %s", eyes, a, b)
			}
		}
	}
}

// Nobody else writes down the colours of zones: neither those of today nor those that
// they come from.
func TestTheColoursOfZonesHaveOneHome(t *testing.T) {
	written := regexp.MustCompile(`(?i)#(d55e00|e6be1e|cfe8f8|f0e442|56b4e9)\b|0xD5, ?0x5E, ?0x00|0xE6, ?0xBE, ?0x1E|0xCF, ?0xE8, ?0xF8|0xF0, ?0xE4, ?0x42|0x56, ?0xB4, ?0xE9`)
	looked := 0
	for _, room := range []string{"../report", "../scene", "../page", "../jobsheet"} {
		files := os.DirFS(room)
		require.NoError(t, fs.WalkDir(files, ".", func(name string, e fs.DirEntry, err error) error {
			if err != nil || e.IsDir() || name == "colours.go" || regexp.MustCompile(`_test\.go$`).MatchString(name) {
				return err
			}
			text, err := fs.ReadFile(files, name)
			looked++
			assert.Empty(t, written.FindString(string(text)), "%s/%s", room, name)
			return err
		}))
	}
	assert.Greater(t, looked, 30)
}
