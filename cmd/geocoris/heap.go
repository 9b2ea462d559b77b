package main

import (
	"os"
	"runtime"
	"runtime/debug"
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
	}()
	return floor
}
