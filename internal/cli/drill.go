package cli

import (
	"fmt"
	"path/filepath"

	"github.com/spf13/cobra"

	"github.com/geocoris/geocoris/internal/engine"
)

func newDrill(s Streams) *cobra.Command {
	o := drillOptions{DrillRequest: engine.DrillDefaults()}
	cmd := &cobra.Command{
		Use:   "drill --out FOLDER",
		Short: "Write a page to practise estimating on, without a connection",
		Long: `drill writes drill.html, a page that works without a connection: it draws leaves
with a known number of insects, shows each for some seconds for a first guess, lets
you count by groups that suit the guess, then tells the truth. It keeps your running
bias and saves your leaves as pairs.csv for calibrate. Leaves are drawn, not
photographed, and the numbers are invented.`,
		Example: `  geocoris calibrate drill --out drill
  geocoris calibrate drill --out drill --seconds 2 --most 200 --series 7`,
		Args: takes(0, 0),
		RunE: func(cmd *cobra.Command, _ []string) error {
			if o.Out == "" {
				return missingFlag("out")
			}
			files, err := engine.Drill(o.DrillRequest)
			if err != nil {
				return err
			}
			if err := writeOnce(s, onceFolder{path: o.Out, force: o.Force}, files); err != nil {
				return err
			}
			_, err = fmt.Fprintln(s.Out, o.Language.Say("Open %s in a browser. It saves your leaves as pairs.csv. Then run calibrate on that file.", filepath.Join(o.Out, "drill.html")))
			return err
		},
	}
	cmd.Flags().SortFlags = false
	cmd.Flags().StringVar(&o.Out, "out", "", "`FOLDER` for drill.html (required)")
	cmd.Flags().Float64Var(&o.Seconds, "seconds", o.Seconds, "of the first look")
	cmd.Flags().IntVar(&o.Most, "most", o.Most, "insects on a leaf at most")
	cmd.Flags().Uint32Var(&o.Series, "series", o.Series, "number of the series of leaves")
	cmd.Flags().Var(&o.Language, "language", "`en` or es, for the page; errors are in English")
	cmd.Flags().BoolVar(&o.Force, "force", false, "overwrite a file of the same name")
	return cmd
}

// drillOptions are the flags of drill.
type drillOptions struct {
	engine.DrillRequest
	Out   string
	Force bool
}
