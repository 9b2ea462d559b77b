package fieldwork

import (
	"encoding/xml"
	"fmt"
	"math"
	"strings"

	"github.com/geocoris/geocoris/internal/language/figures"
)

// escape is a text as XML takes it: signs that XML does not know, which names from files
// may hold, become U+FFFD.
func escape(text string) string {
	var b strings.Builder
	_ = xml.EscapeText(&b, []byte(text)) // a Builder takes all
	return b.String()
}

// box is a place on a picture, in its units, y down.
type box struct{ x, y, width, height float64 }

// chart is a line, or dots, over two axes that begin at 0.
type chart struct {
	title, across string
	box           box
	high          float64 // of the upward axis; 0 for the highest value
	digits        func(float64) string
	marks         []float64 // values across that get a dashed line
	xs, ys        []float64
}

func (c *chart) add(x, y float64) { c.xs, c.ys = append(c.xs, x), append(c.ys, y) }

// top is the end of an axis that holds the values: 1, 2 or 5 times a power of
// ten, or the next half of it.
func top(values []float64) float64 {
	most := 0.0
	for _, v := range values {
		most = max(most, v)
	}
	if most == 0 {
		return 1
	}
	step := math.Pow(10, math.Floor(math.Log10(most)))
	for _, f := range []float64{1, 1.5, 2, 3, 5, 7.5, 10} {
		if f*step >= most*(1-1e-9) {
			return f * step
		}
	}
	return 10 * step
}

func (c *chart) draw(b *strings.Builder) {
	right, up := top(c.xs), c.high
	if up == 0 {
		up = top(c.ys)
	}
	px := func(x float64) float64 { return c.box.x + c.box.width*x/right }
	py := func(y float64) float64 { return c.box.y + c.box.height*(1-y/up) }
	fmt.Fprintf(b, `<text x="%.1f" y="%.1f" font-weight="bold">%s</text>`+"\n", c.box.x, c.box.y-14, escape(c.title))
	for i := range 6 {
		x, y := right*float64(i)/5, up*float64(i)/5
		fmt.Fprintf(b, `<path d="M%.1f %.1fH%.1f" stroke="#ccc"/><text x="%.1f" y="%.1f" text-anchor="end">%s</text>`,
			c.box.x, py(y), c.box.x+c.box.width, c.box.x-6, py(y)+4, c.digits(y))
		fmt.Fprintf(b, `<text x="%.1f" y="%.1f" text-anchor="middle">%s</text>`+"\n", px(x), c.box.y+c.box.height+18, figures.Short(x))
	}
	fmt.Fprintf(b, `<text x="%.1f" y="%.1f" text-anchor="middle">%s</text>`+"\n", c.box.x+c.box.width/2, c.box.y+c.box.height+38, escape(c.across))
	for _, m := range c.marks {
		fmt.Fprintf(b, `<path d="M%.1f %.1fV%.1f" stroke="#000" stroke-dasharray="4 3"/>`+"\n", px(m), c.box.y, c.box.y+c.box.height)
	}
	b.WriteString(`<polyline fill="none" stroke="#0072B2" stroke-width="2" points="`)
	for i, x := range c.xs {
		fmt.Fprintf(b, "%.1f,%.1f ", px(x), py(min(c.ys[i], up)))
	}
	b.WriteString("\"/>\n")
}
