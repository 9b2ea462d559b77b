package cli

import (
	"path/filepath"
	"slices"
	"strconv"

	"github.com/spf13/pflag"

	"github.com/geocoris/geocoris/internal/engine"
	"github.com/geocoris/geocoris/internal/engine/disk"
	"github.com/geocoris/geocoris/internal/output/report"
)

// next is the hand-off of ground that was not sprayed, where the answer is to spray that, or the
// hand-off by a day sooner than the map's, which the job sheet has else. It takes the folder of
// a map, which compare does not write: where the last counts came as files, their map goes
// before it.
func (c *compareRun) next(weeks []engine.Week, screen report.CompareScreen) []report.Line {
	u := screen.Units
	last, rest := screen.SprayTheRest()
	says, saysOf := u.Text("For the ground that was not sprayed:"), u.Say("For the ground that was not sprayed, with the folder of the map of %s as MAPDIR:", u.Day(last.Date))
	if rest = rest && c.options.Treated != ""; !rest {
		sooner := false
		if last, sooner = screen.SpraySooner(); !sooner {
			return nil
		}
		says, saysOf = u.Text("For a job sheet with the sooner day:"), u.Say("For a job sheet with the sooner day, with the folder of the map of %s as MAPDIR:", u.Day(last.Date))
	}
	of, out := mapOf(weeks, last.Last), "job"
	var counts []string
	if of == "" {
		counts = c.mapsOf(last)
	}
	switch {
	case counts != nil:
		of = beside(c.mapped.Out, "-map")
		counts = append(counts, "--out", of)
		out = beside(of, "-job")
	case of != "":
		out = beside(of, "-job")
	default:
		says, of = saysOf, "MAPDIR"
	}
	job := []string{"handoff", of, "--swath", "WIDTH"}
	if rest {
		job = append(job, "--keep-off", c.options.Treated+"=0m")
	}
	if last.GoodFor > 0 {
		job = append(job, "--good-for", strconv.Itoa(last.GoodFor))
	}
	job = append(job, "--out", out)
	if counts == nil {
		return commandLine(says, job)
	}
	return append(commandLine(says, counts), commandLine("", job)[2:]...)
}

// mapOf is the last of the weeks that is a folder of map whose counts end on a day; "" for none.
func mapOf(weeks []engine.Week, day string) string {
	for _, week := range slices.Backward(weeks) {
		if week.Folder == nil {
			continue
		}
		if last, err := week.Folder.LastDay(); err == nil && last == day { // an error was told before
			return week.Folder.Name
		}
	}
	return ""
}

// mapsOf are the words of map for the counts of a visit with the settings of the call; nil where
// they do not come as files of that visit alone, or where anything but flags said how to read them.
func (c *compareRun) mapsOf(v report.LastVisit) (words []string) {
	if c.mapped.Field == "" || len(c.options.Dates) > 0 || len(c.weeks) < 2 {
		return nil
	}
	named := map[string]bool{}
	for _, name := range v.Files {
		named[filepath.Base(name)] = true
	}
	words = []string{"map"}
	for _, week := range c.weeks {
		if info, err := statOf(week); err != nil || !info.regular || disk.IsSeason(week) {
			return nil
		}
		if name := filepath.Base(week); named[name] {
			words = append(words, week)
			delete(named, name)
		}
	}
	if len(named) > 0 || len(words) == 1 {
		return nil
	}
	return append(words, mapWords(c.given)...)
}

// mapWords are the words of the flags that were given and that map reads as compare does, but for
// where to write and what.
func mapWords(given *pflag.FlagSet) []string {
	var mapped mapOptions
	known := pflag.NewFlagSet("", pflag.ContinueOnError)
	mapped.flags(known)
	return givenWords(given, func(name string) bool {
		return !slices.Contains([]string{"out", "write", "force", "json", "quiet", "strict"}, name) && (known.Lookup(name) != nil || name == "settings")
	})
}
