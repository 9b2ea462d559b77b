package cli

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
	"golang.org/x/term"

	"github.com/geocoris/geocoris/internal/output/fieldwork"
	"github.com/geocoris/geocoris/internal/scouting/sampling"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

const tallyLong = `tally reads stops as they come and answers after each: go on; stop, over the
threshold; stop, under it. It reads what is typed or piped, or a file: CSV as for
map, or lines. A line is a stop:

  3/10           3 on 10 leaves (or 3 leaves of 10 that count)
  0 60 12 55     the counts on four leaves
  +2/10          more leaves of the last stop
  undo, end

Plans: Wald's test on the share of leaves that count or on counts, which asks on
which side of a threshold the field lies; Green's line, which asks how large the
mean is. Both assume independent leaves, and leaves of one stop are not: stops are
taken as clusters, and where they differ more than the plan's distribution says,
leaves count for less. No answer comes before four stops that lie apart.`

const tallyExamples = `  # which plans are known by name
  geocoris tally --plans

  # count leaves with 50 aphids or more, as they are typed
  geocoris tally --plan sorghum-tally-50

  # round the threshold of a rule, at boot
  geocoris tally --rule sorghum-aphid-high-plains --stage boot

  # a plan of your own on counts, from a file of a walk
  geocoris tally week2.csv --counts negative-binomial --low 25 --high 60 --k 0.5

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
		Args:    usageArgs(cobra.MaximumNArgs(1)),
	}
	cmd.Flags().SortFlags = false
	o.flags(cmd.Flags())
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		if o.Plans {
			return listPlans(s.Out)
		}
		plan, err := o.plan()
		if err != nil {
			return usageError{err}
		}
		run := tallyRun{options: o, words: fieldwork.Tally{Plan: plan}, streams: s, in: cmd.InOrStdin()}
		switch {
		case o.Card && o.Curves:
			return usageError{errors.New("--card and --curves are two pages: ask for one at a time")}
		case o.Card:
			return run.card()
		case o.Curves:
			return run.curves()
		case len(args) == 1 && args[0] != "-":
			return run.file(args[0])
		}
		return run.typed("typed", run.in)
	}
	return cmd
}

// tallyOptions are the flags of tally.
type tallyOptions struct {
	Plan              string
	Plans             bool
	Rule, Stage       string
	Around            float64
	Counts            string
	Low, High, K      float64
	Alpha, Beta       float64
	At                float64
	Taylor            []float64
	Precision         float64
	Unit, Pest        string
	Least, Most       int
	Independent       bool
	Apart             float64
	Card, Curves      bool
	PerStop, Clusters float64
	Runs              int
	Seed              uint64
	Out               string
	Force, JSON       bool
}

func (o *tallyOptions) flags(f *pflag.FlagSet) {
	f.StringVar(&o.Plan, "plan", "", "a plan by its `NAME`")
	f.BoolVar(&o.Plans, "plans", false, "list the plans known by name, with their sources")
	f.StringVar(&o.Rule, "rule", "", "a plan round the threshold of a rule, by its `NAME`; geocoris rules lists them")
	f.StringVar(&o.Stage, "stage", "", "growth `stage` for the rule")
	f.Float64Var(&o.Around, "around", 1.0/3, "with --rule: low and high value lie this part below and above the threshold")
	f.StringVar(&o.Counts, "counts", "", "a plan on counts: `poisson` or negative-binomial; without it on shares")
	f.Float64Var(&o.Low, "low", 0, "under the threshold: a share as part of 1, or a mean")
	f.Float64Var(&o.High, "high", 0, "over the threshold, likewise")
	f.Float64Var(&o.K, "k", 0, "k of the negative binomial")
	f.Float64Var(&o.Alpha, "alpha", 0.10, "chance to say over where the low value is true")
	f.Float64Var(&o.Beta, "beta", 0.10, "chance to say under where the high value is true")
	f.Float64Var(&o.At, "tally", 0, "for shares: a leaf counts from this many insects on")
	f.Float64SliceVar(&o.Taylor, "taylor", nil, "Taylor's `a,b`, for a plan of fixed precision")
	f.Float64Var(&o.Precision, "precision", 0.25, "standard error as part of the mean, with --taylor")
	f.StringVar(&o.Unit, "unit", "leaf", "what is counted on: leaf, plant, tiller ...")
	f.StringVar(&o.Pest, "pest", "", "which pest, where a CSV file holds several")
	f.IntVar(&o.Least, "least", 4, "stops before any answer, 4 or more")
	f.IntVar(&o.Most, "most", 40, "stops after which counting ends without an answer")
	f.BoolVar(&o.Independent, "independent", false, "take each leaf at its face value, stops or not")
	f.Float64Var(&o.Apart, "apart", 20, "`metres` below which stops of a CSV file count as one place")
	f.BoolVar(&o.Card, "card", false, "print the pocket card of the stop lines")
	f.BoolVar(&o.Curves, "curves", false, "simulate what the plan does over a range of true values")
	f.Float64Var(&o.PerStop, "per-stop", 10, "leaves at a stop, for card and curves")
	f.Float64Var(&o.Clusters, "clustering", 0, "for curves: correlation of leaves of a stop (shares), or how far stops vary as part of the mean (counts)")
	f.IntVar(&o.Runs, "runs", 2000, "walks simulated for each value")
	f.Uint64Var(&o.Seed, "seed", 1, "of the simulation")
	f.StringVar(&o.Out, "out", "", "`FOLDER` for card.html, or curves.csv and curves.svg")
	f.BoolVar(&o.Force, "force", false, "overwrite files of the same names")
	f.BoolVar(&o.JSON, "json", false, "answer in JSON, one line for a stop")
}

// plan is the plan asked for, by name or by values.
func (o tallyOptions) plan() (sampling.Plan, error) {
	if o.Plan != "" {
		p, ok := sampling.PlanNamed(o.Plan)
		if !ok {
			return p, fmt.Errorf("no plan is called %q; --plans lists them", o.Plan)
		}
		return p, nil
	}
	if o.Rule != "" {
		return o.byRule()
	}
	p := sampling.Plan{Name: "of your own", Pest: o.Pest, Unit: o.Unit, AtOr: o.At, Source: "values given on the command line"}
	wald := sampling.Wald{Low: o.Low, High: o.High, K: o.K, Alpha: o.Alpha, Beta: o.Beta}
	switch {
	case len(o.Taylor) == 2:
		p.Rule, p.AtOr = sampling.Green{Taylor: sampling.Taylor{A: o.Taylor[0], B: o.Taylor[1]}, D: o.Precision}, 0
		return p, p.Rule.Validate()
	case len(o.Taylor) > 0:
		return p, errors.New("--taylor wants two numbers, such as 2.586,1.511")
	case o.Low == 0 && o.High == 0:
		return p, errors.New("no plan: give --plan NAME, or --rule NAME, or --low and --high, or --taylor a,b")
	case o.Counts == "poisson":
		wald.Distribution, p.AtOr = sampling.Poisson, 0
	case o.Counts == "negative-binomial":
		wald.Distribution, p.AtOr = sampling.NegativeBinomial, 0
	case o.Counts != "":
		return p, fmt.Errorf("--counts %s: want poisson or negative-binomial", o.Counts)
	}
	p.Rule = wald
	return p, wald.Validate()
}

func (o tallyOptions) settings() sampling.Settings {
	return sampling.Settings{Least: o.Least, Most: o.Most, Independent: o.Independent}
}

func listPlans(w io.Writer) error {
	for _, p := range sampling.Plans() {
		if _, err := io.WriteString(w, fieldwork.Tally{Plan: p}.Head()); err != nil {
			return err
		}
	}
	return nil
}

// tallyRun is one call of tally.
type tallyRun struct {
	options tallyOptions
	words   fieldwork.Tally
	streams Streams
	in      io.Reader
}

func (r tallyRun) head() {
	if !r.options.JSON {
		fmt.Fprint(r.streams.Out, r.words.Head())
	}
}

// say prints an answer and reports whether counting may end.
func (r tallyRun) say(a sampling.Answer) (done bool, err error) {
	line := r.words.Line(a)
	if r.options.JSON {
		if line, err = r.words.JSON(a); err != nil {
			return false, err
		}
	}
	_, err = io.WriteString(r.streams.Out, line)
	return a.Verdict != sampling.GoOn, err
}

func (r tallyRun) file(path string) error {
	if strings.HasSuffix(strings.ToLower(path), ".csv") {
		return r.survey(path)
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
	tally, err := sampling.NewTally(r.words.Plan.Rule, r.options.settings())
	if err != nil {
		return err
	}
	r.head()
	atTerminal := isTerminal(in)
	history := []sampling.Tally{}
	lines := bufio.NewScanner(in)
	for number := 1; ; number++ {
		if atTerminal {
			fmt.Fprintf(r.streams.Err, "stop %d> ", tally.Answer().Stops+1)
		}
		if !lines.Scan() {
			return lines.Err()
		}
		entry, err := sampling.ParseEntry(lines.Text(), r.words.Plan.AtOr)
		if err == nil && entry.Kind == sampling.Blank {
			continue
		}
		if err == nil && entry.Kind == sampling.End {
			return nil
		}
		var a sampling.Answer
		if err == nil {
			a, history, err = enter(tally, history, entry)
		}
		switch {
		case err != nil && atTerminal:
			fmt.Fprintf(r.streams.Err, "  %s\n", oneLine(err))
			continue
		case err != nil:
			return fmt.Errorf("%s line %d: %w", name, number, err)
		}
		if done, err := r.say(a); err != nil || done && !atTerminal {
			return err
		}
	}
}

// enter takes in an entry, or the last one back.
func enter(t *sampling.Tally, history []sampling.Tally, e sampling.Entry) (sampling.Answer, []sampling.Tally, error) {
	if e.Kind == sampling.Undo {
		if n := len(history); n > 0 {
			*t, history = history[n-1], history[:n-1]
		}
		return t.Answer(), history, nil
	}
	before := t.Copy()
	var a sampling.Answer
	var err error
	if e.Kind == sampling.More {
		a, err = t.Join(t.Answer().Stops-1, e.Count)
	} else {
		a, err = t.Add(e.Count)
	}
	if err != nil {
		return a, history, err
	}
	return a, append(history, before), nil
}

func isTerminal(in io.Reader) bool {
	f, ok := in.(*os.File)
	return ok && term.IsTerminal(int(f.Fd()))
}

// survey answers the stops of a table of counts, in their order.
func (r tallyRun) survey(path string) error {
	read, err := survey.ReadFiles([]string{path}, survey.Options{Pest: r.options.Pest})
	if err != nil {
		return err
	}
	for _, p := range read.Problems {
		fmt.Fprintf(r.streams.Err, "  %s\n", p)
	}
	at := make([][2]float64, len(read.Stops))
	for i, s := range read.Stops {
		at[i] = [2]float64{s.Longitude, s.Latitude}
	}
	tally, err := sampling.NewTally(r.words.Plan.Rule, r.options.settings())
	if err != nil {
		return err
	}
	r.head()
	places := sampling.Spread(at, r.options.Apart)
	for i, s := range read.Stops {
		c, err := r.count(s)
		if err != nil {
			return err
		}
		var a sampling.Answer
		if places[i] < tally.Answer().Stops {
			a, err = tally.Join(places[i], c)
		} else {
			a, err = tally.Add(c)
		}
		if err != nil {
			return fmt.Errorf("%s: stop %s: %w", path, s.Name, err)
		}
		if done, err := r.say(a); err != nil || done {
			return err
		}
	}
	return nil
}

// count is a stop as the plan counts.
func (r tallyRun) count(s survey.Stop) (sampling.Count, error) {
	if !r.words.Share() {
		return sampling.Count{Total: s.Total, Units: s.Units}, nil
	}
	if r.words.Plan.AtOr <= 0 {
		return sampling.Count{}, hintedError{errors.New("the plan does not say from which count on a leaf counts"), "give --tally"}
	}
	share, ok := s.Share(r.words.Plan.AtOr)
	if !ok {
		return sampling.Count{}, hintedError{fmt.Errorf("stop %s holds leaves counted together: which have %v or more is not told", s.Name, r.words.Plan.AtOr),
			"use a plan on counts, or one row for each leaf"}
	}
	return sampling.Count{Total: share * s.Units, Units: s.Units}, nil
}
