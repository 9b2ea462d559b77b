package main

import (
	"runtime"
	"testing"
	"time"

	_ "github.com/geocoris/geocoris/internal/testkit"
)

// Small work grows to twice what it uses, large work by 96 MiB, the largest by a fifth; a
// smaller percentage that was asked for stands.
func TestHowFarTheHeapMayGrow(t *testing.T) {
	for _, c := range []struct {
		live  uint64
		usual int
		want  int
	}{
		{0, 100, 100}, {spare, 100, 100}, {spare + 1, 100, 99}, {2 * spare, 100, 50}, {5 * spare, 100, 20}, {5*spare + 1, 100, 20}, {1 << 40, 100, 20},
		{spare, 40, 40}, {2 * spare, 40, 40}, {4 * spare, 40, 25}, {1 << 40, 10, 10},
	} {
		if got := percentFor(c.live, c.usual); got != c.want {
			t.Errorf("of %d bytes at %d %%: %d, want %d", c.live, c.usual, got, c.want)
		}
	}
}

// What is to be done after each run of the collector is done after each.
func TestEachCollectionIsHeardOf(t *testing.T) {
	heard := make(chan struct{}, 100)
	eachCollection(func() { heard <- struct{}{} })
	for range 3 {
		runtime.GC()
		select {
		case <-heard:
		case <-time.After(time.Minute):
			t.Fatal("the collector ran, and nothing was done")
		}
	}
}
