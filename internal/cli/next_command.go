package cli

import (
	"path/filepath"
	"slices"

	"github.com/spf13/pflag"

	"github.com/geocoris/geocoris/internal/engine"
	"github.com/geocoris/geocoris/internal/engine/disk"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/output/report"
)

// Each screen ends with the command that comes next, where there is one that can be told.
// Words in capitals are for the person to fill in: no width, product or amount is made up.

// next is a command on a line of its own, which is not wrapped, so that it can be copied.
func next(u figures.Units, words ...string) []report.Line {
	return commandLine(u.Text("Next:"), words)
}

func commandLine(heading string, words []string) []report.Line {
	return []report.Line{{}, {Text: heading}, {Text: "  " + shellLine(append([]string{"geocoris"}, words...))}}
}

// next is the hand-off of a map that names ground to spray.
func (o mapOptions) next(made *engine.MapOutcome) []report.Line {
	if !slices.Contains(engine.Listed(made.Files), "zones.geojson") { // a region has others
		return nil
	}
	for _, v := range made.Verdicts {
		if report.ToneOf(v.Kind) == report.Spray {
			return next(o.Said(), "handoff", o.Out, "--swath", "WIDTH", "--out", beside(o.Out, "-job"))
		}
	}
	return nil
}

// beside is a folder beside another, named by it: also where its name ends in a slash, or is
// that of the folder one works in.
func beside(folder, ending string) string {
	switch clean := filepath.Clean(folder); filepath.Base(clean) {
	case ".", "..", string(filepath.Separator):
		return "out" + ending
	default:
		return clean + ending
	}
}

// next is the map of counts that were looked over, or of two visits what changed, with the
// settings that were given. Rows that were refused are put right first, and so are days of
// another month or year.
func (o checkOptions) next(samples []string, made *engine.CheckOutcome, u figures.Units) []report.Line {
	if o.reading.Field == "" || made.Undated || slices.Contains(samples, stdin) {
		return nil
	}
	words, out := []string{"map"}, "out"
	if made.Several && !made.SlippedDay {
		words, out = []string{"compare"}, "change"
	}
	words = slices.Concat(words, samples, o.given)
	if o.reading.Out != "" && filepath.Clean(o.reading.Out) == out { // which now holds what was looked over
		out += "-" + words[0]
	}
	words = append(words, "--out", out)
	switch {
	case made.SlippedDay:
		return commandLine(u.Text("Once the days are put right:"), words)
	case made.Report.ToPutRight():
		return commandLine(u.Text("Once the refused rows are put right:"), words)
	}
	return next(u, words...)
}

// readingWords are the words of the flags that were given and by which map and compare read
// the same.
func readingWords(given *pflag.FlagSet) []string {
	var reading mapOptions
	usual := pflag.NewFlagSet("", pflag.ContinueOnError)
	reading.readingFlags(usual)
	return givenWords(given, func(name string) bool {
		return name != "out" && (usual.Lookup(name) != nil || name == "settings" || name == "language")
	})
}

// next is the record of the spray, of the first field that a job is for.
func (o handoffOptions) next(made *engine.HandoffOutcome) []report.Line {
	jobs := made.Sheet.Result.Jobs
	if len(jobs) == 0 {
		return nil
	}
	says := made.Sheet.Units.Text("After the spray:")
	if len(jobs) > 1 {
		says = made.Sheet.Units.Text("After the spray, for each field:")
	}
	words := []string{"record", o.folder(), "--field", jobs[0].Field, "--date", "DAY", "--area", "AREA", "--product", "NAME=AMOUNT", "--who", "NAME", "--ground", filepath.Join(o.Out, "swaths.geojson")}
	return commandLine(says, words)
}

// nextOfRecord is what a record is for: the season that lies beside the folder of the map keeps its
// ground, and a further visit tells whether it worked.
func nextOfRecord(folder, ground string, u figures.Units) (lines []report.Line) {
	if season := seasonBeside(folder); season != "" {
		lines = next(u, "season", "add", season, "--treated", ground)
	}
	return append(lines, commandLine(u.Text("After the next visit:"), []string{"compare", folder, "NEXTMAP", "--treated", ground, "--out", "change"})...)
}

// seasonBeside is the file of a season next to a folder; "" where there is none, or several.
func seasonBeside(folder string) (found string) {
	paths, _ := filepath.Glob(filepath.Join(filepath.Dir(filepath.Clean(folder)), "*.gpkg"))
	for _, path := range paths {
		if !disk.IsSeason(path) {
			continue
		}
		if found != "" {
			return ""
		}
		found = path
	}
	return found
}

// next compares the visits of a season, once it holds several to a field.
func (a seasonAdd) next(stored engine.SeasonAddOutcome, u figures.Units) []report.Line {
	for _, v := range stored.Visits {
		if v.Beside {
			return next(u, "compare", disk.ShownSeason(a.path), "--out", "change")
		}
	}
	return nil
}
