package testkit

import (
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"
)

// Slow makes the processor so many times slower for a process and all that it started or
// will start, until the test ends: they run for some milliseconds, and are stopped for so
// many times longer. That reaches all threads of a browser, its workers and the compiling
// of their code too, which the throttle of its own tools does not.
func Slow(t testing.TB, root int, times float64) {
	t.Helper()
	s := slowing{root: root, times: times, end: make(chan struct{})}
	var over sync.WaitGroup
	over.Go(s.run)
	t.Cleanup(func() {
		close(s.end)
		over.Wait()
	})
}

// turn is how long they run at a time.
const turn = 4 * time.Millisecond

// search is how often processes that were started meanwhile are looked for.
const search = 50 * time.Millisecond

type slowing struct {
	root  int
	times float64
	end   chan struct{}
	all   []int
}

func (s *slowing) run() {
	defer func() { s.signal(syscall.SIGCONT) }()
	var searched time.Time
	for ran := time.Now(); ; ran = time.Now() {
		select {
		case <-s.end:
			return
		case <-time.After(turn):
		}
		if time.Since(searched) > search {
			s.all, searched = processes(s.root), time.Now()
		}
		s.signal(syscall.SIGSTOP)
		time.Sleep(time.Duration(float64(time.Since(ran)) * (s.times - 1)))
		s.signal(syscall.SIGCONT)
	}
}

// signal tells all of them. Those that ended meanwhile hear nothing.
func (s *slowing) signal(what syscall.Signal) {
	for _, pid := range s.all {
		_ = syscall.Kill(pid, what)
	}
}

// Worked is how long a process and all that come of it have had a processor, but for those
// that have ended. Other programs on the machine blur it much less than what a clock says.
func Worked(root int) (all time.Duration) {
	for _, pid := range processes(root) {
		tasks, _ := filepath.Glob(fmt.Sprintf("/proc/%d/task/*/schedstat", pid))
		for _, path := range tasks {
			var had time.Duration // nanoseconds
			if text, err := os.ReadFile(path); err == nil {
				_, _ = fmt.Sscan(string(text), &had)
			}
			all += had
		}
	}
	return all
}

// processes are a process and all that come of it.
func processes(root int) []int {
	children := map[int][]int{}
	stats, _ := filepath.Glob("/proc/[0-9]*/stat")
	for _, path := range stats {
		text, err := os.ReadFile(path)
		if err != nil {
			continue // it ended
		}
		pid, _ := strconv.Atoi(filepath.Base(filepath.Dir(path)))
		_, after, _ := strings.Cut(string(text), ") ") // the name before it may have spaces
		var state string
		var parent int
		if _, err := fmt.Sscan(after, &state, &parent); err == nil {
			children[parent] = append(children[parent], pid)
		}
	}
	all := []int{root}
	for i := 0; i < len(all); i++ {
		all = append(all, children[all[i]]...)
	}
	return all
}
