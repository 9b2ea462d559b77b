//go:build !small

package interp

import (
	"runtime"
	"sync"
	"sync/atomic"
)

// shared does work on so many places, a few at a time: the processors share them.
func shared(places int, work func(from, to int)) {
	var next atomic.Int64
	rest := func() {
		for to := int(next.Add(toldAtOnce)); to-toldAtOnce < places; to = int(next.Add(toldAtOnce)) {
			work(to-toldAtOnce, min(to, places))
		}
	}
	var others sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), (places+toldAtOnce-1)/toldAtOnce) - 1 {
		others.Go(rest)
	}
	rest()
	others.Wait()
}
