package cli_test

import (
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestEveryFlagHasItsGroup(t *testing.T) {
	flag := regexp.MustCompile(`(?m)^  +(?:-\w, )?--([a-z-]+)`)
	for _, command := range []string{"map", "compare", "handoff", "plan", "season add"} {
		code, out, errs := run(t, append(strings.Fields(command), "--help")...)
		require.Zero(t, code, errs)
		_, flags, ok := strings.Cut(out, "\nCommon:\n")
		require.True(t, ok, command)
		_, other, ok := strings.Cut(flags, "\nOther:\n")
		require.True(t, ok, command)
		assert.Equal(t, [][]string{{"  -h, --help", "help"}}, flag.FindAllStringSubmatch(other, -1), "%s: all but help is in a group", command)
		seen := map[string]bool{}
		for _, m := range flag.FindAllStringSubmatch(flags, -1) {
			assert.False(t, seen[m[1]], "%s: --%s twice", command, m[1])
			seen[m[1]] = true
		}
		assert.Greater(t, len(seen), 20, command)
	}
}

// A default that is none is no news.
func TestNoHelpHasAnEmptyDefault(t *testing.T) {
	_, out, _ := run(t, "--help")
	for _, command := range regexp.MustCompile(`(?m)^  ([a-z]+)  +[A-Z]`).FindAllStringSubmatch(out, -1) {
		code, out, errs := run(t, command[1], "--help")
		require.Zero(t, code, errs)
		assert.NotContains(t, out, "(default [])", command[1])
		assert.NotContains(t, out, "(default )", command[1])
	}
}
