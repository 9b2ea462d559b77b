package cli

import (
	"context"
	"errors"
	"fmt"

	"github.com/spf13/cobra"

	"github.com/geocoris/geocoris/internal/engine"
	"github.com/geocoris/geocoris/internal/web"
)

func newSite(s Streams) *cobra.Command {
	var out string
	var force bool
	cmd := &cobra.Command{
		Use:   "site --out FOLDER",
		Short: "Write the page for phones, for a web host",
		Long: `site writes the page for phones into a folder: put it on any web host that serves
https, open its address on the phone, and add it to the home screen. From then on it
works without a connection: plan a walk, count, see when to stop, map the field.

The page sends nothing anywhere. What was counted stays on the phone until its owner
shares it. For one file in place of a folder see geocoris plan --phone.`,
		Example: `  geocoris site --out site`,
		Args:    takes(0, 0),
		RunE: func(cmd *cobra.Command, _ []string) error {
			if out == "" {
				return missingFlag("out")
			}
			return runSite(cmd.Context(), s, out, force)
		},
	}
	cmd.Flags().SortFlags = false
	cmd.Flags().StringVar(&out, "out", "", "`FOLDER` for the files, written whole or not at all (required)")
	cmd.Flags().BoolVar(&force, "force", false, "overwrite files of the same names")
	return cmd
}

func runSite(ctx context.Context, s Streams, out string, force bool) error {
	named, err := siteFiles(web.Engine{}) // refused before the engine is built
	if err != nil {
		return err
	}
	if err := checkNew(out, nil, namesOf(outFiles(named)), force); err != nil {
		return err
	}
	e, err := pageEngine(ctx, s)
	if err != nil {
		return err
	}
	files, err := siteFiles(e)
	if err != nil {
		return err
	}
	if err := writeOnce(s, onceFolder{path: out, force: force}, files); err != nil {
		return err
	}
	_, err = fmt.Fprintf(s.Out, "%s holds the page for phones, %d files. Put them on a web host that serves https.\n", out, len(files))
	return err
}

func siteFiles(e web.Engine) (files []engine.File, err error) {
	made, err := web.Site(web.App(), e)
	for _, f := range made {
		files = append(files, engine.File(f))
	}
	return files, err
}

// buildEngine builds the engine; the tests, which ask for it often, put another in its place.
var buildEngine = web.Build

// pageEngine is the engine for a page: the one in the program, or one built now.
func pageEngine(ctx context.Context, s Streams) (web.Engine, error) {
	if e, ok := web.Built(); ok {
		return e, nil
	}
	fmt.Fprintln(s.Err, "Building the engine for the page, which takes a minute the first time.")
	e, err := buildEngine(ctx)
	if errors.Is(err, web.ErrNoSource) {
		err = hintedError{err, "run it in a clone of the source with Go at hand, or build the program after: go generate ./internal/web"}
	}
	return e, err
}
