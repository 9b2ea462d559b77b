package cli_test

import (
	"regexp"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The rules and plans that help names as examples are there.
func TestHelpNamesRulesThatAreThere(t *testing.T) {
	code, rules, errs := run(t, "rules")
	require.Zero(t, code, errs)
	code, plans, errs := run(t, "tally", "--plans")
	require.Zero(t, code, errs)
	met := 0
	for _, command := range [][]string{{"map"}, {"check"}, {"plan"}, {"template"}, {"tally"}, {"rules"}, {"handoff"}, {"compare"}, {"season", "add"}} {
		_, help, _ := run(t, append(command, "--help")...)
		for _, named := range regexp.MustCompile(`--(rule|plan) ([a-z]+-[a-z0-9-]+)`).FindAllStringSubmatch(help, -1) {
			met++
			assert.Contains(t, map[string]string{"rule": rules, "plan": plans}[named[1]], named[2], command)
		}
	}
	assert.Greater(t, met, 3)
}
