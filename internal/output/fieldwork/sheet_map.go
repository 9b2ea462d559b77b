package fieldwork

import (
	"fmt"
	"math"
	"strings"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/language/figures"
)

// Lengths of the picture, in units of its own. It is narrow, so that its letters are
// read on a phone too.
const (
	pictureWidth  = 420.0
	pictureHeight = 420.0
	pictureMargin = 30.0
	letterWidth   = 0.62 // of a letter, of its size; no source, for sans serif
)

// A walkMap is the picture of a plan: its frame, its scale and what stands on it already.
type walkMap struct {
	strings.Builder
	at     func(lonlat orb.Point) orb.Point
	height float64
	scale  float64 // units of the picture to a metre
	size   float64 // of letters
	taken  []box
}

// picture draws field, walk and stops, north up.
func (p Plan) picture() (string, error) {
	frame, err := geo.FrameOf(p.Field.Boundary)
	if err != nil {
		return "", err
	}
	b := geo.Bound(frame.ForwardPolygons(p.Field.Boundary))
	if p.Settings.Start != nil {
		b = b.Extend(frame.Forward(*p.Settings.Start))
	}
	wide, high := b.Max[0]-b.Min[0], b.Max[1]-b.Min[1]
	m := &walkMap{scale: min((pictureWidth-2*pictureMargin)/wide, (pictureHeight-2*pictureMargin)/high), size: 13}
	if len(p.Stops) > 30 {
		m.size = 10
	}
	m.height = 2*pictureMargin + high*m.scale + 14
	left := (pictureWidth - wide*m.scale) / 2
	m.at = func(lonlat orb.Point) orb.Point {
		xy := frame.Forward(lonlat)
		return orb.Point{left + (xy[0]-b.Min[0])*m.scale, pictureMargin + (b.Max[1]-xy[1])*m.scale}
	}
	fmt.Fprintf(m, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %.0f %.1f" role="img" aria-label="map of the stops and the walk" font-family="sans-serif" font-size="%.0f">`+"\n",
		pictureWidth, m.height, m.size)
	m.ground(p)
	m.stops(p)
	m.northAndScale()
	m.WriteString("</svg>\n")
	return m.String(), nil
}

func (m *walkMap) ground(p Plan) {
	m.WriteString(`<path fill="#eee" fill-rule="evenodd" stroke="#000" d="`)
	for _, polygon := range p.Field.Boundary {
		for _, ring := range polygon {
			m.WriteString("M")
			for _, lonlat := range ring {
				m.point(lonlat)
			}
			m.WriteString("Z")
		}
	}
	m.WriteString("\"/>\n<polyline fill=\"none\" stroke=\"#666\" stroke-width=\"1.5\" stroke-dasharray=\"4 3\" points=\"")
	for _, lonlat := range p.way() {
		m.point(lonlat)
	}
	m.WriteString("\"/>\n")
}

func (m *walkMap) point(lonlat orb.Point) {
	at := m.at(lonlat)
	fmt.Fprintf(m, "%.1f %.1f ", at[0], at[1])
}

// stops draws a mark for each stop: a circle, or a square along the edge. Names stand
// beside their marks, where they lie on nothing if there is such a place.
func (m *walkMap) stops(p Plan) {
	for _, s := range p.Stops {
		at := m.at(s.Lonlat)
		m.taken = append(m.taken, box{at[0] - 5, at[1] - 5, 10, 10})
		if s.Edge {
			fmt.Fprintf(m, `<rect x="%.1f" y="%.1f" width="10" height="10" fill="#fff" stroke="#000" stroke-width="1.5"/>`, at[0]-5, at[1]-5)
		} else {
			fmt.Fprintf(m, `<circle cx="%.1f" cy="%.1f" r="5" fill="#fff" stroke="#000" stroke-width="1.5"/>`, at[0], at[1])
		}
	}
	if p.Settings.Start != nil {
		at := m.at(*p.Settings.Start)
		m.taken = append(m.taken, box{at[0] - 7, at[1] - 7, 14, 14})
		fmt.Fprintf(m, `<path d="M%.1f %.1fl7 -14l7 14Z"/>`, at[0]-7, at[1]+7)
		m.label(at, "start")
	}
	for _, s := range p.Stops {
		m.label(m.at(s.Lonlat), s.Name)
	}
	m.WriteByte('\n')
}

// label writes a name beside a place.
func (m *walkMap) label(at orb.Point, name string) {
	width := letterWidth*m.size*float64(len([]rune(name))) + 2
	best, least := box{}, math.Inf(1)
	for _, d := range [][2]float64{{7, -m.size}, {7, 0}, {-7 - width, -m.size}, {-7 - width, 0}, {-width / 2, -8 - m.size}, {-width / 2, 8}} {
		b := box{at[0] + d[0], at[1] + d[1], width, m.size}
		if over := m.covered(b); over < least {
			best, least = b, over
		}
	}
	m.taken = append(m.taken, best)
	fmt.Fprintf(m, `<text x="%.1f" y="%.1f" stroke="#fff" stroke-width="3" paint-order="stroke" font-weight="bold">%s</text>`, best.x+1, best.y+0.85*m.size, escape(name))
}

// covered is how much of a box lies on what is drawn, or off the picture.
func (m *walkMap) covered(b box) (area float64) {
	inside := overlap(b, box{0, 0, pictureWidth, m.height - 20})
	area = b.width*b.height - inside
	for _, t := range m.taken {
		area += overlap(b, t)
	}
	return area
}

func overlap(a, b box) float64 {
	return max(0, min(a.x+a.width, b.x+b.width)-max(a.x, b.x)) * max(0, min(a.y+a.height, b.y+b.height)-max(a.y, b.y))
}

// northAndScale draws an arrow in the upper corner and a bar of a round number of metres,
// about a quarter of the picture, below the field.
func (m *walkMap) northAndScale() {
	fmt.Fprintf(m, `<path d="M%.0f 38V16M%.0f 22l5 -7l5 7" fill="none" stroke="#000" stroke-width="1.5"/><text x="%.0f" y="12" text-anchor="middle" font-weight="bold">N</text>`+"\n",
		pictureWidth-12, pictureWidth-17, pictureWidth-12)
	metres := roundBelow(pictureWidth / 4 / m.scale)
	fmt.Fprintf(m, `<path d="M4 %.1fh%.1fm0 -4v8M4 %.1fv8" fill="none" stroke="#000" stroke-width="2"/><text x="%.1f" y="%.1f">%s</text>`+"\n",
		m.height-8, metres*m.scale, m.height-12, 12+metres*m.scale, m.height-3, figures.Both.Length(metres))
}

// roundBelow is the largest of 1, 2 and 5 times a power of ten that is not above v.
func roundBelow(v float64) float64 {
	ten := math.Pow(10, math.Floor(math.Log10(v)))
	for _, f := range []float64{5, 2} {
		if f*ten <= v {
			return f * ten
		}
	}
	return ten
}
