package cli

import (
	"bytes"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/followup/season"
)

func newSeasonExport(s Streams) *cobra.Command {
	var out string
	var visits []int64
	var force bool
	cmd := &cobra.Command{
		Use:   "export SEASON --out FOLDER",
		Short: "Give the counts back byte for byte, with the boundaries",
		Long: `export writes the files of counts as they came in, those that the settings of the
visits name, and fields.geojson, which has the fields of the visits. Files of one
name get the number of their visit in front, but for files of settings that are the
same to the byte: they are written once.`,
		Example: `  geocoris season export season.gpkg --out back
  geocoris season export season.gpkg --out back --visit 2`,
		Args: usageArgs(cobra.ExactArgs(1)),
		RunE: func(cmd *cobra.Command, args []string) error {
			if out == "" {
				return missingFlag("out")
			}
			return runSeasonExport(s, seasonExport{path: args[0], out: out, visits: visits, force: force})
		},
	}
	cmd.Flags().StringVar(&out, "out", "", "`FOLDER` for the files, written whole or not at all (required)")
	cmd.Flags().Int64SliceVar(&visits, "visit", nil, "`numbers` of visits; all without it")
	cmd.Flags().BoolVar(&force, "force", false, "overwrite files of the same names")
	return cmd
}

type seasonExport struct {
	path, out string
	visits    []int64
	force     bool
}

func runSeasonExport(s Streams, e seasonExport) error {
	file, err := season.Open(e.path)
	if err != nil {
		return err
	}
	defer file.Close()
	files, err := exported(file, e.visits)
	if err != nil {
		return err
	}
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

func exported(file *season.Season, chosen []int64) (files []outFile, err error) {
	fields, err := file.Fields()
	if err != nil {
		return nil, err
	}
	if len(chosen) == 0 {
		lines, err := file.List()
		if err != nil {
			return nil, err
		}
		for _, l := range lines {
			chosen = append(chosen, l.ID)
		}
	} else {
		fields = nil
	}
	const boundary = "fields.geojson"
	files = []outFile{{name: boundary}} // the name is taken
	for _, id := range chosen {
		v, err := file.Visit(id)
		if err != nil {
			return nil, err
		}
		for i, f := range v.Files {
			files = append(files, outFile{freeOf(files, f.Name, fmt.Sprintf("%d-%d-", id, i+1)), f.Content})
		}
		for _, f := range v.SettingsFiles {
			there := func(o outFile) bool {
				return o.name != boundary && bytes.Equal(o.content, f.Content) && strings.HasSuffix(o.name, plainBase(f.Name))
			}
			if !slices.ContainsFunc(files, there) {
				files = append(files, outFile{freeOf(files, f.Name, fmt.Sprintf("%d-%s-", id, f.Setting)), f.Content})
			}
		}
		for _, f := range v.Fields {
			if !slices.ContainsFunc(fields, func(other geo.Field) bool { return other.Name == f.Name }) {
				fields = append(fields, f)
			}
		}
	}
	var b strings.Builder
	var features []geo.Feature
	for _, f := range fields {
		features = append(features, geo.Feature{Geometry: f.Boundary, Properties: geo.Properties{{Name: "name", Value: f.Name}}})
	}
	if err := geofile.WriteGeoJSON(&b, geofile.FeatureCollection{Features: features}); err != nil {
		return nil, err
	}
	return append(files[1:], outFile{boundary, []byte(b.String())}), nil
}

// plainBase is a name that never leads out of a folder.
func plainBase(name string) string { return filepath.Base(filepath.ToSlash(name)) }

// freeOf is a name that no file has, with a beginning before it where one has.
func freeOf(files []outFile, name, before string) string {
	name = plainBase(name)
	if slices.ContainsFunc(files, func(f outFile) bool { return f.name == name }) {
		return before + name
	}
	return name
}
