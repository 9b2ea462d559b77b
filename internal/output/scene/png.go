package scene

import (
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"io"
	"math"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/math/fixed"
	"golang.org/x/image/vector"

	xdraw "golang.org/x/image/draw"
)

// maxPixels bounds a picture: so many take 400 MB.
const maxPixels = 100e6

// WritePNG writes the picture with so many pixels to a millimetre, on white.
func WritePNG(w io.Writer, s Scene, perMM float64) error {
	width, height := math.Ceil(s.Width*perMM), math.Ceil(s.Height*perMM)
	if !(width >= 1 && height >= 1 && width*height <= maxPixels) {
		return fmt.Errorf("a picture of %g by %g pixels: want at least 1 and at most %g in all", width, height, maxPixels)
	}
	c := &pixels{img: image.NewRGBA(image.Rect(0, 0, int(width), int(height))), scale: perMM, faces: map[faceKey]font.Face{}}
	draw.Draw(c.img, c.img.Bounds(), image.White, image.Point{}, draw.Src)
	for i, ttf := range [][]byte{goregular.TTF, gobold.TTF} {
		f, err := opentype.Parse(ttf)
		if err != nil {
			return err
		}
		c.fonts[i] = f
	}
	for _, l := range s.Layers {
		for _, item := range l.Items {
			item.drawOn(c)
		}
	}
	if c.err != nil {
		return c.err
	}
	return (&png.Encoder{CompressionLevel: png.BestSpeed}).Encode(w, c.img)
}

type faceKey struct {
	size float64
	bold bool
}

// pixels draws into an image. The first error is kept.
type pixels struct {
	img   *image.RGBA
	scale float64
	fonts [2]*opentype.Font // regular, bold
	faces map[faceKey]font.Face
	err   error
}

func (c *pixels) area(a Area) {
	if a.Style.Fill.A > 0 {
		c.fill(a.Rings, a.Style.Fill)
	}
	if a.Style.Stroke.A > 0 {
		closed := make([][]Point, len(a.Rings))
		for i, r := range a.Rings {
			if len(r) > 0 {
				closed[i] = append(append([]Point(nil), r...), r[0])
			}
		}
		c.stroke(closed, a.Style)
	}
}

func (c *pixels) lines(l Lines) { c.stroke(l.Lines, l.Style) }

func (c *pixels) dots(d Dots) {
	for _, p := range d.Centres {
		c.fill([][]Point{circle(p, d.Radius)}, d.Colour)
	}
}

func (c *pixels) disc(d Disc) {
	c.area(Area{Rings: [][]Point{circle(d.Centre, d.Radius)}, Style: d.Style})
}

// circle is a polygon that leaves a circle of a few millimetres by far less than
// a pixel.
func circle(centre Point, r float64) []Point {
	const corners = 48
	out := make([]Point, corners)
	for i := range out {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / corners)
		out[i] = Point{centre.X + float64(r*cos), centre.Y + float64(r*sin)}
	}
	return out
}

// stroke fills a rectangle for each piece and a disc at each joint, all wound
// alike, so that they add up to one shape under the non-zero rule.
func (c *pixels) stroke(lines [][]Point, s Style) {
	var shapes [][]Point
	half := s.Width / 2
	for _, l := range lines {
		for i := 1; i < len(l); i++ {
			a, b := l[i-1], l[i]
			length := math.Hypot(b.X-a.X, b.Y-a.Y)
			if length == 0 {
				continue
			}
			nx, ny := (a.Y-b.Y)/length*half, (b.X-a.X)/length*half
			shapes = append(shapes, []Point{{a.X - nx, a.Y - ny}, {b.X - nx, b.Y - ny}, {b.X + nx, b.Y + ny}, {a.X + nx, a.Y + ny}})
			if i > 1 {
				shapes = append(shapes, joint(a, half))
			}
		}
		if n := len(l); n > 2 && l[0] == l[n-1] {
			shapes = append(shapes, joint(l[0], half))
		}
	}
	c.fill(shapes, s.Stroke)
}

// joint is a small octagon, wound as the rectangles of [pixels.stroke] are.
func joint(p Point, r float64) []Point {
	out := make([]Point, 8)
	for i := range out {
		sin, cos := math.Sincos(math.Pi / 4 * float64(i))
		out[i] = Point{p.X + float64(r*cos), p.Y + float64(r*sin)}
	}
	return out
}

// fill draws within the box of the shape only.
func (c *pixels) fill(rings [][]Point, colour color.NRGBA) {
	box := c.box(rings)
	if box.Empty() {
		return
	}
	z := vector.NewRasterizer(box.Dx(), box.Dy())
	x0, y0 := float64(box.Min.X), float64(box.Min.Y)
	for _, r := range rings {
		for i, p := range r {
			x, y := float32(float64(p.X*c.scale)-x0), float32(float64(p.Y*c.scale)-y0)
			if i == 0 {
				z.MoveTo(x, y)
			} else {
				z.LineTo(x, y)
			}
		}
		if len(r) > 0 {
			z.ClosePath()
		}
	}
	z.Draw(c.img, box, image.NewUniform(colour), image.Point{})
}

func (c *pixels) box(rings [][]Point) image.Rectangle {
	x0, y0, x1, y1 := math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	for _, r := range rings {
		for _, p := range r {
			x0, y0, x1, y1 = min(x0, p.X), min(y0, p.Y), max(x1, p.X), max(y1, p.Y)
		}
	}
	if !(x0 <= x1) {
		return image.Rectangle{}
	}
	s := c.scale
	return image.Rect(int(math.Floor(x0*s)), int(math.Floor(y0*s)), int(math.Ceil(x1*s))+1, int(math.Ceil(y1*s))+1).Intersect(c.img.Bounds())
}

func (c *pixels) text(t Text) {
	t.Text, _ = Printable(t.Text) // as in the PDF
	face := c.face(t)
	if face == nil {
		return
	}
	d := font.Drawer{Dst: c.img, Src: image.NewUniform(t.Colour), Face: face}
	x := fixed.Int26_6(math.Round(t.At.X * c.scale * 64))
	switch t.Anchor {
	case Middle:
		x -= d.MeasureString(t.Text) / 2
	case End:
		x -= d.MeasureString(t.Text)
	}
	d.Dot = fixed.Point26_6{X: x, Y: fixed.Int26_6(math.Round(t.At.Y * c.scale * 64))}
	d.DrawString(t.Text)
}

func (c *pixels) face(t Text) font.Face {
	k := faceKey{t.Size, t.Bold}
	if f, ok := c.faces[k]; ok {
		return f
	}
	which := 0
	if t.Bold {
		which = 1
	}
	f, err := opentype.NewFace(c.fonts[which], &opentype.FaceOptions{Size: t.Size * c.scale, DPI: 72})
	if err != nil {
		c.err = err
		return nil
	}
	c.faces[k] = f
	return f
}

func (c *pixels) raster(r Raster) {
	s := c.scale
	to := image.Rect(int(math.Round(r.Min.X*s)), int(math.Round(r.Min.Y*s)), int(math.Round(r.Max.X*s)), int(math.Round(r.Max.Y*s)))
	xdraw.NearestNeighbor.Scale(c.img, to, r.Image, r.Image.Bounds(), draw.Over, nil)
}
