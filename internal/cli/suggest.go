package cli

import (
	"errors"
	"fmt"
	"regexp"
	"strings"
	"sync"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"github.com/geocoris/geocoris/internal/engine"
)

// nearest is how many letters what was typed may be off a name to be taken for it.
const nearest = 2

// flagError offers the flag that was meant where one is near.
func flagError(cmd *cobra.Command, err error) error {
	if two, ok := twice(err); ok {
		return usageError{two}
	}
	var refused *pflag.InvalidValueError
	if errors.As(err, &refused) {
		return usageError{refusedValue(refused)}
	}
	var bare *pflag.ValueRequiredError
	if errors.As(err, &bare) {
		what, usage := pflag.UnquoteUsage(bare.GetFlag())
		return usageError{hintedError{fmt.Errorf("--%s: its value is missing", bare.GetFlag().Name), fmt.Sprintf("give --%s %s: %s", bare.GetFlag().Name, what, usage)}}
	}
	var unknown *pflag.NotExistError
	if !errors.As(err, &unknown) {
		return usageError{err}
	}
	typed, dashes := unknown.GetSpecifiedName(), "did you mean --%s?"
	if short := unknown.GetSpecifiedShortnames(); short != "" { // letters behind one dash
		typed, dashes = short, "two dashes: --%s"
	}
	typed, _, _ = strings.Cut(typed, "=")
	if now := engine.NameNow(typed); now != typed && cmd.Flags().Lookup(now) != nil {
		return usageError{hintedError{err, fmt.Sprintf("--%s is called --%s now", typed, now)}}
	}
	if meant := nearFlag(cmd, typed); meant != "" {
		return usageError{hintedError{err, fmt.Sprintf(dashes, meant)}}
	}
	return usageError{err}
}

var decimalComma = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^([-+]?\d+),(\d+)(\D*)$`) })

// refusedValue says of a value that a flag does not take what it takes.
func refusedValue(e *pflag.InvalidValueError) error {
	flag, typed, says := e.GetFlag(), e.GetValue(), e.Unwrap().Error()
	switch flag.Value.Type() {
	case "float64":
		says = "want a number"
	case "int", "int64":
		says = "want a whole number"
	case "uint64":
		says = "want a whole number of 0 or more"
	case "bool":
		says = "want true or false"
	}
	if typed == "" {
		typed = `""`
	}
	err := fmt.Errorf("--%s %s: %s", flag.Name, typed, says)
	if m := decimalComma().FindStringSubmatch(typed); m != nil && flag.Value.Type() != "int" && flag.Value.Type() != "visits" {
		return hintedError{err, fmt.Sprintf("write %s.%s%s, with a point", m[1], m[2], m[3])}
	}
	return err
}

// nearFlag is the flag of a command that is typed nearly so, "" for none. Names are
// compared with one another as those of commands are.
func nearFlag(cmd *cobra.Command, typed string) string {
	if len(typed) < 2 {
		return ""
	}
	names := &cobra.Command{SuggestionsMinimumDistance: nearest}
	exact := false
	cmd.Flags().VisitAll(func(f *pflag.Flag) {
		exact = exact || f.Name == typed
		names.AddCommand(&cobra.Command{Use: f.Name, Run: func(*cobra.Command, []string) {}})
	})
	if exact {
		return typed
	}
	if near := names.SuggestionsFor(typed); len(near) > 0 {
		return near[0]
	}
	return ""
}

// noSuchCommand takes no arguments, and offers the command that was meant.
func noSuchCommand(cmd *cobra.Command, args []string) error {
	err := cobra.NoArgs(cmd, args)
	if err == nil {
		return nil
	}
	if near := cmd.SuggestionsFor(args[0]); len(near) > 0 {
		return hintedError{err, "did you mean " + cmd.CommandPath() + " " + near[0] + "?"}
	}
	return err
}

// missingFlag says of a flag that a command cannot do without what it is.
func missingFlag(name string) error {
	what := map[string]string{
		"field": ": the file with the field's outline, such as --field field.geojson",
		"out":   ": a folder for the files, such as --out out",
	}
	return usageError{fmt.Errorf("--%s is missing%s", name, what[name])}
}
