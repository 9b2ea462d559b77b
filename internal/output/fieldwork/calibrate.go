package fieldwork

import (
	"encoding/json"
	"fmt"
	"io"
	"math"
	"strings"

	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/scouting/observer"
)

// Calibrations put into words how far eyes can be trusted.
type Calibrations []observer.Calibration

// Text is what the screen says.
func (cs Calibrations) Text() string {
	var b strings.Builder
	for i, c := range cs {
		if i > 0 {
			b.WriteByte('\n')
		}
		oneEye(&b, c)
	}
	return b.String()
}

func who(c observer.Calibration) string {
	if c.Observer == "" {
		return "observer without a name"
	}
	return c.Observer
}

func oneEye(b *strings.Builder, c observer.Calibration) {
	a := c.Agreement
	fmt.Fprintf(b, "%s: %d pairs", who(c), c.Pairs)
	if c.Zeros > 0 {
		fmt.Fprintf(b, ", %d with a zero (left out of ratio and line)", c.Zeros)
	}
	b.WriteByte('\n')
	if !math.IsNaN(c.Ratio.Value) {
		fmt.Fprintf(b, "  sees %s of what is there (95 %%: %s to %s)%s\n", figures.Percent(c.Ratio.Value), figures.Percent(c.Ratio.Low), figures.Percent(c.Ratio.High), verdictOn(c.Ratio))
	}
	fmt.Fprintf(b, "  bias %s on average, standard deviation %s, limits of agreement %s to %s\n", signed(a.Bias), figures.Short(a.SD), signed(a.LimitLow), signed(a.LimitHigh))
	if !math.IsNaN(a.Concordance) && !math.IsNaN(a.ConcordanceLow) {
		fmt.Fprintf(b, "  concordance %s (95 %%: %s to %s), correlation %s\n", figures.Trimmed(a.Concordance, 3), figures.Trimmed(a.ConcordanceLow, 3), figures.Trimmed(a.ConcordanceHigh, 3), figures.Trimmed(a.Pearson, 3))
	}
	if c.Fit == nil {
		fmt.Fprintf(b, "  no correction: %s\n", c.Why)
		return
	}
	f := *c.Fit
	fmt.Fprintf(b, "  log10 counted = %s + %s·log10 estimated, residual sd %s, r2 %s; smearing factor %s\n",
		figures.Trimmed(f.Intercept, 4), figures.Trimmed(f.Slope, 4), figures.Trimmed(f.Sigma, 4), figures.Trimmed(f.RSquared, 3), figures.Trimmed(f.Smearing, 4))
	for _, x := range examples(f) {
		p := f.Correct(x)
		fmt.Fprintf(b, "  an estimate of %s stands for %s; one leaf lies between %s and %s (95 %%)\n", figures.Short(x), figures.Short(p.Count), figures.Short(p.Low), figures.Short(p.High))
	}
}

// examples are round estimates within what was practised.
func examples(f observer.Fit) (out []float64) {
	for _, x := range []float64{5, 20, 50, 100, 200, 500, 1000} {
		if l := math.Log10(x); l >= f.LowX && l <= f.HighX {
			out = append(out, x)
		}
	}
	if len(out) > 3 {
		out = []float64{out[0], out[len(out)/2], out[len(out)-1]}
	}
	return out
}

func signed(v float64) string {
	if v > 0 {
		return "+" + figures.Short(v)
	}
	return figures.Short(v)
}

func verdictOn(r observer.Ratio) string {
	switch {
	case r.High < 1:
		return ": too few"
	case r.Low > 1:
		return ": too many"
	}
	return ": no bias shown"
}

// WriteJSON writes everything for a machine.
func (cs Calibrations) WriteJSON(w io.Writer) error {
	type eye struct {
		Observer        string        `json:"observer"`
		Pairs           int           `json:"pairs"`
		Zeros           int           `json:"zeros"`
		Ratio           *float64      `json:"ratio"`
		RatioLow        *float64      `json:"ratio_low"`
		RatioHigh       *float64      `json:"ratio_high"`
		Bias            *float64      `json:"bias"`
		SD              *float64      `json:"sd"`
		LimitLow        *float64      `json:"limit_low"`
		LimitHigh       *float64      `json:"limit_high"`
		RMSE            *float64      `json:"rmse"`
		MAE             *float64      `json:"mae"`
		Concordance     *float64      `json:"concordance"`
		ConcordanceLow  *float64      `json:"concordance_low"`
		ConcordanceHigh *float64      `json:"concordance_high"`
		Pearson         *float64      `json:"pearson"`
		Fit             *observer.Fit `json:"fit"`
		Why             string        `json:"why,omitempty"`
	}
	out := []eye{}
	for _, c := range cs {
		a := c.Agreement
		out = append(out, eye{
			Observer: c.Observer, Pairs: c.Pairs, Zeros: c.Zeros, Ratio: finite(c.Ratio.Value), RatioLow: finite(c.Ratio.Low), RatioHigh: finite(c.Ratio.High),
			Bias: finite(a.Bias), SD: finite(a.SD), LimitLow: finite(a.LimitLow), LimitHigh: finite(a.LimitHigh), RMSE: finite(a.RMSE), MAE: finite(a.MAE),
			Concordance: finite(a.Concordance), ConcordanceLow: finite(a.ConcordanceLow), ConcordanceHigh: finite(a.ConcordanceHigh), Pearson: finite(a.Pearson),
			Fit: c.Fit, Why: c.Why,
		})
	}
	e := json.NewEncoder(w)
	e.SetIndent("", "  ")
	e.SetEscapeHTML(false)
	return e.Encode(out)
}

// PairsPlot is the picture of estimates against counts on logarithmic scales.
type PairsPlot struct {
	Calibrations Calibrations
	Pairs        []observer.Pair
}

// dots are the signs of observers, told apart without colour, and colours of
// Okabe & Ito 2008.
func dots() []struct{ colour, path string } {
	return []struct{ colour, path string }{
		{"#0072B2", "M-3 0a3 3 0 1 0 6 0a3 3 0 1 0 -6 0Z"},
		{"#D55E00", "M-3 -3H3V3H-3Z"},
		{"#009E73", "M0 -4L4 3H-4Z"},
		{"#CC79A7", "M0 -4L4 0L0 4L-4 0Z"},
		{"#000000", "M-3 -3L3 3M-3 3L3 -3"},
	}
}

// WriteSVG writes the picture.
func (p PairsPlot) WriteSVG(w io.Writer) error {
	const left, bottom, side = 60.0, 440.0, 400.0
	decades := 1.0
	for _, q := range p.Pairs {
		decades = max(decades, math.Ceil(math.Log10(max(q.Estimated, q.Counted, 1))))
	}
	at := func(v float64) float64 { return side * math.Log10(max(v, 1)) / decades }
	var b strings.Builder
	b.WriteString(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 700 500" font-family="sans-serif" font-size="13">` + "\n")
	b.WriteString("<title>estimated against counted insects</title>\n" + `<rect width="700" height="500" fill="#fff"/>` + "\n")
	for d := 0.0; d <= decades; d++ {
		v := math.Pow(10, d)
		fmt.Fprintf(&b, `<path d="M%.1f %.1fV%.1fM%.1f %.1fH%.1f" stroke="#ccc"/>`, left+at(v), bottom, bottom-side, left, bottom-at(v), left+side)
		fmt.Fprintf(&b, `<text x="%.1f" y="%.1f" text-anchor="middle">%s</text><text x="%.1f" y="%.1f" text-anchor="end">%s</text>`+"\n",
			left+at(v), bottom+18, figures.Short(v), left-6, bottom-at(v)+4, figures.Short(v))
	}
	fmt.Fprintf(&b, `<path d="M%.1f %.1fL%.1f %.1f" stroke="#000" stroke-dasharray="4 3"/>`+"\n", left, bottom, left+side, bottom-side)
	fmt.Fprintf(&b, `<text x="%.1f" y="%.1f" text-anchor="middle">estimated (0 is drawn at 1)</text><text transform="translate(16 %.1f) rotate(-90)" text-anchor="middle">counted</text>`+"\n",
		left+side/2, bottom+40, bottom-side/2)
	for i, c := range p.Calibrations {
		dot := dots()[i%len(dots())]
		for _, q := range p.Pairs {
			if observer.Key(q.Observer) == observer.Key(c.Observer) {
				fmt.Fprintf(&b, `<path transform="translate(%.1f %.1f)" d="%s" fill="%s" fill-opacity=".6" stroke="%s"/>`+"\n", left+at(q.Estimated), bottom-at(q.Counted), dot.path, dot.colour, dot.colour)
			}
		}
		if c.Fit != nil {
			fmt.Fprintf(&b, `<polyline fill="none" stroke="%s" stroke-width="2" points="`, dot.colour)
			for _, l := range []float64{c.Fit.LowX, c.Fit.HighX} {
				fmt.Fprintf(&b, "%.1f,%.1f ", left+side*l/decades, bottom-side*c.Fit.Predict(l).Value/decades)
			}
			b.WriteString("\"/>\n")
		}
		y := 60 + 20*float64(i)
		fmt.Fprintf(&b, `<path transform="translate(490 %.1f)" d="%s" fill="%s" stroke="%s"/><text x="502" y="%.1f">%s</text>`+"\n", y, dot.path, dot.colour, dot.colour, y+4, escape(who(c)))
	}
	b.WriteString("</svg>\n")
	_, err := io.WriteString(w, b.String())
	return err
}
