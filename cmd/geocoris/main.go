// Command geocoris turns a morning's GPS-tagged counts into a map of where to
// treat, where to watch, and what is clear.
package main

import (
	"context"
	"os"
	"os/signal"

	"github.com/geocoris/geocoris/internal/cli"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	code := cli.Run(ctx, os.Args[1:], cli.Streams{In: os.Stdin, Out: os.Stdout, Err: os.Stderr})
	stop()
	os.Exit(code)
}
