package heap

import (
	"runtime"
	"testing"
	"time"

	_ "github.com/geocoris/geocoris/internal/testkit"
)

// Small work grows by the least and what it uses, large work by 96 MiB, larger by most of
// what it uses beyond the free, and the largest by half of all.
func TestHowFarTheHeapMayGrow(t *testing.T) {
	for _, c := range []struct{ live, grown uint64 }{
		{smallest, least + smallest}, {least, 2 * least}, {spare - least, spare}, {spare, spare}, {free + 5*spare/4, spare}, {free + 5*spare/2, 2 * spare}, {3 * free, free * 3 / 2}, {4 * free, 2 * free}, {1 << 40, 1 << 39},
	} {
		if got := c.live * uint64(percentFor(c.live)) / 100; got > c.grown || c.grown-got > c.live/100 {
			t.Errorf("of %d bytes: by %d, want %d", c.live, got, c.grown)
		}
	}
	for _, live := range []uint64{0, smallest - 1} {
		if got, want := percentFor(live), percentFor(smallest); got != want {
			t.Errorf("of %d bytes: %d %%, want %d, as of %d bytes", live, got, want, smallest)
		}
	}
}

// Work that uses much holds up to half as much more, less work what is enough.
func TestHowMuchIsHeld(t *testing.T) {
	for _, c := range []struct{ used, most uint64 }{
		{0, enough}, {free, enough}, {286 << 20, enough}, {300 << 20, 364 << 20}, {4 * free, 6 * free},
	} {
		if got := mostFor(c.used); got != c.most {
			t.Errorf("of %d bytes in use: %d, want %d", c.used, got, c.most)
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
