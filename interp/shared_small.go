//go:build small

package interp

// shared does work on places: a page has one thread.
func shared(places int, work func(from, to int)) { work(0, places) }
