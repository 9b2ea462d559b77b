package arch_test

import (
	"bytes"
	"fmt"
	"io/fs"
	"os"
	"path"
	"regexp"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/testkit"
)

// unwanted are the words no file may hold: marks of unfinished work, and
// absolute paths, which hold on one machine only. The folders are those where
// people and build machines keep their work; /usr and /dev are the system's own
// and stand in scripts. A name before the slash makes it a relative path.
var unwanted = regexp.MustCompile(`\b(?:TO` + `DO|FIX` + `ME)\b` +
	`|(?:^|[^\w.)}-])/(?:work|tmp|root|home|Users|mnt|private)\b` +
	`|\b[A-Za-z]:\\+Users\b`)

// leftovers are the files that .gitignore keeps out of the repository.
var leftovers = regexp.MustCompile(`^(?:\.git|out|geocoris)$|\.(?:test|prof)$`)

func TestNoFileHoldsUnwantedWords(t *testing.T) {
	findings, err := findUnwanted(os.DirFS(testkit.Root(t)))
	require.NoError(t, err)
	for _, finding := range findings {
		assert.Fail(t, finding)
	}
}

// findUnwanted returns "file:line: words" for every line with unwanted words.
func findUnwanted(tree fs.FS) ([]string, error) {
	var findings []string
	err := fs.WalkDir(tree, ".", func(name string, entry fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case leftovers.MatchString(name):
			if entry.IsDir() {
				return fs.SkipDir
			}
			return nil
		case !entry.Type().IsRegular():
			return nil
		}
		text, err := fs.ReadFile(tree, name)
		for i, line := range bytes.Split(text, []byte("\n")) {
			if words := unwanted.Find(line); words != nil {
				findings = append(findings, fmt.Sprintf("%s:%d: %q", path.Clean(name), i+1, words))
			}
		}
		return err
	})
	return findings, err
}

func TestFindUnwanted(t *testing.T) {
	slash := "/" // keeps the paths below out of this file
	cases := []struct{ name, text, want string }{
		{"mark", "// TO" + "DO: later", `a.go:1: "TO` + `DO"`},
		{"other mark, second line", "x\nFIX" + "ME", `a.go:2: "FIX` + `ME"`},
		{"path at the start", slash + "tmp/x", `a.go:1: "` + slash + `tmp"`},
		{"path in quotes", `open("` + slash + `home/a")`, `a.go:1: "\"` + slash + `home"`},
		{"path in a file address", "file://" + slash + "root/a", `a.go:1: "/` + slash + `root"`},
		{"path of another system", `C:\Use` + `rs\a`, `a.go:1: "C:\\Use` + `rs"`},
		{"relative path", "../shared" + slash + "work/a b" + slash + "tmp ." + slash + "home", ""},
		{"longer words", "TO" + "DOS " + slash + "workshop", ""},
		{"the system's own", "#!/usr/bin/env bash </dev/null", ""},
	}
	for _, tc := range cases {
		t.Run(tc.name, func(t *testing.T) {
			findings, err := findUnwanted(fstest.MapFS{
				"a.go":        {Data: []byte(tc.text)},
				".git/config": {Data: []byte(slash + "tmp")},
				"out/log":     {Data: []byte(slash + "tmp")},
			})
			require.NoError(t, err)
			if tc.want == "" {
				assert.Empty(t, findings)
				return
			}
			assert.Equal(t, []string{tc.want}, findings)
		})
	}
}
