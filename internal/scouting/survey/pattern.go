//go:build !small

package survey

import (
	"regexp"
	"sync"
)

// pattern is a regular expression that is compiled when it is first asked for: a table
// asks few of them, and compiling all would take a millisecond of every run.
func pattern(expression string) func() *regexp.Regexp {
	return sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(expression) })
}
