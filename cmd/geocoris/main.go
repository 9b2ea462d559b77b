// Command geocoris turns a morning's GPS-tagged counts into a map of where to
// treat, where to watch, and what is clear.
package main

import (
	"context"
	"fmt"
	"os"
	"os/signal"
	"runtime"
	"runtime/debug"
	"syscall"
	"time"

	"github.com/geocoris/geocoris/internal/cli"
)

// heapFloor keeps the garbage collector from running again and again from 4 MB on.
// Nothing touches it, so it takes address space, not memory.
const heapFloor = 32 << 20

// floor is laid when the collector runs first.
var floor []byte

// collectLate lets the collector run first at 32 MB, which a morning's map does not
// reach: it then takes 80 in place of 92 ms of processor time (means of 30 runs in
// turn). From there on it runs as it usually does, over a heap of heapFloor or more. A
// user's own GOGC stands.
func collectLate() {
	if os.Getenv("GOGC") != "" {
		return
	}
	debug.SetGCPercent(800) // of 4 MB
	runtime.AddCleanup(new([64]byte), func(usual int) {
		floor = make([]byte, heapFloor)
		debug.SetGCPercent(usual)
	}, 100)
}

// unwinding is how long a run that was told to end may take to put away what it has
// begun: a file that is being written to a slow disk takes a moment.
const unwinding = 2 * time.Second

func main() {
	collectLate()
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	done := make(chan int, 1)
	go func() {
		done <- cli.Run(ctx, os.Args[1:], cli.Streams{In: os.Stdin, Out: os.Stdout, Err: os.Stderr, Today: time.Now().Format(time.DateOnly), Env: os.Getenv})
	}()
	code := 0
	select {
	case code = <-done:
	case <-ctx.Done():
		stop() // a second signal ends the program at once
		code = ended(done)
	}
	os.Exit(code)
}

// ended is the exit code of a run that was told to end, but for one that waits for
// input.
func ended(done <-chan int) int {
	select {
	case code := <-done:
		return code
	case <-time.After(unwinding):
		fmt.Fprintln(os.Stderr, "geocoris: stopped")
		return 1
	}
}
