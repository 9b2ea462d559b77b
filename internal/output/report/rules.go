package report

import (
	"fmt"
	"io"
	"strings"

	"github.com/geocoris/geocoris/internal/mapping/rules"
)

// WriteRules lists rules: whose each is, and a line for each band.
func WriteRules(w io.Writer, shown []rules.Rule) error {
	var b strings.Builder
	for _, r := range shown {
		fmt.Fprintf(&b, "%s: %s on %s, %s; %s\n", r.Name, r.Pest, r.Crop, r.Region, r.Cited())
		for _, band := range r.Bands {
			fmt.Fprintf(&b, "  %s: %s\n", stagesOf(band), r.StatedAs(band))
		}
	}
	fmt.Fprintf(&b, "\ngeocoris rules NAME shows one whole; %s\n", rules.Caution)
	_, err := io.WriteString(w, b.String())
	return err
}

func stagesOf(b rules.Band) string {
	if len(b.Stages) == 0 {
		return "any stage"
	}
	return strings.Join(b.Stages, ", ")
}

// WriteRule shows all that is known of one rule.
func WriteRule(w io.Writer, r rules.Rule) error {
	var b strings.Builder
	fmt.Fprintf(&b, "%s: %s on %s\n", r.Name, r.Pest, r.Crop)
	fmt.Fprintf(&b, "  %s\n", r.About)
	for _, band := range r.Bands {
		fmt.Fprintf(&b, "  at %s: %s\n", stagesOf(band), r.StatedAs(band))
	}
	year := "not told"
	if r.Year > 0 {
		year = fmt.Sprint(r.Year)
	}
	for _, line := range []struct{ name, value string }{
		{"source", r.Source}, {"year", year}, {"region", r.Region}, {"figures", basisOf(r)}, {"statistic", statisticOf(r)}, {"counting", r.Counting()}, {"which", r.Sampling.Which}, {"counting source", r.Sampling.Source}, {"note", r.Note},
	} {
		if line.value != "" {
			fmt.Fprintf(&b, "  %s: %s\n", line.name, line.value)
		}
	}
	if r.DoublingDays > 0 {
		fmt.Fprintf(&b, "  growth: doubling every %g days (%s)\n", r.DoublingDays, r.DoublingSource)
	}
	if r.RevisitDays > 0 {
		fmt.Fprintf(&b, "  next visit: after %g days\n", r.RevisitDays)
	}
	fmt.Fprintf(&b, "  %s\n", rules.Caution)
	_, err := io.WriteString(w, b.String())
	return err
}

func basisOf(r rules.Rule) string {
	if r.Basis == "read" {
		return "read in the source"
	}
	return r.Basis
}

func statisticOf(r rules.Rule) string {
	s := "mean per " + r.Unit
	if r.Statistic == rules.Share {
		s = "share of " + rules.Plural(r.Unit)
	}
	if r.InfestedShare > 0 {
		s += fmt.Sprintf(", and %g %% of %s infested or more", r.InfestedShare, rules.Plural(r.Unit))
	}
	return s + "; never turned into another"
}

// WriteThreshold shows the arithmetic of a threshold, a line for each step.
func WriteThreshold(w io.Writer, t rules.Threshold) error {
	var b strings.Builder
	for _, step := range t.Steps {
		fmt.Fprintln(&b, step)
	}
	fmt.Fprintf(&b, "computed from what was given, not published; %s\n", rules.Caution)
	_, err := io.WriteString(w, b.String())
	return err
}
