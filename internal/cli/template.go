package cli

import (
	"fmt"

	"github.com/spf13/cobra"

	"github.com/geocoris/geocoris/internal/engine"
)

func newTemplate(s Streams) *cobra.Command {
	var force bool
	cmd := &cobra.Command{
		Use:   "template FOLDER",
		Short: "Write an empty table of counts, its schema, and a field sheet to print",
		Long: `template writes what a morning begins with: counts.csv with the header that map
understands, counts.schema.json, a Frictionless Table Schema of it, and sheet.html,
a page with room for 20 stops that prints on one side.`,
		Example: `  geocoris template monday`,
		Args:    usageArgs(cobra.ExactArgs(1)),
		RunE:    func(_ *cobra.Command, args []string) error { return runTemplate(s, args[0], force) },
	}
	cmd.Flags().BoolVar(&force, "force", false, "overwrite files of the same names")
	return cmd
}

func runTemplate(s Streams, folder string, force bool) error {
	files, err := engine.Template()
	if err != nil {
		return err
	}
	if err := writeNew(s, folder, outFiles(files), force); err != nil {
		return err
	}
	_, err = fmt.Fprintf(s.Out, "%s holds counts.csv, counts.schema.json and sheet.html\n", folder)
	return err
}
