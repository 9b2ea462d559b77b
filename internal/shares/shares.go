//go:build !small

package shares

import (
	"runtime"
	"slices"
	"sync"
)

// Of does something with each of n things, share by share, those from one up to, not
// including, another. No share but the last has fewer than the least, which is 1 or more. It
// returns when all is done, the last share by the caller itself: most work is a single one,
// for which no processor need be woken.
func Of(n, least int, do func(from, to int)) {
	share, last := size(n, least), 0
	var others sync.WaitGroup
	for from := 0; n-from > share; from += share {
		others.Go(func() { do(from, from+share) })
		last = from + share
	}
	if n > 0 {
		do(last, n)
	}
	others.Wait()
}

// Both does two things, side by side where there are processors.
func Both(one, other func()) {
	var beside sync.WaitGroup
	beside.Go(one)
	other()
	beside.Wait()
}

func size(n, least int) int {
	return max(least, (n+runtime.GOMAXPROCS(0)-1)/runtime.GOMAXPROCS(0))
}

// Found is what is found in the shares of n things, see [Of], in their order.
func Found[T any](n, least int, in func(from, to int) []T) []T {
	share := size(n, least)
	found := make([][]T, (n+share-1)/share)
	Of(n, share, func(from, to int) { found[from/share] = in(from, to) })
	return slices.Concat(found...)
}
