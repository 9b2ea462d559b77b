// Package heap lays out the program's memory before most of it is asked for. Who imports it
// has that done as the program begins: packages begin in the order of their paths, once what
// they import has begun, and the largest tables are those of later ones.
package heap

import (
	"runtime"
	"runtime/debug"
	"runtime/metrics"
	"syscall"
)

// least is what the heap may grow by, however little is in use, before the garbage
// collector runs: what a morning's map allocates stays below it.
const least = 32 << 20

// first is what a morning's map allocates, and some more.
const first = 24 << 20

var _ = lay()

// lay asks for the first of the heap in pages of 2 MB where the system has them: it is then
// faulted in some times in place of thousands. That room is free again once the collector
// has run, and as the heap grows into it from below, little more is touched than is used. A
// user's own GOGC stands, and so does a GOMEMLIMIT.
func lay() (laid struct{}) {
	if own, _ := syscall.Getenv("GOGC"); own != "" {
		return
	}
	if own, _ := syscall.Getenv("GOMEMLIMIT"); own != "" {
		limit = func(uint64) {}
	}
	debug.SetGCPercent(-1)
	adviseLarge(make([]byte, first))
	runtime.GC()
	pace()
	eachCollection(pace)
	return
}

// pace sets when the collector runs next.
func pace() {
	used := live()
	debug.SetGCPercent(percentFor(used))
	limit(used)
}

// limit sets what the program holds at the most, if that can be helped.
var limit = func(used uint64) { debug.SetMemoryLimit(int64(mostFor(used))) }

// enough is what large work may hold: near it, what is free goes back to the system at once,
// and the collector runs more often.
const enough = 340 << 20

// mostFor is more where a good part of it is in use: the collector would do nothing but run.
func mostFor(used uint64) uint64 { return max(enough, used+roomBeside(used)) }

// roomBeside is most of what is in use beyond some, up to half of all: each run of the
// collector looks at all of that. With half of what is beyond, half a million rows had it
// run 89 times, most of them with some 20 MiB of room.
func roomBeside(used uint64) uint64 { return min((max(used, free)-free)/5*4, used/2) }

// free is in use without such room: so what uses little less than enough holds no more.
const free = 220 << 20

// spare is how much the heap may grow before the collector runs, beside large work, which
// would hold twice what it needs. Then the collector runs more often, at some hundredths of
// the time.
const spare = 96 << 20

// smallest is what a percentage is of, where less is in use.
const smallest = 4 << 20

// percentFor is by how much of what is in use, in percent, the heap may grow: by as much,
// as ever, and the least, up to what is spare.
func percentFor(live uint64) int {
	live = max(live, smallest)
	return int(100 * max(min(live+least, spare), roomBeside(live)) / live)
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
