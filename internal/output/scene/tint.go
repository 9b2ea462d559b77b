package scene

import (
	"image"
	"image/color"
	"math"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/interp"
)

// viridis are five stops of the scale of that name (Smith & van der Walt 2015,
// CC0), even in lightness, so it can be read without colour.
var viridis = [...]color.NRGBA{
	{0x44, 0x01, 0x54, 0xFF}, {0x3B, 0x52, 0x8B, 0xFF}, {0x21, 0x91, 0x8C, 0xFF}, {0x5E, 0xC9, 0x62, 0xFF}, {0xFD, 0xE7, 0x25, 0xFF},
}

// steps of colour that a picture of a surface has, besides no data.
const tints = 127

// palette is no data, then the scale from dark to light.
func palette() color.Palette {
	p := color.Palette{color.NRGBA{}}
	for i := range tints {
		p = append(p, Tint(float64(i)/(tints-1)))
	}
	return p
}

// Tint is the colour of a part, 0 to 1, of the scale; beyond it that of its end.
func Tint(part float64) color.NRGBA {
	at := max(0, min(1, part)) * float64(len(viridis)-1)
	i := min(int(at), len(viridis)-2)
	f := at - float64(i)
	mix := func(a, b uint8) uint8 { return uint8(math.Round(float64(a) + float64(f*(float64(b)-float64(a))))) }
	a, b := viridis[i], viridis[i+1]
	return color.NRGBA{mix(a.R, b.R), mix(a.G, b.G), mix(a.B, b.B), 0xFF}
}

// A Surface is a grid to be shown over a field; values are shown on a scale of
// their square roots from 0 to Most, as counts are many small and few large.
type Surface struct {
	Grid interp.Grid
	Most float64
}

// Part is where a value stands on the scale, 0 to 1.
func (s Surface) Part(v float64) float64 {
	if !(s.Most > 0) {
		return 0
	}
	return math.Sqrt(max(0, min(1, v/s.Most)))
}

func (s Surface) index(v float64) uint8 {
	if math.IsNaN(v) {
		return 0
	}
	return uint8(1 + math.Round(s.Part(v)*(tints-1)))
}

// raster is the surface within the field, so many pixels along the longer side.
func (s Surface) raster(field orb.MultiPolygon, p Plot, pixels int) Raster {
	b := geo.Bound(field)
	w, h := b.Max[0]-b.Min[0], b.Max[1]-b.Min[1]
	size := max(w, h) / float64(pixels)
	cols, rows := max(1, int(math.Ceil(w/size))), max(1, int(math.Ceil(h/size)))
	img := image.NewPaletted(image.Rect(0, 0, cols, rows), palette())
	grid := spread(s.Grid)
	bottom := b.Max[1] - float64(size*float64(rows))
	for i, spans := range geo.InsideSpansOfRows(field, bottom+size/2, size, rows) {
		y := bottom + size/2 + float64(size*float64(i))
		for _, span := range spans {
			for col := max(0, int((span.From-b.Min[0])/size)); col < min(cols, int(math.Ceil((span.To-b.Min[0])/size))); col++ {
				x := b.Min[0] + float64(size*(float64(col)+0.5))
				img.SetColorIndex(col, rows-1-i, s.index(grid.Bilinear(within(x, grid.X0, grid.Cell, grid.Cols), within(y, grid.Y0, grid.Cell, grid.Rows))))
			}
		}
	}
	return Raster{Min: p.Point(orb.Point{b.Min[0], b.Max[1]}), Max: p.Point(orb.Point{b.Min[0] + float64(size*float64(cols)), bottom}), Image: img}
}

// within moves a place beyond the lattice, as of a coarse one, to its edge.
func within(v, first, cell float64, nodes int) float64 {
	return max(first, min(first+float64(cell*float64(nodes-1)), v))
}

// spread is a copy in which nodes without data beside nodes with data take the
// mean of them, so that a picture reaches the field's edge.
func spread(g interp.Grid) interp.Grid {
	out := interp.Grid{Lattice: g.Lattice, Values: append([]float64(nil), g.Values...)}
	for row := range g.Rows {
		for col := range g.Cols {
			if math.IsNaN(g.At(col, row)) {
				out.Values[row*g.Cols+col] = beside(g, col, row)
			}
		}
	}
	return out
}

func beside(g interp.Grid, col, row int) float64 {
	sum, n := 0.0, 0
	for r := max(0, row-1); r <= min(g.Rows-1, row+1); r++ {
		for c := max(0, col-1); c <= min(g.Cols-1, col+1); c++ {
			if v := g.At(c, r); !math.IsNaN(v) {
				sum, n = sum+v, n+1
			}
		}
	}
	return sum / float64(n) // NaN beside none
}

// Layer is the surface as a layer of a map.
func (s Surface) Layer(name string, field orb.MultiPolygon, p Plot, pixels int) Layer {
	return Layer{Name: name, Items: []Item{s.raster(field, p, pixels)}}
}
