package cli

import (
	"fmt"
	"os"

	"github.com/spf13/cobra"

	"github.com/geocoris/geocoris/internal/engine"
	"github.com/geocoris/geocoris/internal/engine/disk"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/language/vocabulary"
)

func newSeasonMerge(s Streams) *cobra.Command {
	var language vocabulary.Language
	cmd := &cobra.Command{
		Use:   "merge INTO FROM...",
		Short: "Put the season files of several scouts into one",
		Long: `merge takes the visits and treatments of season files into another, which is made
where there is none. The files that they come from stay as they are.

The same counts with the same settings are one visit, whoever brought them. Others
are all kept, also two of one field on one day, each with its author. Compare takes
them as one visit where they are parts of one walk, at places of their own; else it
asks which of them to leave out. The order of the files does not matter: visits are
numbered anew, by their days. To merge again adds what is new and nothing twice.
A database keeps its numbers: what is new there gets the next ones.

It is all or nothing. Two boundaries of one name are an error that tells both areas:
they are two fields, or one that was drawn twice, and only you know.`,
		Example: `  geocoris season merge office.gpkg anna.gpkg ben.gpkg`,
		Args:    takes(2, anyNumber),
		RunE: func(_ *cobra.Command, args []string) error {
			return runSeasonMerge(s, args[0], args[1:], figures.Both.In(language))
		},
	}
	cmd.Flags().Var(&language, "language", "`en` or es, for what was merged; errors and some notes are in English")
	return cmd
}

func runSeasonMerge(s Streams, into string, from []string, u figures.Units) error {
	from, err := matched(from)
	if err != nil {
		return err
	}
	var sources []engine.SeasonSource
	for _, path := range from {
		if sameFile(path, into) || disk.SameDatabase(path, into) {
			return usageError{fmt.Errorf("%s: is the season to merge into; name the others after it", disk.ShownSeason(path))}
		}
		source, closeIt, err := disk.OpenSeasonToTake(path)
		if _, lost := os.Stat(path); err != nil && lost == nil && !disk.IsSeason(path) {
			return hintedError{err, "season merge puts seasons together; counts are added to one with geocoris season add"}
		}
		if err != nil {
			return err
		}
		defer func() { _ = closeIt() }()
		sources = append(sources, source)
	}
	file, closeIt, err := disk.OpenSeasonToMerge(into)
	if err != nil {
		return err
	}
	defer func() { _ = closeIt() }()
	made, err := engine.MergeSeasons(into, file, sources)
	if err != nil {
		return err
	}
	fmt.Fprintln(s.Out, u.Say("merged into %s: %s added, %d there already", disk.ShownSeason(into), u.Counted(made.Visits, "visit"), made.Known))
	if made.Treatments+made.KnownGround > 0 {
		fmt.Fprintln(s.Out, u.Say("%s added, %d there already", u.Counted(made.Treatments, "treatment"), made.KnownGround))
	}
	s.notes(made.Notes, u.Language())
	return s.show(next(u, "season", "list", disk.ShownSeason(into)))
}
