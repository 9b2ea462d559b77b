package cli

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"slices"
	"sync"

	"github.com/spf13/cobra"
	"golang.org/x/sync/errgroup"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/assess"
	"github.com/geocoris/geocoris/internal/boundary"
	"github.com/geocoris/geocoris/internal/report"
	"github.com/geocoris/geocoris/internal/survey"
	"github.com/geocoris/geocoris/internal/verdict"
)

func newMap(s Streams) *cobra.Command {
	var given mapOptions
	var settings string
	cmd := &cobra.Command{
		Use:   "map SAMPLES... --field BOUNDARY --out FOLDER",
		Short: "Zone fields into treat, watch and clear by a morning's counts",
		Long: `map reads counts with their positions (CSV, .xlsx, or points of GeoJSON, KML, KMZ,
GPX, a Shapefile or a GeoPackage; one row for a leaf, a plant or a stop; - reads
standard input) and field boundaries, interpolates the counts within each field by inverse
distance weighting, and parts the fields into treat, watch and clear.

Columns: stop, longitude, latitude, count are required; leaves (how many were
looked at), empty (how many more held nothing), plant, leaf, groups and group_size
in place of count, mean_per_leaf, infested, date, time, observer, pest, stage,
accuracy_m and notes are read too, and so are common other names for them. A count
may be a class such as 11-50. Positions may have minutes and seconds, or come as
easting and northing (--utm) or as wkt. A row that cannot be used is named with
its line and the mend. Ground far from any stop is never clear.

It writes zones.geojson, zones.kml, zones.kmz, stops.geojson, summary.json and
run.json. Exit codes: 0 done; 1 could not be done; 2 wrong usage; 3 done, but rows
were set aside and --strict was given.`,
		Example: `  # sorghum aphids, the published level of 40 per leaf
  geocoris map week2.csv --field field.geojson --out out

  # levels of your own region, treat ground grown by 10 m, areas in acres
  geocoris map week2.csv --field farm.kml --out out --treat-at 50 --watch-at 15 --margin 10 --units us

  # the share of plants with 50 aphids or more, treated from 20 % on
  geocoris map plants.csv --field farm.kml --out out --unit plant --tally 50 --treat-at 20 --watch-at 5

  # settings from a file, the summary to another program
  geocoris map week2.csv --settings farm.toml --json | jq .fields[0].zones`,
		Args: usageArgs(atLeastOneSample),
	}
	given.flags(cmd.Flags())
	cmd.Flags().SortFlags = false
	cmd.Flags().SetNormalizeFunc(alsoRevisit)
	cmd.Flags().StringVar(&settings, "settings", "", "TOML `FILE` with settings called as the flags are; flags go before it")
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		o, err := settle(cmd.Flags(), settings)
		if err != nil {
			return err
		}
		for _, required := range []struct{ name, value string }{{"field", o.Field}, {"out", o.Out}} {
			if required.value == "" {
				return usageError{fmt.Errorf("--%s is missing", required.name)}
			}
		}
		return runMap(cmd.Context(), s, &mapRun{options: o, samples: args, settings: settings})
	}
	return cmd
}

func atLeastOneSample(_ *cobra.Command, args []string) error {
	if len(args) == 0 {
		return errors.New("no samples given: want one CSV file or more")
	}
	return nil
}

// mapRun is one call of the map command.
type mapRun struct {
	options  mapOptions
	samples  []string
	settings string  // file; "" for none
	stdin    []byte  // what standard input held, where it is among the samples
	infested float64 // share of units that the rule wants infested besides
	answers  []verdict.Verdict
	overlaps []boundary.Overlap
}

func (m *mapRun) inputs() []string {
	in := append(append([]string(nil), m.samples...), m.options.Field)
	for _, more := range []string{m.settings, m.options.Schema, m.options.Rules, m.options.Observers} {
		if more != "" {
			in = append(in, more)
		}
	}
	return in
}

func runMap(ctx context.Context, s Streams, m *mapRun) error {
	set := m.options.assess()
	if err := set.Validate(); err != nil {
		return usageError{err}
	}
	if _, err := m.options.wanted(); err != nil {
		return usageError{err}
	}
	if err := checkFolder(m.options.Out, m.inputs(), ours[:], m.options.Force); err != nil {
		return err
	}
	if err := checkRun(m.options.Out, "map"); err != nil {
		return err
	}
	ground, err := readFields(m.options)
	if err != nil {
		return err
	}
	counts, err := m.readSamples(ground.Fields, s.In)
	if err != nil {
		return err
	}
	if !m.options.Quiet {
		farDays(s, counts)
	}
	if err := holdFields(m.options.Field, ground, counts); err != nil {
		return err
	}
	set, ruleNotes, err := m.byRule(set, counts)
	if err != nil {
		return err
	}
	progress := newProgress(s.Err, m.options.Quiet)
	set.Progress = progress.show
	result, err := m.assess(ctx, ground.Fields, counts, set)
	progress.clear()
	if err != nil {
		return failed(s, counts, err)
	}
	m.overlaps = ground.Overlaps
	result.Notes = slices.Concat(ground.Warnings, ruleNotes, result.Notes)
	if m.answers, err = m.verdicts(result); err != nil {
		return err
	}
	result.Notes = append(result.Notes, m.tooLate(result)...)
	result.Notes = append(result.Notes, m.options.leftOut(result)...)
	files, err := m.files(ctx, result, ground.Notes)
	if err != nil {
		return err
	}
	if err := writeFolder(s, m.options.Out, files, ours[:]); err != nil {
		return err
	}
	if err := m.print(s.Out, result, files, ground.Notes); err != nil {
		return err
	}
	if aside := result.Tally().SetAside; m.options.Strict && aside > 0 {
		return strictError{aside}
	}
	return nil
}

// readSamples keeps what came by standard input, so that its digest can be
// recorded.
func (m *mapRun) readSamples(fields []geo.Field, in io.Reader) (*survey.Survey, error) {
	if slices.Contains(m.samples, survey.Stdin) && in != nil {
		const limit = 64 << 20
		var err error
		if m.stdin, err = io.ReadAll(io.LimitReader(in, limit+1)); err != nil {
			return nil, fmt.Errorf("standard input: %w", err)
		}
	}
	opts, err := m.options.survey(fields, m.stdin)
	if err != nil {
		return nil, err
	}
	read, err := survey.ReadFiles(m.samples, opts)
	if err != nil {
		return nil, err
	}
	return m.options.byObserver(read)
}

// mostProblems is how many problems are printed where nothing came out.
const mostProblems = 20

// failed names the rows that were set aside where nothing came out, so that the
// reason can be seen.
func failed(s Streams, counts *survey.Survey, err error) error {
	if len(counts.Stops) > 0 {
		return err
	}
	for i, p := range counts.Problems {
		if i == mostProblems {
			fmt.Fprintf(s.Err, "  and %d more; check names them all\n", len(counts.Problems)-i)
			break
		}
		fmt.Fprintf(s.Err, "  %s\n", p)
	}
	return err
}

// files renders everything, side by side, before anything is written.
func (m *mapRun) files(ctx context.Context, r *assess.Result, notes []string) ([]outFile, error) {
	document := report.DocumentWithVerdicts(report.Document(r), m.answers)
	run, err := m.record(r)
	if err != nil {
		return nil, err
	}
	kml := kmlOnce(document)
	renderings := []struct {
		name  string
		write func(io.Writer) error
	}{
		{"zones.geojson", func(w io.Writer) error {
			return geofile.WriteGeoJSON(w, geofile.FeatureCollection{Features: report.WithOverlaps(report.WithVerdicts(report.ZoneFeatures(r), m.answers), m.overlaps)})
		}},
		{"zones.kml", kml.write},
		{"zones.kmz", kml.archive},
		{"stops.geojson", func(w io.Writer) error {
			return geofile.WriteGeoJSON(w, geofile.FeatureCollection{Features: append(report.StopFeatures(r), report.UnreadFeatures(r)...)})
		}},
		{"summary.json", func(w io.Writer) error { return report.WriteSummary(w, r, m.answers...) }},
		{"run.json", func(w io.Writer) error { return report.WriteJSON(w, run) }},
	}
	more, err := m.looks(ctx, r, run, notes)
	if err != nil {
		return nil, err
	}
	for _, p := range more {
		renderings = append(renderings, p)
	}
	files := make([]outFile, len(renderings))
	var g errgroup.Group
	for i, f := range renderings {
		g.Go(func() error {
			var b bytes.Buffer
			if err := f.write(&b); err != nil {
				return fmt.Errorf("%s: %w", f.name, err)
			}
			files[i] = outFile{f.name, b.Bytes()}
			return nil
		})
	}
	return files, g.Wait()
}

// kmlText is a document as KML, rendered once for both of its files.
type kmlText func() ([]byte, error)

func kmlOnce(d geofile.Document) kmlText {
	return sync.OnceValues(func() ([]byte, error) {
		var text bytes.Buffer
		err := geofile.WriteKML(&text, d)
		return text.Bytes(), err
	})
}

func (t kmlText) write(w io.Writer) error {
	text, err := t()
	if err != nil {
		return err
	}
	_, err = w.Write(text)
	return err
}

func (t kmlText) archive(w io.Writer) error {
	text, err := t()
	if err != nil {
		return err
	}
	return geofile.ArchiveKML(w, text)
}

func (m *mapRun) print(w io.Writer, r *assess.Result, files []outFile, notes []string) error {
	switch {
	case m.options.Quiet:
		return nil
	case m.options.JSON:
		return report.WriteSummary(w, r, m.answers...)
	}
	screen := report.Screen{Result: r, Verdicts: m.answers, Units: m.options.Units.choice, Notes: notes, Out: m.options.Out}
	for _, f := range files {
		screen.Files = append(screen.Files, f.name)
	}
	return screen.Write(w)
}
