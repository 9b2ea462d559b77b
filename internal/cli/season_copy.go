package cli

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"github.com/geocoris/geocoris/internal/engine/disk"
	"github.com/geocoris/geocoris/internal/language/figures"
)

func newSeasonCopy(s Streams) *cobra.Command {
	return &cobra.Command{
		Use:   "copy FROM TO",
		Short: "Copy a season into another, such as from a file into a database",
		Long: `copy adds to a season all that another one holds: fields, visits with their counts
byte for byte, and treatments, all of it or nothing. Either is a file or the address of
a database; TO is made where there is none. Visits keep their numbers where those are
free; what a scout copies into a database gets the next ones. What is there already is
left as it is; what was replaced stays behind.`,
		Example: `  geocoris season copy season.gpkg postgres://scout_a@office.example/season
  geocoris season copy postgres://scout_a@office.example/season home.gpkg`,
		Args: takes(2, 2),
		RunE: func(_ *cobra.Command, args []string) error { return runSeasonCopy(s, args[0], args[1]) },
	}
}

func runSeasonCopy(s Streams, from, to string) error {
	done, err := disk.CopySeason(from, to)
	if err != nil {
		return err
	}
	u := figures.Both
	parts := []string{u.Counted(done.Visits, "visit"), u.Counted(done.Treatments, "treatment")}
	if done.Known > 0 {
		parts = append(parts, fmt.Sprintf("%d already there", done.Known))
	}
	_, err = fmt.Fprintf(s.Out, "copied into %s: %s\n", disk.ShownSeason(to), strings.Join(parts, ", "))
	return err
}

func newSeasonRoles(s Streams) *cobra.Command {
	return &cobra.Command{
		Use:   "roles",
		Short: "Print the SQL that makes the roles of a season in a database",
		Long: `roles prints SQL that makes the roles geocoris_scout, who adds and reads, and
geocoris_office, who reads; neither changes or deletes anything. Who adds the first
visit to a database makes them, where allowed. Else an administrator runs this there.`,
		Example: `  geocoris season roles | psql --dbname season`,
		Args:    takes(0, 0),
		RunE: func(*cobra.Command, []string) error {
			_, err := io.WriteString(s.Out, disk.SeasonRoles())
			return err
		},
	}
}
