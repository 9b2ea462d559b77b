package cli

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"github.com/geocoris/geocoris/internal/engine"
	"github.com/geocoris/geocoris/internal/mapping/rules"
	"github.com/geocoris/geocoris/internal/output/report"
)

// rulesOptions say which rules to show.
type rulesOptions struct {
	file string
	pest string
	json bool
}

func newRules(s Streams) *cobra.Command {
	var o rulesOptions
	cmd := &cobra.Command{
		Use:   "rules [NAME]",
		Short: "Show threshold rules with their sources, or compute a threshold",
		Long: `rules lists the action thresholds that are known, each bound to its statistic: the
mean per unit, or the share of units at or above a tally. With a name it shows one
whole. A rule is used by its name: geocoris map --rule NAME --stage STAGE.

Thresholds differ by region and year: the local extension service and the label
come first. Rules of your own stand in a TOML file, a table [[rule]] for each, with
name, pest, crop, region, source, year, statistic (mean or share), unit, and bands;
geocoris rules NAME --json shows the keys. One of the name of a published rule
replaces it.`,
		Example: `  geocoris rules --pest "sorghum aphid"
  geocoris rules sorghum-aphid-high-plains
  geocoris rules --rules mine.toml
  geocoris map plants.csv --field farm.kml --out out --rule sorghum-aphid-kansas --stage boot`,
		Args: usageArgs(cobra.MaximumNArgs(1)),
		RunE: func(_ *cobra.Command, args []string) error { return runRules(s, o, args) },
	}
	cmd.Flags().StringVar(&o.file, "rules", "", "TOML `FILE` with rules of your own")
	cmd.Flags().StringVar(&o.pest, "pest", "", "only those for this pest")
	cmd.Flags().BoolVar(&o.json, "json", false, "print the rules as JSON")
	cmd.AddCommand(newRulesCompute(s))
	return cmd
}

func runRules(s Streams, o rulesOptions, args []string) error {
	own, err := loadAsked(o.file)
	if err != nil {
		return err
	}
	book, err := engine.RuleBook(own)
	if err != nil {
		return err
	}
	shown := book.Rules
	if o.pest != "" {
		if shown = book.OfPest(o.pest); len(shown) == 0 {
			return hintedError{fmt.Errorf("no rule is known for %q", o.pest), "geocoris rules lists all there are"}
		}
	}
	if len(args) == 1 {
		rule, err := book.Named(args[0])
		if err != nil {
			return err
		}
		shown = []rules.Rule{rule}
	}
	switch {
	case o.json:
		return report.WriteJSON(s.Out, shown)
	case len(args) == 1:
		return writeRule(s.Out, shown[0])
	}
	return writeRules(s.Out, shown)
}

// writeRules lists rules: whose each is, and a line for each band.
func writeRules(w io.Writer, shown []rules.Rule) error {
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

// writeRule shows all that is known of one rule.
func writeRule(w io.Writer, r rules.Rule) error {
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
		{"source", r.Source}, {"year", year}, {"region", r.Region}, {"figures", basisOf(r)}, {"statistic", statisticOf(r)}, {"note", r.Note},
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
