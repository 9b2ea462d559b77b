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
// many times longer as they worked. That reaches all threads of a browser, its workers and
// the compiling of their code too, which the throttle of its own tools does not.
//
// What they wait for other programs of the machine is taken off what they are stopped for, as
// far as it goes: the system tells both times (/proc/pid/task/tid/schedstat). See [First].
func Slow(t testing.TB, root int, times float64) {
	t.Helper()
	s := slowing{root: root, times: times, end: make(chan struct{}), threads: map[string]*thread{}}
	var over sync.WaitGroup
	over.Go(s.run)
	t.Cleanup(func() {
		close(s.end)
		over.Wait()
	})
}

// turn is how long they run at a time.
const turn = 10 * time.Millisecond

// least is for how long they are stopped at least: to stop and to go on takes some work.
const least = 5 * time.Millisecond

// search is how often processes and threads that were started meanwhile are looked for.
const search = 100 * time.Millisecond

// credit is how much of what they waited for too long is made up for later.
const credit = time.Second

type slowing struct {
	root    int
	times   float64
	end     chan struct{}
	all     []int
	threads map[string]*thread // by their files of the system
}

// thread is how long one had a processor, and waited for one, when it was asked last.
type thread struct {
	file           *os.File
	worked, waited time.Duration
}

func (s *slowing) run() {
	defer func() { s.signal(syscall.SIGCONT) }()
	defer s.forget()
	var searched time.Time
	var owed time.Duration // for how long they are to be stopped yet
	for began := time.Now(); ; {
		select {
		case <-s.end:
			return
		case <-time.After(turn):
		}
		if time.Since(searched) > search {
			s.find()
			searched = time.Now()
		}
		worked, waited := s.since(time.Since(began))
		began = time.Now()
		owed = max(owed+time.Duration(float64(worked)*(s.times-1))-waited, -credit)
		if owed < least {
			continue
		}
		s.signal(syscall.SIGSTOP)
		time.Sleep(owed)
		s.signal(syscall.SIGCONT)
		owed -= time.Since(began)
		began = time.Now()
	}
}

// find looks for processes and threads that are new.
func (s *slowing) find() {
	s.all = processes(s.root)
	for _, pid := range s.all {
		tasks, _ := filepath.Glob(fmt.Sprintf("/proc/%d/task/*/schedstat", pid))
		for _, path := range tasks {
			if _, known := s.threads[path]; !known {
				s.add(path)
			}
		}
	}
}

func (s *slowing) add(path string) {
	if file, err := os.Open(path); err == nil {
		one := &thread{file: file}
		_ = one.ask()
		s.threads[path] = one
	}
}

func (s *slowing) forget() {
	for _, one := range s.threads {
		_ = one.file.Close()
	}
}

// since is for how much of the time that they ran one of them worked, and for how much none
// did and some waited for a processor.
func (s *slowing) since(ran time.Duration) (worked, waited time.Duration) {
	for path, one := range s.threads {
		before := *one
		if err := one.ask(); err != nil { // it ended
			_ = one.file.Close()
			delete(s.threads, path)
			continue
		}
		worked += one.worked - before.worked
		waited = max(waited, one.waited-before.waited)
	}
	worked = min(worked, ran)
	return worked, min(waited, ran-worked)
}

func (t *thread) ask() error {
	var text [64]byte
	n, err := t.file.ReadAt(text[:], 0)
	if n == 0 {
		return err
	}
	for i, word := range strings.Fields(string(text[:n]))[:2] {
		ns, err := strconv.ParseInt(word, 10, 64)
		if err != nil {
			return err
		}
		*[]*time.Duration{&t.worked, &t.waited}[i] = time.Duration(ns)
	}
	return nil
}

// First lets the test's program, all that it starts, and what its terminal runs beside it go
// before the machine's other work until the test ends (sched(7), of groups made by
// themselves); allowed is false where the system does not let it. It is for measuring, for a
// minute.
func First(t testing.TB) (allowed bool) {
	t.Helper()
	const group = "/proc/self/autogroup"
	t.Cleanup(func() { _ = os.WriteFile(group, []byte("0"), 0) })
	return os.WriteFile(group, []byte("-20"), 0) == nil
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
