package cli

import (
	"bytes"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"github.com/geocoris/geocoris/internal/mapping/check"
	"github.com/geocoris/geocoris/internal/output/report"
	"github.com/geocoris/geocoris/internal/output/sheet"
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
	columns := check.CleanColumns(false)
	var names []string
	for _, c := range columns {
		names = append(names, c.Name)
	}
	var schema, page bytes.Buffer
	if err := report.WriteJSON(&schema, check.Schema(columns)); err != nil {
		return err
	}
	if err := sheet.WriteHTML(&page); err != nil {
		return err
	}
	files := []outFile{
		{"counts.csv", []byte(strings.Join(names, ",") + "\n")}, {"counts.schema.json", schema.Bytes()}, {"sheet.html", page.Bytes()},
	}
	if err := writeNew(s, folder, files, force); err != nil {
		return err
	}
	_, err := fmt.Fprintf(s.Out, "%s holds counts.csv, counts.schema.json and sheet.html\n", folder)
	return err
}
