package cli

import (
	"errors"
	"fmt"

	"github.com/spf13/cobra"

	"github.com/geocoris/geocoris/internal/engine"
)

func newTemplate(s Streams) *cobra.Command {
	var o templateOptions
	cmd := &cobra.Command{
		Use:   "template FOLDER",
		Short: "Write an empty table of counts, its schema, and a field sheet to print",
		Long: `template writes what a morning begins with. The file counts.csv has the header that map
understands, and counts.schema.json is a Frictionless Table Schema of it. Print sheet.html,
a page with room for 20 stops that prints on one side.

With --xlsx it writes counts.xlsx besides, a spreadsheet to be filled in that map reads
as it is. Cells for counts are text, so that 1-10 does not become a day. There are
drop-downs for pest and stage, and with --rule the columns that the rule needs.`,
		Example: `  geocoris template monday

  # a spreadsheet for a rule at a growth stage
  geocoris template monday --xlsx --rule sorghum-aphid-high-plains --stage boot`,
		Args: takes(1, 1),
		RunE: func(_ *cobra.Command, args []string) error { return runTemplate(s, args[0], o) },
	}
	f := cmd.Flags()
	f.SortFlags = false
	f.BoolVar(&o.xlsx, "xlsx", false, "write counts.xlsx besides, to be filled in")
	f.StringVar(&o.Rule, "rule", "", "the columns that this threshold rule needs, by its `name`")
	f.StringVar(&o.Stage, "stage", "", "growth `stage` for the rule")
	f.StringVar(&o.rules, "rules", "", "TOML `FILE` with rules of your own")
	f.BoolVar(&o.force, "force", false, "overwrite files of the same names")
	return cmd
}

// templateOptions are the flags of template.
type templateOptions struct {
	engine.TemplateRequest
	rules       string // file of the user's own
	xlsx, force bool
}

func runTemplate(s Streams, folder string, o templateOptions) error {
	if !o.xlsx && (o.Rule != "" || o.Stage != "" || o.rules != "") {
		return usageError{errors.New("--rule, --stage and --rules are for the spreadsheet: give --xlsx too")}
	}
	files, err := engine.Template()
	if err != nil {
		return err
	}
	holds := "counts.csv, counts.schema.json and sheet.html"
	if o.xlsx {
		if o.Rules, err = loadAsked(o.rules); err != nil {
			return err
		}
		book, err := engine.TemplateBook(o.TemplateRequest)
		if err != nil {
			return err
		}
		files, holds = append(files, book), "counts.xlsx, "+holds
	}
	if err := writeNew(s, folder, outFiles(files), o.force); err != nil {
		return err
	}
	_, err = fmt.Fprintf(s.Out, "%s holds %s\n", folder, holds)
	return err
}
