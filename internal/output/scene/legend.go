package scene

import (
	"bytes"
	"image"
	"image/png"
	"math"

	"github.com/geocoris/geocoris/internal/geometry/zones"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/mapping/assess"
)

// Picture is a grid in degrees in the colours of a surface, see-through outside the
// field, as PNG.
func (s Surface) Picture(d assess.DegreeGrid) ([]byte, error) {
	img := image.NewPaletted(image.Rect(0, 0, d.Cols, d.Rows), palette())
	for i, v := range d.Values {
		img.Pix[i/d.Cols*img.Stride+i%d.Cols] = s.index(v)
	}
	var b bytes.Buffer
	err := png.Encode(&b, img)
	return b.Bytes(), err
}

// Legend is a picture of the scale, from its least to its most, with the levels.
func (s Surface) Legend(title string, l zones.Levels) (Scene, error) {
	const width, text, bar, margin = 70.0, 3.2, 5.0, 3.0
	r, err := newRuler()
	if err != nil {
		return Scene{}, err
	}
	ramp := image.NewPaletted(image.Rect(0, 0, tints, 1), palette())
	for i := range tints {
		ramp.SetColorIndex(i, 0, uint8(i+1))
	}
	y := margin
	var items []Item
	for _, line := range r.wrap(title, text, width-2*margin, true) {
		y += text * leading
		items = append(items, Text{At: Point{margin, y - text/3}, Size: text, Bold: true, Colour: ink, Text: line})
	}
	items = append(items, Raster{Min: Point{margin, y + 1}, Max: Point{width - margin, y + 1 + bar}, Image: ramp})
	last := math.Inf(-1)
	for _, v := range []float64{0, l.WatchAt, l.TreatAt, s.Most} {
		x := margin + float64((width-2*margin)*s.Part(v))
		word := figures.Short(v)
		half := r.width(word, text, false) / 2
		if v > s.Most || x-half < last {
			continue
		}
		at := max(margin+half, min(width-margin-half, x))
		last = at + half + 1
		items = append(items,
			Lines{Lines: [][]Point{{{x, y + 1}, {x, y + 2 + bar}}}, Style: Style{Stroke: ink, Width: 0.3}},
			Text{At: Point{at, y + 2.5 + bar + text}, Size: text, Anchor: Middle, Colour: ink, Text: word})
	}
	out := Scene{Width: width, Height: y + 2.5 + bar + text + margin, Title: title}
	ground := Area{Rings: [][]Point{{{}, {out.Width, 0}, {out.Width, out.Height}, {0, out.Height}}}, Style: Style{Fill: white, Stroke: ink, Width: 0.4}}
	out.Layers = []Layer{{"legend", append([]Item{ground}, items...)}}
	return out, nil
}
