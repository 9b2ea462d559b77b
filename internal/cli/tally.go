package cli

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
	"golang.org/x/term"

	"github.com/geocoris/geocoris/internal/engine"
	"github.com/geocoris/geocoris/internal/engine/disk"
	"github.com/geocoris/geocoris/internal/output/fieldwork"
)

const tallyLong = `tally reads stops as they come and answers after each: go on; stop, over the
threshold; stop, under it. It reads what is typed or piped, or a file: CSV as for
map, or lines. A line is a stop:

  3/10           3 insects on 10 leaves; by a plan on shares 3 of 10 leaves that count
  0 60 12 55     the counts on four leaves
  +2/10          more leaves of the last stop
  undo, end

Plans: Wald's test on the share of leaves that count or on counts, which asks on
which side of a threshold the field lies; Green's line, which asks how large the
mean is. Both assume independent leaves, and leaves of one stop are not: stops are
taken as clusters, and where they differ more than the plan's distribution says,
leaves count for less. No answer comes before 15 stops, which must be spread over
the whole field: who walks from one side to the other gives --planned, the number
of stops of the whole walk, and has no answer before the last.

With --field, the boundary, a table with positions is judged by where its stops lie,
and the next stop is named. With --stop-price besides, a map of the stops so far says
whether the next one is worth its walk: that ends the counting, from 12 stops on.`

const tallyExamples = `  # which plans are known by name
  geocoris tally --plans

  # count leaves with more than 50 aphids, 51 or more, as they are typed
  geocoris tally --plan sorghum-tally-50

  # round the threshold of a rule, at boot
  geocoris tally --rule sorghum-aphid-high-plains --stage boot

  # a plan of your own on counts, from a file of a walk
  geocoris tally week2.csv --counts negative-binomial --low 25 --high 60 --k 0.5

  # whether a walk may end, by a map of its stops and the price of one more
  geocoris tally week2.csv --field field.geojson --only Pivot --stop-price 0.2 --counts negative-binomial --low 25 --high 60 --k 0.5

  # count until the standard error is a quarter of the mean
  geocoris tally --taylor 2.586,1.511 --precision 0.25

  # the pocket card, and what the plan does where leaves of a stop are alike
  geocoris tally --plan sorghum-tally-50 --card --out cards
  geocoris tally --plan sorghum-tally-50 --curves --clustering 0.1`

func newTally(s Streams) *cobra.Command {
	var o tallyOptions
	cmd := &cobra.Command{
		Use:     "tally [COUNTS]",
		Short:   "May I stop counting? Answers after each stop by a sequential plan",
		Long:    tallyLong,
		Example: tallyExamples,
		Args:    takes(0, 1),
	}
	cmd.Flags().SortFlags = false
	o.flags(cmd.Flags())
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		if o.Plans {
			return listPlans(s.Out)
		}
		if err := noZeros(cmd.Flags(), o.AboveZero()); err != nil {
			return err
		}
		if o.Least == 0 && cmd.Flags().Changed("least") {
			return usageError{errors.New("--least 0: want stops above 0, or leave it out")}
		}
		o.OnField = o.Field != ""
		if err := o.Check(); err != nil {
			return err
		}
		run := tallyRun{options: o, streams: s}
		switch {
		case o.Card && o.Curves:
			return usageError{errors.New("--card and --curves are two pages: ask for one at a time")}
		case o.Card:
			return run.card()
		case o.Curves:
			return run.curves()
		case len(args) == 1 && args[0] != stdin:
			return run.file(cmd.Context(), args[0])
		case o.Field != "":
			return usageError{errors.New("--field goes with a table of counts that has positions: what is typed has none")}
		}
		return run.typed("typed", cmd.InOrStdin())
	}
	return cmd
}

// tallyOptions are the flags of tally.
type tallyOptions struct {
	engine.TallySettings
	Plans             bool
	Apart             float64
	Field, Only       string
	Card, Curves      bool
	PerStop, Clusters float64
	Runs              int
	Seed              uint64
	Out               string
	Force, JSON       bool
}

func (o *tallyOptions) flags(f *pflag.FlagSet) {
	o.TallySettings = engine.TallyDefaults()
	o.Given = "values given on the command line"
	f.StringVar(&o.Plan, "plan", "", "a plan by its `NAME`")
	f.BoolVar(&o.Plans, "plans", false, "list the plans known by name, with their sources")
	f.StringVar(&o.Rule, "rule", "", "a plan round the threshold of a rule, by its `NAME`; geocoris rules lists them")
	f.StringVar(&o.Stage, "stage", "", "growth `stage` for the rule")
	f.Float64Var(&o.Around, "around", o.Around, "with --rule: low and high value lie this part below and above the threshold")
	f.StringVar(&o.Counts, "counts", "", "a plan on counts: `poisson` or negative-binomial; without it on shares")
	f.Float64Var(&o.Low, "low", 0, "under the threshold: a share as part of 1, or a mean")
	f.Float64Var(&o.High, "high", 0, "over the threshold, likewise")
	f.Float64Var(&o.K, "k", 0, "k of the negative binomial")
	f.Float64Var(&o.Alpha, "alpha", o.Alpha, "chance to say over where the low value is true")
	f.Float64Var(&o.Beta, "beta", o.Beta, "chance to say under where the high value is true")
	f.Float64Var(&o.At, "tally", 0, "for shares: a leaf counts from this many insects on")
	taylorFlag(f, &o.Taylor, "Taylor's `a,b`, for a plan of fixed precision")
	f.Float64Var(&o.Precision, "precision", o.Precision, "standard error as part of the mean, with --taylor")
	f.StringVar(&o.Unit, "unit", o.Unit, "what is counted on: leaf, plant, tiller ...")
	f.StringVar(&o.Pest, "pest", "", "which pest, where a CSV file holds several")
	f.IntVar(&o.Least, "least", o.Least, "`stops` before any answer, 15 or more; 4 or more with --independent (as few as that)")
	f.IntVar(&o.Planned, "planned", 0, "stops of the whole walk, where its first stops are not spread over the field: no answer before them")
	f.IntVar(&o.Most, "most", o.Most, "stops after which counting ends without an answer")
	f.Float64Var(&o.Area, "area", 0, "of the field in `hectares`: with --stop-price, says how many more stops are worth their walk")
	f.Float64Var(&o.StopPrice, "stop-price", 0, "what one more stop costs, as part of treating a hectare, such as 0.2")
	f.BoolVar(&o.Independent, "independent", false, "take each leaf at its face value, and answer from four stops on: the plan as published")
	f.Float64Var(&o.Apart, "apart", 20, "`metres` below which stops of a CSV file count as one place")
	f.StringVar(&o.Field, "field", "", "boundary `FILE` of the field, with a table that has positions: judges where stops lie, and with --stop-price whether a map of them wants more")
	f.StringVar(&o.Only, "only", "", "the field by its `NAME`, where the boundary file holds several")
	f.BoolVar(&o.Card, "card", false, "print the pocket card of the stop lines")
	f.BoolVar(&o.Curves, "curves", false, "simulate what the plan does over a range of true values")
	f.Float64Var(&o.PerStop, "per-stop", 10, "leaves at a stop, for card and curves")
	f.Float64Var(&o.Clusters, "clustering", 0, "for curves: correlation of leaves of a stop (shares), or how far stops vary as part of the mean (counts)")
	f.IntVar(&o.Runs, "runs", 2000, "walks simulated for each value")
	f.Uint64Var(&o.Seed, "seed", 1, "of the simulation")
	f.StringVar(&o.Out, "out", "", "`FOLDER` for card.html, or curves.csv and curves.svg")
	f.BoolVar(&o.Force, "force", false, "overwrite files of the same names")
	f.Var(&o.Language, "language", "`en` or es, for the answers and the card; errors are in English")
	f.BoolVar(&o.JSON, "json", false, "answer in JSON, one line for a stop")
}

func listPlans(w io.Writer) error {
	for _, p := range engine.TallyPlans() {
		if _, err := io.WriteString(w, p.Head()); err != nil {
			return err
		}
	}
	return nil
}

// tallyRun is one call of tally.
type tallyRun struct {
	options tallyOptions
	streams Streams
}

func (r tallyRun) head(words fieldwork.Tally) {
	if !r.options.JSON {
		fmt.Fprint(r.streams.Out, words.Head())
	}
}

// say prints an answer.
func (r tallyRun) say(a engine.TallyAnswer) (err error) {
	line := a.Line()
	if r.options.JSON {
		if line, err = a.JSON(); err != nil {
			return err
		}
	}
	_, err = io.WriteString(r.streams.Out, line)
	return err
}

func (r tallyRun) file(ctx context.Context, path string) error {
	if strings.HasSuffix(strings.ToLower(path), ".csv") {
		return r.survey(ctx, path)
	}
	if r.options.Field != "" {
		return usageError{errors.New("--field goes with a table of counts that has positions: lines have none")}
	}
	f, err := os.Open(path)
	if err != nil {
		return err
	}
	defer f.Close()
	return r.typed(path, f)
}

// typed answers lines as they come. A person at a terminal may go on after an
// answer, or take back a slip; a faulty line is named and asked for again there,
// and ends the work in a file.
func (r tallyRun) typed(name string, in io.Reader) error {
	tally, err := engine.NewTally(r.options.TallySettings)
	if err != nil {
		return err
	}
	r.head(tally.Words)
	if !r.options.JSON {
		fmt.Fprint(r.streams.Out, tally.Words.Form())
	}
	atTerminal := isTerminal(in)
	lines := bufio.NewScanner(in)
	for number := 1; ; number++ {
		if atTerminal {
			fmt.Fprint(r.streams.Err, tally.Words.Said.Say("stop %d> ", tally.Stops()+1))
		}
		if !lines.Scan() {
			return lines.Err()
		}
		a, ended, err := tally.Enter(lines.Text())
		switch {
		case err != nil && atTerminal:
			fmt.Fprintf(r.streams.Err, "  %s\n", oneLine(err.Error()))
			continue
		case err != nil:
			return fmt.Errorf("%s line %d: %w", name, number, err)
		case ended:
			return nil
		case a == nil:
			continue
		}
		if err := r.say(*a); err != nil || a.Done() && !atTerminal {
			return err
		}
	}
}

func isTerminal(in io.Reader) bool {
	f, ok := in.(*os.File)
	return ok && term.IsTerminal(int(f.Fd()))
}

// survey answers the stops of a table of counts, in their order. Stops that leave
// open what the plan asks for do not end it.
func (r tallyRun) survey(ctx context.Context, path string) error {
	from, err := disk.Load(path)
	if err != nil {
		return err
	}
	q := engine.TallyCountsRequest{TallySettings: r.options.TallySettings, Counts: from, Apart: r.options.Apart, Only: r.options.Only}
	if r.options.Field != "" {
		field, err := disk.Load(r.options.Field)
		if err != nil {
			return err
		}
		q.Field = &field
	}
	made, err := engine.TallyCounts(ctx, q)
	if made == nil {
		return err
	}
	for _, p := range made.Problems {
		fmt.Fprintf(r.streams.Err, "  %s\n", p)
	}
	for _, n := range made.Notes {
		fmt.Fprintf(r.streams.Err, "  %s\n", n)
	}
	if len(made.Answers) == 0 {
		return err
	}
	r.head(made.Words)
	for _, a := range made.Answers {
		if err := r.say(a); err != nil {
			return err
		}
	}
	if at := made.Next; at != nil && r.options.JSON {
		fmt.Fprintf(r.streams.Out, `{"next_stop":[%.7f,%.7f]}`+"\n", at[0], at[1])
	} else if at != nil {
		fmt.Fprint(r.streams.Out, made.Words.Said.Say("next stop: latitude %.6f, longitude %.6f, where it helps most\n", at[1], at[0]))
	}
	return err
}
