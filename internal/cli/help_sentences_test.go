package cli_test

import (
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/testkit"
)

// Help is read in the field, on a phone or in a hurry: no sentence of what a command does
// has over 25 words. Flags and examples are no sentences, nor are lists.
func TestSentencesOfHelpAreShort(t *testing.T) {
	const mostWords = 25
	for _, command := range []string{"", "check", "compare", "handoff", "map", "plan", "season add", "serve", "template"} {
		t.Run(command, func(t *testing.T) {
			code, out, errs := run(t, append(strings.Fields(command), "--help")...)
			require.Zero(t, code, errs)
			long, _, ok := strings.Cut(out, "\nUsage:")
			require.True(t, ok)
			for _, paragraph := range regexp.MustCompile(`\n\s*\n`).Split(long, -1) {
				if strings.HasPrefix(paragraph, " ") {
					continue // a list
				}
				read := testkit.ReadingOf(strings.Join(strings.Fields(paragraph), " "))
				assert.LessOrEqual(t, read.LongestWords, mostWords, read.Longest)
			}
		})
	}
}
