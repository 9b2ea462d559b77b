package cli

import (
	"fmt"
	"path/filepath"

	"github.com/spf13/cobra"

	"github.com/geocoris/geocoris/internal/engine"
	"github.com/geocoris/geocoris/internal/engine/disk"
)

func newSeasonExport(s Streams) *cobra.Command {
	var out string
	var chosen []int64
	var force bool
	cmd := &cobra.Command{
		Use:   "export SEASON --out FOLDER",
		Short: "Give the counts back byte for byte, with the boundaries",
		Long: `export writes the files of counts as they came in, those that the settings of the
visits name, fields.geojson, which has the fields of the visits, and, of a whole season,
treatments.geojson. Files of one name get the number of their visit in front, but for
files of settings that are the same to the byte: they are written once. Visits that were
added with other fields than the others have a file of fields of their own, such as
fields-3.geojson for visit 3. season add makes the same season of all this, given the
settings of then; season copy does so in one step.`,
		Example: `  geocoris season export season.gpkg --out back
  geocoris season export season.gpkg --out back --visit 2`,
		Args: takes(1, 1),
		RunE: func(cmd *cobra.Command, args []string) error {
			if out == "" {
				return missingFlag("out")
			}
			return runSeasonExport(s, seasonExport{path: args[0], out: out, visits: chosen, force: force})
		},
	}
	cmd.Flags().StringVar(&out, "out", "", "`FOLDER` for the files, written whole or not at all (required)")
	cmd.Flags().Var(visits{&chosen}, "visit", "`numbers` of visits; all without it")
	cmd.Flags().BoolVar(&force, "force", false, "overwrite files of the same names")
	return cmd
}

type seasonExport struct {
	path, out string
	visits    []int64
	force     bool
}

func runSeasonExport(s Streams, e seasonExport) error {
	file, err := disk.OpenSeason(e.path)
	if err != nil {
		return err
	}
	defer file.Close()
	given, err := engine.ExportSeason(engine.SeasonExportRequest{Season: file, Visits: e.visits})
	if err != nil {
		return err
	}
	files := outFiles(given)
	if err := checkNew(e.out, []string{e.path}, namesOf(files), e.force); err != nil {
		return err
	}
	if err := writeNew(s, e.out, files, e.force); err != nil {
		return err
	}
	for _, f := range files {
		fmt.Fprintln(s.Out, filepath.Join(e.out, f.name))
	}
	return nil
}
