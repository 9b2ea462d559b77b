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
func (cs Calibrations) Text(u figures.Units) string {
	return cs.each(func(b *strings.Builder, c observer.Calibration) { inWords(b, c, u) })
}

// Details are the figures behind it.
func (cs Calibrations) Details() string { return cs.each(inFigures) }

func (cs Calibrations) each(write func(*strings.Builder, observer.Calibration)) string {
	var b strings.Builder
	for i, c := range cs {
		if i > 0 {
			b.WriteByte('\n')
		}
		write(&b, c)
	}
	return b.String()
}

func who(c observer.Calibration, u figures.Units) string {
	if c.Observer == "" {
		return u.Text("observer without a name")
	}
	return c.Observer
}

// sees says how much of what is there is seen; "" where that is not known.
func sees(c observer.Calibration, u figures.Units) string {
	switch hundred := func(part float64) string { return u.Trimmed(100*part, 0) }; {
	case math.IsNaN(c.Ratio.Value):
		return ""
	case c.Ratio.Value > 1:
		return u.Say("guesses %s for every 100", hundred(c.Ratio.Value))
	default:
		return u.Say("sees %s of 100", hundred(c.Ratio.Value))
	}
}

func inWords(b *strings.Builder, c observer.Calibration, u figures.Units) {
	fmt.Fprintln(b, u.Say("%s: %s guessed and counted", who(c, u), u.Counted(c.Pairs, "leaf")))
	if saw := sees(c, u); saw != "" {
		fmt.Fprintf(b, "  %s\n", u.Say("%s, likely between %s and %s: %s", saw, u.Trimmed(100*c.Ratio.Low, 0), u.Trimmed(100*c.Ratio.High, 0), u.Text(verdictOn(c.Ratio))))
	}
	if c.Fit == nil {
		fmt.Fprintf(b, "  %s\n", u.Say("not corrected: %s", u.Language().Finding(c.Why)))
		return
	}
	for _, x := range examples(*c.Fit) {
		p := c.Fit.Correct(x)
		fmt.Fprintf(b, "  %s\n", u.Say("a guess of %s stands for %s on average; a single leaf may hold %s to %s",
			u.Trimmed(x, 0), u.Trimmed(p.Count, 0), u.Trimmed(p.Low, 0), u.Trimmed(p.High, 0)))
	}
}

func inFigures(b *strings.Builder, c observer.Calibration) {
	a := c.Agreement
	fmt.Fprintf(b, "%s: %d pairs", who(c, figures.Both), c.Pairs)
	if c.Zeros > 0 {
		fmt.Fprintf(b, ", %d with a zero (left out of ratio and line)", c.Zeros)
	}
	b.WriteByte('\n')
	if !math.IsNaN(c.Ratio.Value) {
		fmt.Fprintf(b, "  sees %s of what is there (95 %%: %s to %s): %s\n", figures.Percent(c.Ratio.Value), figures.Percent(c.Ratio.Low), figures.Percent(c.Ratio.High), verdictOn(c.Ratio))
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
		return "too few"
	case r.Low > 1:
		return "too many"
	}
	return "not shown to be off"
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
