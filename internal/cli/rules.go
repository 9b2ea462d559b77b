package cli

import (
	"fmt"
	"path/filepath"

	"github.com/spf13/cobra"

	"github.com/geocoris/geocoris/internal/engine"
	"github.com/geocoris/geocoris/internal/output/report"
)

// rulesOptions say which rules to show.
type rulesOptions struct {
	file  string
	pest  string
	json  bool
	out   string // folder for a page to print; "" for none
	force bool
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
  geocoris rules --pest "sorghum aphid" --out walk
  geocoris rules --rules mine.toml
  geocoris map plants.csv --field farm.kml --out out --rule sorghum-aphid-kansas --stage boot`,
		Args: takes(0, 1),
		RunE: func(_ *cobra.Command, args []string) error { return runRules(s, o, args) },
	}
	cmd.Flags().StringVar(&o.file, "rules", "", "TOML `FILE` with rules of your own")
	cmd.Flags().StringVar(&o.pest, "pest", "", "only those for this pest")
	cmd.Flags().StringVar(&o.out, "out", "", "`FOLDER` for rules.html, the rules by growth stage to print")
	cmd.Flags().BoolVar(&o.force, "force", false, "overwrite a file of the same name")
	cmd.Flags().BoolVar(&o.json, "json", false, "print the rules as JSON")
	cmd.AddCommand(newRulesCompute(s))
	return cmd
}

func runRules(s Streams, o rulesOptions, args []string) error {
	own, err := loadAsked(o.file)
	if err != nil {
		return err
	}
	q := engine.RulesRequest{Own: own, Pest: o.pest}
	if len(args) == 1 {
		q.Name = args[0]
	}
	shown, err := engine.Rules(q)
	if err != nil {
		return err
	}
	if o.out != "" {
		if err := o.page(s, q); err != nil {
			return err
		}
	}
	switch {
	case o.json:
		return report.WriteJSON(s.Out, shown)
	case q.Name != "":
		return report.WriteRule(s.Out, shown[0])
	}
	return report.WriteRules(s.Out, shown)
}

// page writes rules to print.
func (o rulesOptions) page(s Streams, q engine.RulesRequest) error {
	files, err := engine.RulesPage(q)
	if err != nil {
		return err
	}
	if err := writeOnce(s, onceFolder{path: o.out, inputs: asked(o.file), force: o.force}, files); err != nil {
		return err
	}
	_, err = fmt.Fprintf(s.Err, "to print: %s\n", filepath.Join(o.out, "rules.html"))
	return err
}

// asked are the files of flags that were given.
func asked(path string) []string {
	if path == "" {
		return nil
	}
	return []string{path}
}
