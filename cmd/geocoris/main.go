// Command geocoris turns a morning's GPS-tagged counts into a map of where to
// treat, where to watch, and what is clear.
package main

import (
	"context"
	"fmt"
	"os"
	"os/signal"
	"syscall"
	"time"

	_ "github.com/geocoris/geocoris/cmd/geocoris/heap" // lays it out
	"github.com/geocoris/geocoris/internal/cli"
)

// unwinding is how long a run that was told to end may take to put away what it has
// begun: a file that is being written to a slow disk takes a moment.
const unwinding = 2 * time.Second

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	start, done := cli.StartOf(os.Args), make(chan int, 1)
	go func() {
		done <- cli.Run(ctx, start.Arguments(), cli.Streams{In: os.Stdin, Out: os.Stdout, Err: os.Stderr, Today: time.Now().Format(time.DateOnly), Env: os.Getenv})
	}()
	code := 0
	select {
	case code = <-done:
	case <-ctx.Done():
		stop() // a second signal ends the program at once
		code = ended(done)
	}
	if code != 0 && start.DoubleClicked() { // the window closes with the program
		fmt.Fprintln(os.Stderr, "Press Enter to close this window.")
		_, _ = fmt.Scanln()
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
