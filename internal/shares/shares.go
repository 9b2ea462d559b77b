//go:build !small

package shares

import (
	"runtime"
	"sync"
)

// Of does something with each of n things, share by share, those from one up to, not
// including, another. No share but the last has fewer than the least, which is 1 or more. It
// returns when all is done.
func Of(n, least int, do func(from, to int)) {
	share := max(least, (n+runtime.GOMAXPROCS(0)-1)/runtime.GOMAXPROCS(0))
	var wg sync.WaitGroup
	for from := 0; from < n; from += share {
		wg.Go(func() { do(from, min(from+share, n)) })
	}
	wg.Wait()
}
