package cli

import (
	"fmt"
	"path/filepath"

	"github.com/spf13/cobra"

	"github.com/geocoris/geocoris/internal/engine"
)

func newDemo(s Streams) *cobra.Command {
	var force bool
	cmd := &cobra.Command{
		Use:   "demo FOLDER",
		Short: "Write the demonstration data: two invented fields, three weekly surveys",
		Long: `demo writes the demonstration data into a folder: two fields that touch, one round
with a pond and one in its corner, and three weekly surveys of them. Everything is
invented. Three rows of the third week are faulty on purpose; README.md says which.`,
		Example: `  geocoris demo trial
  geocoris map trial/week2.csv --field trial/field.geojson --out trial/out`,
		Args: takes(1, 1),
		RunE: func(_ *cobra.Command, args []string) error { return runDemo(s, args[0], force) },
	}
	cmd.Flags().BoolVar(&force, "force", false, "overwrite files of the same names")
	return cmd
}

func runDemo(s Streams, folder string, force bool) error {
	files, err := engine.Demo()
	if err != nil {
		return err
	}
	if err := writeNew(s, folder, outFiles(files), force); err != nil {
		return err
	}
	fmt.Fprintf(s.Out, "%s holds two invented fields and three weekly surveys. Try:\n  geocoris map %s --field %s --out %s\n", folder,
		filepath.Join(folder, "week2.csv"), filepath.Join(folder, "field.geojson"), filepath.Join(folder, "out"))
	return nil
}
