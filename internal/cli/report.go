package cli

import (
	"context"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"github.com/geocoris/geocoris/internal/engine"
)

func newReport(s Streams) *cobra.Command {
	o := engine.WriteSettings{}
	cmd := &cobra.Command{
		Use:   "report FOLDER",
		Short: "A page to look at, pictures and the surface of a folder that map wrote",
		Long: `report makes one page of a result of map, to be looked at, sent and printed: the
map with zones, surface, chances and stops, the tables, how sure it is, what was set
aside and where it all comes from. It is one file that opens on any laptop or phone
without a connection and asks for nothing from anywhere.

The folder is one that map wrote; its record says from which files and with which
settings, and these are read again. If one has changed since, nothing is written.

With --write it makes other files too: map.png for a message, map.svg, map.pdf (A4, or
letter where map ran with --units us), surface.tif (GeoTIFF in UTM) and surface.kmz
(the surface in degrees with its legend). Of several fields map.png and map.svg are an
overview, the worst first, with a picture of each field beside it, such as
map-NAME.png. map --write makes the same in one go.`,
		Example: `  geocoris report out
  geocoris report out --write map.png
  geocoris map week2.csv --field field.geojson --out out --write report,map.pdf`,
		Args: takes(1, 1),
	}
	var only []string
	writeFlags(cmd.Flags(), &o)
	cmd.Flags().StringArrayVar(&only, "only", nil, onlyUsage)
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		if len(o.Write) == 0 {
			o.Write = []string{"report"}
		}
		return runReport(cmd.Context(), s, args[0], o, only)
	}
	return cmd
}

func runReport(ctx context.Context, s Streams, folder string, o engine.WriteSettings, only []string) error {
	if err := settled(s, folder); err != nil {
		return err
	}
	from, err := mapFolder(folder)
	if err != nil {
		return err
	}
	made, err := engine.Report(ctx, engine.ReportRequest{Folder: *from, Write: o, Only: only, Memory: s.memory})
	if err != nil {
		return failed(s, err)
	}
	if err := writeFolder(s, folder, outFiles(made.Files), nil); err != nil {
		return err
	}
	fmt.Fprintf(s.Out, "Files in %s: %s\n", folder, strings.Join(engine.Listed(made.Files), ", "))
	for _, note := range made.Notes {
		fmt.Fprintf(s.Out, "  %s\n", note)
	}
	return nil
}

func fileNames(files []engine.File) (names []string) {
	for _, f := range files {
		names = append(names, f.Name)
	}
	return names
}
