package cli

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"github.com/geocoris/geocoris/internal/engine"
	"github.com/geocoris/geocoris/internal/files/folder"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/language/vocabulary"
)

func newRecord(s Streams) *cobra.Command {
	var o engine.RecordSettings
	var quiet bool
	var language vocabulary.Language
	cmd := &cobra.Command{
		Use:   "record FOLDER --date DAY --field NAME --area AREA --product NAME=AMOUNT --who NAME",
		Short: "Record what was applied, beside the map: one JSON file and one line of a table",
		Long: `record writes down what was applied as you enter it: nothing is worked out or filled
in. It goes into the folder of the map: a JSON file of its own for each record, and
a line of applied.csv for the file of two years. A record that is there already is
refused. With --ground the ground goes beside it, dated, for geocoris compare.

For a US private applicator and a restricted-use product the record is due within
14 days and kept for 2 years, spot sprays too; your own rules may ask for more.`,
		Example: `  geocoris record out --date 2026-07-17 --field Pivot --area 31.9ac \
    --product "product A=95.8 lb" --carrier 479gal --wind "5 mph from SW" \
    --who "the applicator" --licence 0000 --ground job/swaths.geojson`,
		Args: takes(1, 1),
	}
	f := cmd.Flags()
	f.SortFlags = false
	f.Var(day{&o.Date}, "date", "`day` of the application, such as 2026-07-17 or \"17 July 2026\" (required)")
	f.StringVar(&o.Field, "field", "", "`name` of the field (required)")
	f.StringVar(&o.Area, "area", "", "`area` treated, such as 12.9ha or 31.9ac (required)")
	f.StringArrayVar(&o.Product, "product", nil, "`NAME=AMOUNT` used, a registration number in brackets behind the name; may be given several times (required)")
	f.StringVar(&o.Who, "who", "", "`name` of who applied (required)")
	f.StringVar(&o.Licence, "licence", "", "`number` of the licence")
	f.StringVar(&o.Carrier, "carrier", "", "`volume` of carrier, as entered")
	f.StringVar(&o.Start, "start", "", "`time` of the first spray")
	f.StringVar(&o.End, "end", "", "`time` of the last spray")
	f.StringVar(&o.Wind, "wind", "", "`speed` and direction, as entered")
	f.StringVar(&o.Weather, "weather", "", "temperature, humidity, as entered")
	f.StringVar(&o.Notes, "notes", "", "anything else")
	f.StringVar(&o.Ground, "ground", "", "`FILE` of the ground that was sprayed, such as swaths.geojson of the hand-off, kept for compare --treated")
	f.Var(&language, "language", "`en` or es, for the screen; files, errors and some notes are in English")
	f.BoolVar(&quiet, "quiet", false, "print nothing but errors")
	cmd.RunE = func(_ *cobra.Command, args []string) error {
		return runRecord(s, args[0], o, language, quiet)
	}
	return cmd
}

func runRecord(s Streams, path string, o engine.RecordSettings, language vocabulary.Language, quiet bool) error {
	q := engine.RecordRequest{Settings: o, Today: s.Today}
	if err := q.Check(); err != nil {
		return err
	}
	if err := folder.Check(path); err != nil {
		return err
	}
	if _, err := os.Stat(path); err != nil {
		return hintedError{fmt.Errorf("%s is no folder", path), "give the folder of the map that the record belongs to"}
	}
	if err := settled(s, path); err != nil {
		return err
	}
	var err error
	if q.Summary, err = loadThere(filepath.Join(path, "summary.json")); err != nil {
		return err
	}
	if err := vouched(path, q.Summary); err != nil {
		return err
	}
	if err := q.Check(); err != nil {
		return err
	}
	if q.Ground, err = loadAsked(o.Ground); err != nil {
		return err
	}
	q.Taken = func(name string) bool { return folder.CheckNew(path, []string{name}) != nil }
	q.Kept = func(name string) []byte {
		text, _ := os.ReadFile(filepath.Join(path, name)) // what cannot be read is no such record
		return text
	}
	var made *engine.RecordOutcome
	err = s.writer().Update(s.context(), path, func() (change folder.Change, err error) { // nobody else adds a line meanwhile
		if q.Table, err = tableOf(path); err != nil {
			return change, err
		}
		if made, err = engine.Record(q); err != nil {
			return change, err
		}
		return folder.Change{Files: outputs(outFiles(made.Files))}, nil
	})
	if err != nil {
		return err
	}
	if !quiet {
		s.notes(slices.Concat(made.FarDays, made.Notes, mapElsewhere(path, q.Summary)), language)
		if made.Completed {
			fmt.Fprintln(s.Out, language.Say("recorded in %s: the ground of %s", path, made.Name))
		} else {
			fmt.Fprintln(s.Out, language.Say("recorded in %s: %s, and a line of %s", path, made.Name, engine.AppliedTable))
		}
		for _, f := range made.Files {
			if strings.HasSuffix(f.Name, ".geojson") {
				ground := filepath.Join(path, f.Name)
				fmt.Fprintln(s.Out, language.Say("the ground, for compare --treated: %s", ground))
				if err := s.show(nextOfRecord(path, ground, figures.Both.In(language))); err != nil {
					return err
				}
			}
		}
	}
	return nil
}

// mapElsewhere is a note on a record in a folder without a map, beside which one lies: there
// the record would have been compared with what map knows of the field.
func mapElsewhere(path string, summary *engine.Source) []string {
	maps := mapsIn(path)
	if summary != nil || len(maps) == 0 {
		return nil
	}
	return []string{fmt.Sprintf("%s holds no map, so that nothing was compared with one: record %s if this is of the map there", path, maps[0])}
}

// vouched refuses a summary that is not what map wrote; nil is none.
func vouched(path string, summary *engine.Source) error {
	if summary == nil {
		return nil
	}
	of, err := mapFolder(path)
	if err != nil {
		return err
	}
	return of.Vouch(*summary)
}

// tableOf is the table of records of a folder, whole, however long it is: it is written
// anew. It is nil where there is none.
func tableOf(path string) (*engine.Source, error) {
	name := filepath.Join(path, engine.AppliedTable)
	text, err := os.ReadFile(name)
	switch {
	case os.IsNotExist(err):
		return nil, nil
	case err != nil:
		return nil, err
	}
	return &engine.Source{Name: name, Content: text}, nil
}
