package cli

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"
)

// anyNumber stands for no bound on what a command takes.
const anyNumber = -1

// takes refuses more or fewer names behind a command than it has use for; what each is, the
// command's own line of usage says.
func takes(least, most int) cobra.PositionalArgs {
	return usageArgs(func(cmd *cobra.Command, args []string) error {
		names, command := namesTaken(cmd), strings.TrimPrefix(cmd.CommandPath(), cmd.Root().Name()+" ")
		switch {
		case len(args) < least:
			name := names[min(len(args), len(names)-1)]
			return hintedError{fmt.Errorf("%s: %s is missing", command, name), "such as " + firstExample(cmd)}
		case most == 0 && len(args) > 0:
			return hintedError{fmt.Errorf("%q: %s takes flags alone, with two dashes", args[0], command), "such as " + firstExample(cmd)}
		case most > 0 && len(args) > most:
			return hintedError{fmt.Errorf("%q is one too many: %s takes %s", args[most], command, strings.Join(names, " and ")), "put a name with blanks in quotes"}
		}
		return nil
	})
}

// namesTaken are the names that stand behind a command, as its line of usage has them.
func namesTaken(cmd *cobra.Command) (names []string) {
	for _, word := range strings.Fields(cmd.Use)[1:] {
		if strings.HasPrefix(strings.Trim(word, "["), "-") {
			break
		}
		names = append(names, strings.ReplaceAll(strings.Trim(word, "[]."), "|", " or "))
	}
	return names
}

// firstExample is the first line of a command's examples that can be typed.
func firstExample(cmd *cobra.Command) string {
	lines := strings.Split(cmd.Example, "\n")
	for i, line := range lines {
		line = strings.TrimSpace(line)
		if !strings.HasPrefix(line, "geocoris") {
			continue
		}
		for strings.HasSuffix(line, `\`) && i+1 < len(lines) {
			i++
			line = strings.TrimSuffix(line, `\`) + strings.TrimSpace(lines[i])
		}
		return line
	}
	return cmd.CommandPath() + " --help"
}
