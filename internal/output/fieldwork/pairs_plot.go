package fieldwork

import (
	"fmt"
	"io"
	"math"
	"strings"

	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/scouting/observer"
)

// PairsPlot is the picture of estimates against counts on logarithmic scales.
type PairsPlot struct {
	Calibrations Calibrations
	Pairs        []observer.Pair
	Units        figures.Units // of which the language counts
}

// The square of the plot, and the legend beside it, in units of the picture.
const (
	plotLeft, plotTop, plotSide = 70.0, 40.0, 440.0
	legendLeft, legendStep      = plotLeft + plotSide + 40, 44.0
	plotWidth                   = 860.0
	legendLetters               = 32 // of a name that fit beside the plot
)

// scale is a logarithmic one from 1 to so many powers of ten.
type scale float64

func (s scale) of(v float64) float64 { return plotSide * math.Log10(max(v, 1)) / float64(s) }

func (s scale) x(v float64) float64 { return plotLeft + s.of(v) }
func (s scale) y(v float64) float64 { return plotTop + plotSide - s.of(v) }

// WriteSVG writes the picture.
func (p PairsPlot) WriteSVG(w io.Writer) error {
	decades := scale(1)
	for _, q := range p.Pairs {
		decades = max(decades, scale(math.Ceil(math.Log10(max(q.Estimated, q.Counted, 1)))))
	}
	height := max(plotTop+plotSide+60, plotTop+40+legendStep*float64(len(p.Calibrations)))
	var b strings.Builder
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %.0f %.0f" font-family="sans-serif" font-size="15">`+"\n", plotWidth, height)
	fmt.Fprintf(&b, "<title>%s</title>\n"+`<rect width="%.0f" height="%.0f" fill="#fff"/>`+"\n", p.Units.Text("guesses against counts"), plotWidth, height)
	axes(&b, decades, p.Units)
	of := map[string][]observer.Pair{}
	for _, q := range p.Pairs {
		key := observer.Key(q.Observer)
		of[key] = append(of[key], q)
	}
	for i, c := range p.Calibrations {
		p.eye(&b, decades, i, c, of[observer.Key(c.Observer)])
	}
	b.WriteString("</svg>\n")
	_, err := io.WriteString(w, b.String())
	return err
}

func axes(b *strings.Builder, s scale, u figures.Units) {
	right, bottom := plotLeft+plotSide, plotTop+plotSide
	for d := 0.0; d <= float64(s); d++ {
		v := math.Pow(10, d)
		fmt.Fprintf(b, `<path d="M%.1f %.1fV%.1fM%.1f %.1fH%.1f" stroke="#ccc"/>`, s.x(v), bottom, plotTop, plotLeft, s.y(v), right)
		fmt.Fprintf(b, `<text x="%.1f" y="%.1f" text-anchor="middle">%s</text><text x="%.1f" y="%.1f" text-anchor="end">%s</text>`+"\n",
			s.x(v), bottom+20, figures.Short(v), plotLeft-6, s.y(v)+5, figures.Short(v))
	}
	fmt.Fprintf(b, `<path d="M%.1f %.1fL%.1f %.1f" stroke="#000" stroke-dasharray="4 3"/>`+"\n", plotLeft, bottom, right, plotTop)
	fmt.Fprintf(b, `<text x="%.1f" y="%.1f" text-anchor="middle">%s</text><text transform="translate(20 %.1f) rotate(-90)" text-anchor="middle">%s</text>`+"\n",
		plotLeft+plotSide/2, bottom+46, u.Text("guess on a leaf (0 is drawn at 1)"), plotTop+plotSide/2, u.Text("counted on it"))
	fmt.Fprintf(b, `<text x="%.1f" y="%.1f">%s</text>`+"\n", plotLeft, plotTop-14, u.Text("above the dashed line: guessed too low"))
}

// eye draws the pairs of an observer, the line that corrects them, and their legend.
func (p PairsPlot) eye(b *strings.Builder, s scale, i int, c observer.Calibration, pairs []observer.Pair) {
	m := markOf(i)
	for _, q := range pairs {
		m.draw(b, s.x(q.Estimated), s.y(q.Counted))
	}
	if c.Fit != nil {
		fmt.Fprintf(b, `<polyline fill="none" stroke="%s" stroke-width="2" points="`, m.colour)
		for _, l := range []float64{c.Fit.LowX, c.Fit.HighX} {
			fmt.Fprintf(b, "%.1f,%.1f ", plotLeft+plotSide*l/float64(s), plotTop+plotSide*(1-c.Fit.Predict(l).Value/float64(s)))
		}
		b.WriteString("\"/>\n")
	}
	y := plotTop + 10 + legendStep*float64(i)
	m.draw(b, legendLeft, y)
	fmt.Fprintf(b, `<text x="%.1f" y="%.1f" font-weight="bold">%s</text>`, legendLeft+16, y+5, escape(cut(who(c, p.Units), legendLetters)))
	fmt.Fprintf(b, `<text x="%.1f" y="%.1f" font-size="13">%s</text>`+"\n", legendLeft+16, y+22, escape(legend(c, p.Units)))
}

func legend(c observer.Calibration, u figures.Units) string {
	said := u.Counted(c.Pairs, "leaf")
	if saw := sees(c, u); saw != "" {
		said = saw + ", " + said
	}
	if c.Fit == nil {
		said += u.Text(", no line")
	}
	return said
}

// cut is a text of no more letters.
func cut(text string, most int) string {
	if letters := []rune(text); len(letters) > most {
		return string(letters[:most-1]) + "…"
	}
	return text
}
