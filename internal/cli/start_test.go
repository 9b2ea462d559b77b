package cli_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/internal/cli"
)

// A double click opens the page over the folder of the program; who types has what they
// typed, and without arguments the help.
func TestADoubleClickOpensThePage(t *testing.T) {
	const home, program = "/ada", "/ada/field work/geocoris"
	page := []string{"serve", "/ada/field work"}
	windows := cli.Start{System: "windows", Args: []string{program}, Desktop: true, Terminal: true, Home: home, Working: "/ada/field work", Program: program}
	mac := cli.Start{System: "darwin", Args: []string{program}, Terminal: true, Home: home, Working: home, Program: program}
	for name, c := range map[string]struct {
		start  cli.Start
		change func(*cli.Start)
		want   []string
	}{
		"windows, a double click":             {windows, func(*cli.Start) {}, page},
		"windows, a file dropped onto it":     {windows, func(s *cli.Start) { s.Args = append(s.Args, "a.csv") }, []string{"a.csv"}},
		"windows, typed":                      {windows, func(s *cli.Start) { s.Desktop = false }, []string{}},
		"mac, a double click":                 {mac, func(*cli.Start) {}, page},
		"mac, typed by its name":              {mac, func(s *cli.Start) { s.Args = []string{"geocoris"} }, []string{}},
		"mac, typed where it lies":            {mac, func(s *cli.Start) { s.Args = []string{"./geocoris"}; s.Working = "/ada/field work" }, []string{}},
		"mac, typed by its path elsewhere":    {mac, func(s *cli.Start) { s.Working = "/else" }, []string{}},
		"mac, typed with a command":           {mac, func(s *cli.Start) { s.Args = append(s.Args, "map") }, []string{"map"}},
		"mac, run by another program":         {mac, func(s *cli.Start) { s.Terminal = false }, []string{}},
		"mac, where nobody has a home folder": {mac, func(s *cli.Start) { s.Home, s.Working = "", "" }, []string{}},
		"linux has programs for that":         {mac, func(s *cli.Start) { s.System = "linux" }, []string{}},
	} {
		c.change(&c.start)
		assert.Equal(t, c.want, c.start.Arguments(), name)
	}
	assert.False(t, cli.StartOf([]string{"geocoris"}).DoubleClicked(), "a test is none")
}
