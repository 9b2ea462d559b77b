package cli

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"github.com/geocoris/geocoris/internal/engine"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/output/report"
)

type checkOptions struct {
	reading  mapOptions // of which the settings of reading are used
	settings string     // the path of a file of settings; "" for none
	given    []string   // the words of the flags by which map reads the same
	json     bool
	strict   bool
	force    bool
}

func newCheck(s Streams) *cobra.Command {
	var o checkOptions
	cmd := &cobra.Command{
		Use:   "check SAMPLES... [--field BOUNDARY] [--out FOLDER]",
		Short: "Look over a morning's counts before they are mapped",
		Long: `check reads samples as map does and names what is wrong with them, one line each.
A line gives file, line, column, value, what is wrong and how to fix it. Refused rows
are set aside; doubtful ones are used. With a boundary it also compares positions with
the field.
It finds swapped latitude and longitude, lost signs, stops outside, and minutes written
as decimals, which --fix reads. It also tells what the edge says beside the inside.

With --out it writes problems.csv for a spreadsheet, and clean.csv with the rows that
are used, as they were understood. With a boundary these are of stops that lie in a
field. clean.schema.json is a Frictionless Table Schema of it. Rows that could not be
read stand last in clean.csv, with "not read" for a count. So a map of it still tells
that somebody counted there. Write the right count over it, or take the row out. Exit
codes: 0 done; 1 could not be done, or nothing can be used; 2 wrong usage; 3 rows are
refused and --strict was given.`,
		Example: `  geocoris check week3.csv --field field.geojson
  geocoris check week3.csv --field field.geojson --fix swap --out checked
  geocoris check week3.csv --settings farm.toml
  geocoris check counts.xlsx --json`,
		Args: usageArgs(atLeastOneSample),
	}
	o.reading.readingFlags(cmd.Flags())
	_ = cmd.Flags().MarkHidden("only") // rows are looked over before they have a field
	f := cmd.Flags()
	f.SortFlags = false
	f.StringVar(&o.settings, "settings", "", "TOML `FILE` with settings of map called as the flags are; flags go before it")
	f.BoolVar(&o.strict, "strict", false, "exit with code 3 if rows are refused")
	f.BoolVar(&o.force, "force", false, "write into a folder that holds other files too")
	f.Var(&o.reading.Language, "language", "`en` or es, for the screen; files, errors and some notes are in English")
	f.BoolVar(&o.json, "json", false, "print the report as JSON")
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		args, err := matched(args)
		if err != nil {
			return err
		}
		o.given = readingWords(cmd.Flags())
		if o.settings != "" {
			out := o.reading.Out
			if o.reading, _, err = settle(cmd.Flags(), o.settings); err != nil {
				return err
			}
			o.reading.Out = out // that of the file is for the map
		}
		return runCheck(s, args, o)
	}
	return cmd
}

func runCheck(s Streams, samples []string, o checkOptions) (err error) {
	if o.reading.Out != "" {
		if err := checkFolder(o.reading.Out, samples, engine.CheckFiles[:], o.force); err != nil {
			return err
		}
	}
	q := engine.CheckRequest{Today: s.Today}
	if q.Boundary, err = loadAsked(o.reading.Field); err != nil {
		return err
	}
	if q.Setup, err = setupOf(o.reading.Settings); err != nil {
		return err
	}
	q.Incoming = true
	if q.Samples, err = loadSamples(samples, s.In); err != nil {
		return err
	}
	made, err := engine.Check(q)
	if err != nil {
		return err
	}
	if o.reading.Out != "" {
		if err := writeFolder(s, o.reading.Out, outFiles(made.Files), nil); err != nil {
			return err
		}
	}
	if err := printCheck(s.Out, made, o); err != nil {
		return err
	}
	s.notes(made.FarDays, o.reading.Language)
	if err := made.NoneUsed(); err != nil {
		return err
	}
	if !o.json {
		if err := s.show(o.next(samples, made, figures.Both.In(o.reading.Language))); err != nil {
			return err
		}
	}
	if o.strict && made.Report.Tally.SetAside > 0 {
		return strictError{made.Report.Tally.SetAside}
	}
	return nil
}

func printCheck(w io.Writer, made *engine.CheckOutcome, o checkOptions) error {
	r := made.Report
	if o.json {
		return report.WriteJSON(w, checkJSON(made))
	}
	var b strings.Builder
	u := figures.Both.In(o.reading.Language)
	lines := r.Lines(u.Language().Finding)
	for _, line := range lines {
		fmt.Fprintln(&b, line)
	}
	switch {
	case len(lines) == len(r.All()):
	case o.reading.Out != "":
		fmt.Fprintln(&b, u.Text("each row by itself stands in problems.csv"))
	default:
		fmt.Fprintln(&b, u.Text("--out FOLDER writes each row by itself, in problems.csv"))
	}
	if !r.Clean() {
		fmt.Fprintln(&b)
	}
	b.WriteString(u.Say("rows: %s read, %s used, %s set aside", u.Number(r.Tally.Read), u.Number(r.Tally.Used), u.Number(r.Tally.SetAside)))
	if r.Tally.OtherPest > 0 {
		b.WriteString(u.Say(", %d of another pest", r.Tally.OtherPest))
	}
	fmt.Fprintf(&b, "; %s\n", u.Counted(len(r.Stops()), "stop"))
	for _, e := range r.Edge {
		fmt.Fprintf(&b, "%s: %s\n", e.Field, edgeText(u, lotOf(u, e.Near, e.NearMean), lotOf(u, e.Inside, e.InMean), e.NearEdgeMetres))
	}
	for _, ob := range r.Observers {
		name := ob.Name
		if name == "" {
			name = u.Text("observer not named")
		}
		fmt.Fprintf(&b, "%s: %s\n", name, countedBy(u, ob.Stops, ob.Extra, ob.Mean))
	}
	for _, note := range slices.Concat(r.Survey.Notes, r.Notes) {
		fmt.Fprintf(&b, "%s: %s\n", u.Text("note"), u.Language().Note(note))
	}
	if o.reading.Out != "" {
		fmt.Fprintln(&b, u.Say("files in %s: %s", o.reading.Out, strings.Join(engine.CheckFiles[:], ", ")))
		if n := len(r.Away); n > 0 {
			fmt.Fprintln(&b, u.Say("clean.csv leaves out %s in no field", u.Counted(n, "stop")))
		}
	}
	_, err := io.WriteString(w, b.String())
	return err
}

func checkJSON(made *engine.CheckOutcome) map[string]any {
	r := made.Report
	problems := []map[string]any{}
	for _, p := range r.All() {
		problems = append(problems, map[string]any{
			"file": p.File, "line": p.Line, "column": p.Column, "value": p.Value, "severity": p.Severity.String(), "what": p.Said(), "mend": p.Fix,
		})
	}
	edge, observers := []map[string]any{}, []map[string]any{}
	for _, e := range r.Edge {
		edge = append(edge, map[string]any{"field": e.Field, "near_edge_m": e.NearEdgeMetres, "stops_near": e.Near, "stops_inside": e.Inside,
			"mean_near": finite(e.NearMean), "mean_inside": finite(e.InMean)})
	}
	for _, ob := range r.Observers {
		observers = append(observers, map[string]any{"observer": ob.Name, "stops": ob.Stops, "extra": ob.Extra, "mean": finite(ob.Mean)})
	}
	return map[string]any{
		"rows":     map[string]int{"read": r.Tally.Read, "used": r.Tally.Used, "set_aside": r.Tally.SetAside, "other_pest": r.Tally.OtherPest},
		"stops":    len(r.Survey.Stops),
		"problems": problems, "edge": edge, "observers": observers,
		"notes": append([]string{}, slices.Concat(r.Survey.Notes, r.Notes)...), "dates": append([]string{}, r.Survey.Dates...), "pest": r.Survey.Pest,
	}
}

// finite is null in JSON where there is no number.
func finite(v float64) *float64 {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return nil
	}
	return &v
}

// countedBy is how many stops an observer has in an average, and how many extra; no average
// where all are.
func countedBy(u figures.Units, stops, extra int, mean float64) string {
	named := report.StopsAnd(stops, extra, u)
	if stops == 0 {
		return named
	}
	return u.Say("%s, average %s", named, u.Short(mean))
}

// lotOf is how many stops a lot has, and their average; "" for none.
func lotOf(u figures.Units, stops int, mean float64) string {
	if stops == 0 {
		return ""
	}
	return u.Say("%s, average %s", u.Counted(stops, "stop"), u.Short(mean))
}

// edgeText sets the stops within so many metres of a field's edge against those inside;
// nothing is said of a lot that has none.
func edgeText(u figures.Units, near, inside string, metres float64) string {
	switch {
	case near == "":
		return u.Say("%s, none within %g m of the edge", inside, metres)
	case inside == "":
		return u.Say("within %g m of the edge %s; none inside", metres, near)
	}
	return u.Say("within %g m of the edge %s; inside %s", metres, near, inside)
}
