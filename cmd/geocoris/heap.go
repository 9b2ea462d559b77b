package main

import (
	"os"
	"runtime"
	"runtime/debug"
	"runtime/metrics"
)

// heapFloor keeps the garbage collector from running again and again from 4 MB on: what a
// morning's map allocates stays below it. Nothing touches it, so it takes address space,
// not memory.
const heapFloor = 32 << 20

// firstHeap is what a morning's map allocates, and some more.
const firstHeap = 24 << 20

// layHeap lays the floor, which is to be held as long as the program runs, and asks for the
// first of the heap in pages of 2 MB where the system has them: it is then faulted in some
// times in place of thousands. That room is free again once the collector has run beside
// what the program begins with, and as the heap grows into it from below, little more is
// touched than is used. A user's own GOGC stands.
func layHeap() (floor []byte) {
	if os.Getenv("GOGC") != "" {
		return nil
	}
	usual := debug.SetGCPercent(-1)
	floor = make([]byte, heapFloor)
	adviseLarge(make([]byte, firstHeap))
	go func() {
		runtime.GC()
		debug.SetGCPercent(usual)
		eachCollection(func() { debug.SetGCPercent(percentFor(live(), usual)) })
	}()
	return floor
}

// spare is how much the heap may grow before the collector runs: as much as is in use, as
// ever, but for large work, which would hold twice what it needs. Then the collector runs
// more often, at some hundredths of the time.
const spare = 96 << 20

// leastPercent bounds how often it runs, since each time it looks at all that is in use.
const leastPercent = 20

// percentFor is by how much of what is in use, in percent, the heap may grow.
func percentFor(live uint64, usual int) int {
	if live <= spare {
		return usual
	}
	return min(usual, max(leastPercent, int(100*spare/live)))
}

// live is how much of the heap was in use when the collector last ran.
func live() uint64 {
	sample := []metrics.Sample{{Name: "/gc/heap/live:bytes"}}
	metrics.Read(sample)
	return sample[0].Value.Uint64()
}

// eachCollection calls what is to be done after each run of the collector: nothing holds
// what it attaches that to.
func eachCollection(do func()) {
	type passing struct{ _ *byte }
	runtime.AddCleanup(&passing{new(byte)}, func(do func()) {
		do()
		eachCollection(do)
	}, do)
}
