// Package cli is the command line: flags, files, streams and exit codes. It calls
// what does the work and does none itself.
//
// Data go to standard output, words to standard error, progress to a terminal
// only. One place prints errors and picks the exit code.
package cli

import (
	"context"
	"errors"
	"fmt"
	"io"
	"runtime/debug"
	"strings"

	"github.com/spf13/cobra"

	"github.com/geocoris/geocoris/internal/engine"
	"github.com/geocoris/geocoris/internal/engine/disk"
	"github.com/geocoris/geocoris/internal/files/folder"
	"github.com/geocoris/geocoris/internal/language/visible"
)

// Streams are where a command reads and writes.
type Streams struct {
	In  io.Reader // what is typed or piped; nil for none
	Out io.Writer // data
	Err io.Writer // words
	// Today is the day on the calendar, YYYY-MM-DD, for words about days that cannot be
	// meant; no file holds it. "" says nothing.
	Today string
	// Env is a variable of the environment, of which the screen's width and colours are
	// asked; nil is none.
	Env func(name string) string

	tty    func() (width int, ok bool) // of Out; nil asks it
	ctx    context.Context             // of the run: ended by a signal
	disk   folder.System               // nil for the machine's
	memory *engine.Memory              // what runs of one program share, as those of tests; nil keeps nothing
}

// Exit codes.
const (
	exitDone   = 0
	exitFailed = 1 // could not be done
	exitUsage  = 2 // asked for wrongly
	exitStrict = 3 // done, but rows were set aside and --strict was given
)

// Run runs the command that args name and returns its exit code.
func Run(ctx context.Context, args []string, s Streams) int {
	out := &printed{to: &visible.Writer{To: s.Out}}
	s.ctx, s.Out, s.Err = ctx, out, redacted{&visible.Writer{To: s.Err}}
	root := newRoot(s)
	root.SetArgs(args)
	ran, err := root.ExecuteContextC(ctx)
	if err == nil {
		err = out.err
	}
	if err == nil {
		return exitDone
	}
	if errors.Is(err, context.Canceled) {
		err = errStopped
	}
	words := disk.InWords(err)
	fmt.Fprintf(s.Err, "geocoris: %s\n", oneLine(words.Text))
	var strict strictError
	if errors.As(err, &strict) {
		return exitStrict
	}
	if hint := hintOf(err, words, ran); hint != "" {
		fmt.Fprintf(s.Err, "hint: %s\n", hint)
	}
	if isUsage(err) {
		return exitUsage
	}
	return exitFailed
}

// isUsage tells a command asked for wrongly, here or in the engine.
func isUsage(err error) bool {
	var here usageError
	var there engine.UsageError
	return errors.As(err, &here) || errors.As(err, &there)
}

var errStopped = errors.New("stopped; nothing was written")

// printed keeps the first error of what is printed, which no command needs to mind: a
// screen that did not come out whole is no success.
type printed struct {
	to  io.Writer
	err error
}

func (p *printed) Write(text []byte) (int, error) {
	n, err := p.to.Write(text)
	if p.err == nil {
		p.err = err
	}
	return n, err
}

// redacted passes on words without the passwords of databases in them.
type redacted struct{ to io.Writer }

func (u redacted) Write(text []byte) (int, error) {
	_, err := io.WriteString(u.to, engine.Redacted(string(text)))
	return len(text), err
}

// usageError is a command asked for wrongly.
type usageError struct{ err error }

func (e usageError) Error() string { return e.err.Error() }
func (e usageError) Unwrap() error { return e.err }

// strictError tells that rows were set aside where none may be.
type strictError struct{ rows int }

func (e strictError) Error() string {
	return fmt.Sprintf("done, but %d rows were set aside and --strict was given", e.rows)
}

// hintOf is how to fix it where that is known; for wrong usage, where the help of the
// command that ran is.
func hintOf(err error, words disk.Words, ran *cobra.Command) string {
	if words.Near != "" {
		return fmt.Sprintf("did you mean %s?", words.Near)
	}
	if hint, ok := engine.FileHint(err); ok {
		return hint
	}
	var here hintedError
	if errors.As(err, &here) {
		return here.hint
	}
	var there engine.HintedError
	if errors.As(err, &there) {
		return there.Hint
	}
	var place *folder.Error
	if errors.As(err, &place) {
		return place.Hint
	}
	if words.Hint != "" {
		return words.Hint
	}
	if isUsage(err) {
		return fmt.Sprintf("%s --help shows examples", ran.CommandPath())
	}
	return ""
}

// hintedError carries how to fix it beside what went wrong.
type hintedError struct {
	error
	hint string
}

func (e hintedError) Unwrap() error { return e.error }

func oneLine(text string) string { return strings.Join(strings.Fields(text), " ") }

func newRoot(s Streams) *cobra.Command {
	root := &cobra.Command{
		Use:   "geocoris",
		Short: "From a morning's GPS-tagged pest counts to a map of where to spray, where to watch, and what is clear",
		Long: `geocoris turns a morning's GPS-tagged pest counts into a map of where to spray,
where to watch, and what is clear. The counts themselves say how far the map may be
believed. It works offline, for any pest counted at points.

The label is the law; licensed people and local rules decide.`,
		Example: `  geocoris demo trial
  geocoris map trial/week2.csv --field trial/field.geojson --out trial/out`,
		Version:       version(),
		SilenceErrors: true,
		SilenceUsage:  true,
		Args:          usageArgs(noSuchCommand),
		RunE:          func(cmd *cobra.Command, _ []string) error { return cmd.Help() },
	}
	root.PersistentPreRunE = writesNoAddress
	if s.In != nil {
		root.SetIn(s.In)
	}
	root.SetOut(s.Out)
	root.SetErr(s.Err)
	root.SetFlagErrorFunc(flagError)
	root.SuggestionsMinimumDistance = nearest
	root.SetVersionTemplate("{{.Name}} {{.Version}}\n")
	root.AddCommand(newPlan(s), newTally(s), newCalibrate(s), newKey(s), newTemplate(s), newCheck(s), newMap(s), newReport(s), newRules(s), newCompare(s), newSeason(s), newHandoff(s), newRecord(s), newSite(s), newServe(s), newDemo(s))
	filesOnce(root)
	return root
}

// writesNoAddress refuses an address where files are written to, before a
// folder bears the password in its name.
func writesNoAddress(cmd *cobra.Command, _ []string) error {
	out := cmd.Flags().Lookup("out")
	switch {
	case out == nil:
	case engine.InDatabase(out.Value.String()):
		return usageError{errors.New("--out: want a name on this disk, not the address of a database")}
	case strings.Contains(out.Value.String(), "://") || engine.Redacted(out.Value.String()) != out.Value.String():
		return usageError{errors.New("--out: want a name on this disk, not an address")}
	}
	return nil
}

// usageArgs makes wrong arguments wrong usage.
func usageArgs(check cobra.PositionalArgs) cobra.PositionalArgs {
	return func(cmd *cobra.Command, args []string) error {
		if err := check(cmd, args); err != nil {
			return usageError{err}
		}
		return nil
	}
}

// version is the module's, or the commit's where it was built from a checkout.
func version() string {
	info, ok := debug.ReadBuildInfo()
	if !ok || info.Main.Version == "" {
		return "unknown"
	}
	return info.Main.Version
}
