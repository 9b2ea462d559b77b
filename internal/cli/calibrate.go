package cli

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"github.com/geocoris/geocoris/internal/engine"
	"github.com/geocoris/geocoris/internal/engine/disk"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/language/vocabulary"
)

func newCalibrate(s Streams) *cobra.Command {
	var o calibrateOptions
	cmd := &cobra.Command{
		Use:   "calibrate PAIRS...",
		Short: "Is my eye right? Estimated against exactly counted leaves, for each observer",
		Long: `calibrate reads leaves that were estimated first and then counted (CSV with the
columns observer, estimated, counted; several files are taken together) and says for each observer which part of what
is there is seen, and what a guess stands for. --details adds bias and limits of
agreement, Lin's concordance, the line through the logarithms, and the smearing
factor that keeps the mean right. With --out it writes observers.json, which keeps
the lines, and pairs.svg, a picture. Observers with fewer than 10 pairs are not
corrected.`,
		Example: `  geocoris calibrate pairs.csv
  geocoris calibrate pairs.csv --out eyes

  # all days of a season
  geocoris calibrate 'pairs/*.csv' --out eyes

  # a page to practise on, without a connection
  geocoris calibrate drill --out drill`,
		Args: takes(1, anyNumber),
		RunE: func(_ *cobra.Command, args []string) error {
			paths, err := matched(args)
			if err != nil {
				return err
			}
			return runCalibrate(s, paths, o)
		},
	}
	cmd.Flags().SortFlags = false
	cmd.Flags().StringVar(&o.Out, "out", "", "`FOLDER` for observers.json and pairs.svg")
	cmd.Flags().BoolVar(&o.Details, "details", false, "print the figures: bias, limits of agreement, concordance, the line")
	cmd.Flags().Var(&o.Language, "language", "`en` or es, for the screen and the picture; --details and errors are in English")
	cmd.Flags().BoolVar(&o.Strict, "strict", false, "exit with code 3 if rows were set aside")
	cmd.Flags().BoolVar(&o.Force, "force", false, "overwrite files of the same names")
	cmd.Flags().BoolVar(&o.JSON, "json", false, "print everything as JSON")
	cmd.AddCommand(newDrill(s))
	return cmd
}

// calibrateOptions are the flags of calibrate.
type calibrateOptions struct {
	Out                          string
	Language                     vocabulary.Language
	Details, Strict, Force, JSON bool
}

func runCalibrate(s Streams, paths []string, o calibrateOptions) error {
	var pairs []engine.Source
	for _, path := range paths {
		from, err := disk.Load(path)
		if errors.Is(err, os.ErrNotExist) {
			return hintedError{err, "want a CSV file with the columns observer, estimated, counted"}
		}
		if err != nil {
			return err
		}
		pairs = append(pairs, from)
	}
	made, err := engine.Calibrate(pairs...)
	if err != nil {
		return err
	}
	for _, p := range made.Problems {
		fmt.Fprintf(s.Err, "  %s\n", p)
	}
	if o.Out != "" {
		files, err := made.Files(figures.Both.In(o.Language))
		if err != nil {
			return err
		}
		if err := writeOnce(s, onceFolder{o.Out, paths, o.Force}, files); err != nil {
			return err
		}
	}
	aside, u := len(made.Problems), figures.Both.In(o.Language)
	if o.JSON {
		err = made.Found.WriteJSON(s.Out)
	} else {
		said := made.Found.Text(u)
		if o.Details {
			said = made.Found.Details()
		}
		_, err = io.WriteString(s.Out, said)
		if err == nil {
			_, err = fmt.Fprintf(s.Out, "\n%s\n", u.Say("rows: %s read, %s used, %s set aside", u.Number(made.Used+aside), u.Number(made.Used), u.Number(aside)))
		}
	}
	if err == nil && o.Out != "" && !o.JSON && made.Corrects() {
		err = s.show(next(u, "map", "COUNTS", "--field", "FIELD", "--observers", filepath.Join(o.Out, "observers.json"), "--out", "out"))
	}
	if err == nil && o.Strict && aside > 0 {
		return strictError{aside}
	}
	return err
}
