//go:build !js && !nosqlite

package season_test

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/followup/season"
	"github.com/geocoris/geocoris/internal/testkit"
)

// The test program adds visits when it is called with this: file, first number, how
// many. It reports each once it is stored.
const adder = "SEASON_TEST_ADD"

func TestMain(m *testing.M) {
	if job := os.Getenv(adder); job != "" {
		if err := addVisits(strings.Split(job, "|")); err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
		os.Exit(0)
	}
	os.Exit(m.Run())
}

func addVisits(job []string) error {
	first, errA := strconv.Atoi(job[1])
	count, errB := strconv.Atoi(job[2])
	if err := errors.Join(errA, errB); err != nil {
		return err
	}
	fmt.Println("begun")
	s, err := season.OpenToAdd(job[0])
	if err != nil {
		return err
	}
	defer s.Close()
	for n := first; n < first+count; n++ {
		id, err := s.Add(visit(n))
		if err != nil && !errors.Is(err, season.ErrKnown) { // by the one that was killed here
			return err
		}
		fmt.Printf("%d %d\n", n, id)
	}
	return nil
}

// adding starts a process that adds visits.
func adding(t *testing.T, path string, first, count int) (*exec.Cmd, *bufio.Scanner, *strings.Builder) {
	t.Helper()
	cmd := exec.Command(os.Args[0])
	cmd.Env = append(os.Environ(), fmt.Sprintf("%s=%s|%d|%d", adder, path, first, count))
	var errs strings.Builder
	cmd.Stderr = &errs
	out, err := cmd.StdoutPipe()
	require.NoError(t, err)
	require.NoError(t, cmd.Start())
	return cmd, bufio.NewScanner(out), &errs
}

// reported reads what a process says was stored: number → visit.
func reported(t *testing.T, lines *bufio.Scanner, into map[int]int64) {
	t.Helper()
	for lines.Scan() {
		var n int
		var id int64
		if _, err := fmt.Sscanf(lines.Text(), "%d %d", &n, &id); err == nil {
			into[n] = id
		}
	}
	require.NoError(t, ignoreClosed(lines.Err()))
}

func ignoreClosed(err error) error {
	if errors.Is(err, os.ErrClosed) || errors.Is(err, io.EOF) {
		return nil
	}
	return err
}

// A process that adds is killed at fifty random moments. Whatever it reported as
// stored must be there, byte for byte, and the file whole.
func TestKilledAtFiftyMoments(t *testing.T) {
	if testing.Short() {
		t.Skip("fifty processes are started and killed")
	}
	path := filepath.Join(t.TempDir(), "s.gpkg")
	rng := rand.New(rand.NewPCG(50, 50))
	stored := map[int]int64{}
	const perRun = 1000
	// How long a few take on this machine, as busy as it is: else no kill finds one at work.
	first, said, errs := adding(t, path, 50*perRun, 4)
	require.True(t, said.Scan())
	begun := time.Now()
	reported(t, said, stored)
	require.NoError(t, first.Wait(), errs.String())
	few := time.Since(begun)
	for run := range testkit.Few(50, 20) {
		before := len(stored)
		cmd, lines, _ := adding(t, path, run*perRun, perRun)
		require.True(t, lines.Scan(), "it says when it begins")
		timer := time.AfterFunc(time.Duration(rng.Int64N(int64(few))), func() { _ = cmd.Process.Kill() })
		reported(t, lines, stored)
		_ = cmd.Wait() // it was killed
		timer.Stop()
		if len(stored) == before { // it may have become busier
			few += few / 4
		}
	}
	s := opened(t, path)
	require.NoError(t, s.Check())
	for n, id := range stored {
		v, err := s.Visit(id)
		require.NoError(t, err, "visit %d was reported as stored", n)
		assert.Equal(t, visit(n).Files, v.Files)
		assert.Equal(t, visit(n).SettingsFiles, v.SettingsFiles)
		assert.Equal(t, visit(n).Fields, v.Fields)
	}
	lines, err := s.List()
	require.NoError(t, err)
	t.Logf("%d visits reported, %d stored, none lost", len(stored), len(lines))
	assert.GreaterOrEqual(t, len(lines), len(stored))
	assert.LessOrEqual(t, len(lines)-len(stored), 50, "at most one a kill was stored and not yet reported")
	for _, l := range lines {
		assert.Equal(t, 1, l.Stops, "no visit is there by half")
		assert.Len(t, l.Files, 1)
		v, err := s.Visit(l.ID)
		require.NoError(t, err)
		assert.Len(t, v.Fields, 1)
		assert.Len(t, v.SettingsFiles, 1)
	}
	require.Greater(t, len(stored), 10, "most were killed before they added any")
}

// Two processes that begin a season at once both succeed.
func TestTwoWritersAtOnce(t *testing.T) {
	path := filepath.Join(t.TempDir(), "s.gpkg")
	const each = 15
	stored := [2]map[int]int64{{}, {}}
	var cmds [2]*exec.Cmd
	var lines [2]*bufio.Scanner
	var errs [2]*strings.Builder
	for i := range cmds {
		cmds[i], lines[i], errs[i] = adding(t, path, i*each, each)
	}
	for i := range cmds {
		reported(t, lines[i], stored[i])
		require.NoError(t, cmds[i].Wait(), errs[i].String())
		assert.Len(t, stored[i], each)
	}
	s := opened(t, path)
	all, err := s.List()
	require.NoError(t, err)
	assert.Len(t, all, 2*each)
	require.NoError(t, s.Check())
}
