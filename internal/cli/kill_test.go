package cli_test

import (
	"context"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/cli"
	"github.com/geocoris/geocoris/internal/testkit"
)

// The test program is geocoris when it is called with this: the arguments as JSON.
const program = "GEOCORIS_TEST_ARGUMENTS"

func TestMain(m *testing.M) {
	if text := os.Getenv(program); text != "" {
		var args []string
		if err := json.Unmarshal([]byte(text), &args); err != nil {
			panic(err)
		}
		os.Exit(cli.Run(context.Background(), args, cli.Streams{In: os.Stdin, Out: os.Stdout, Err: os.Stderr}))
	}
	cli.BuildOnce()
	os.Exit(testkit.Main(m))
}

// process is geocoris as a program of its own.
func process(t *testing.T, args ...string) *exec.Cmd {
	t.Helper()
	text, err := json.Marshal(args)
	require.NoError(t, err)
	cmd := exec.Command(os.Args[0])
	cmd.Env = append(os.Environ(), program+"="+string(text))
	return cmd
}

func recording(who string) []string {
	return []string{"record", "out", "--date", "2026-07-17", "--field", "Pivot", "--area", "1ha", "--product", "product A=1 kg", "--who", who, "--quiet"}
}

// Programs that record at once wait for one another: each has its line and its file.
func TestNoRecordIsLost(t *testing.T) {
	inFolder(t)
	for _, folderToo := range []bool{false, true} {
		require.NoError(t, os.RemoveAll("out"))
		require.NoError(t, os.MkdirAll("out", 0o755))
		if folderToo { // which keeps the folder in its place
			require.NoError(t, os.Mkdir("out/theirs", 0o755))
		}
		const many = 8
		var running []*exec.Cmd
		for n := range many {
			cmd := process(t, recording(fmt.Sprintf("person %d", n))...)
			require.NoError(t, cmd.Start())
			running = append(running, cmd)
		}
		for _, cmd := range running {
			require.NoError(t, cmd.Wait())
		}
		table, err := os.ReadFile("out/applied.csv")
		require.NoError(t, err)
		found, err := filepath.Glob("out/applied_*.json")
		require.NoError(t, err)
		assert.Len(t, found, many)
		for n := range many {
			assert.Equal(t, 1, strings.Count(string(table), fmt.Sprintf("person %d", n)), string(table))
		}
		left, err := filepath.Glob(".geocoris-*")
		require.NoError(t, err)
		assert.Empty(t, left)
	}
}

// A program is killed at a moment that it does not choose. No line that was reported
// is lost, no table begins anew, and a map is that of one week or of the other.
func TestKilledAtAnyMoment(t *testing.T) {
	rounds := 6
	if os.Getenv("GEOCORIS_CI") != "" {
		rounds = 40
	}
	inFolder(t)
	for _, n := range []string{"1", "2"} {
		code, _, errs := run(t, "map", "week"+n+".csv", "--field", "field.geojson", "--out", "kept"+n)
		require.Zero(t, code, errs)
	}
	code, _, errs := run(t, "map", "week1.csv", "--field", "field.geojson", "--out", "out")
	require.NoError(t, os.WriteFile("out/theirs.txt", []byte("kept"), 0o644))
	require.Zero(t, code, errs)

	killed := 0
	kill := func(within time.Duration, args ...string) (done bool) {
		cmd := process(t, args...)
		require.NoError(t, cmd.Start())
		timer := time.AfterFunc(rand.N(within), func() { _ = cmd.Process.Kill() })
		err := cmd.Wait()
		timer.Stop()
		if err != nil {
			killed++
		}
		return err == nil
	}
	usual := took(func() { require.NoError(t, process(t, recording("first")...).Run()) })
	reported := []string{"first"}
	for n := range rounds {
		who := fmt.Sprintf("person %d", n)
		if kill(2*usual, recording(who)...) {
			reported = append(reported, who)
		}
		table, err := os.ReadFile("out/applied.csv")
		require.NoError(t, err)
		for _, who := range reported {
			assert.Contains(t, string(table), who)
		}
		found, err := filepath.Glob("out/applied_*.json")
		require.NoError(t, err)
		assert.Len(t, found, strings.Count(string(table), "\n")-1, "a line for each file")
	}
	week := func(n string) []string {
		return []string{"map", "week" + n + ".csv", "--field", "field.geojson", "--out", "out", "--force", "--quiet"}
	}
	usual = took(func() { require.NoError(t, process(t, week("2")...).Run()) })
	for n := range rounds {
		kill(2*usual, week(fmt.Sprint(1+n%2))...)
		now := contents(t, "out")
		assert.Equal(t, "kept", now["theirs.txt"])
		matches := 0
		for _, n := range []string{"1", "2"} {
			same := true
			for name, text := range contents(t, "kept"+n) {
				if name != "run.json" { // which names its folder
					same = same && now[name] == text
				}
			}
			if same && strings.Contains(now["run.json"], "week"+n+".csv") {
				matches++
			}
		}
		assert.Equal(t, 1, matches, "neither the one week nor the other")
	}
	t.Logf("%d of %d killed", killed, 2*rounds)
}

func took(work func()) time.Duration {
	from := time.Now()
	work()
	return time.Since(from)
}
