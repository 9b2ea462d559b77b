package zones

import "fmt"

// A Class says what a piece of ground calls for. The zero value is NoData, so
// that nothing forgotten can pass for clear ground. A higher class is a worse
// one.
type Class uint8

const (
	NoData Class = iota
	Clear
	Watch
	Treat
)

// Classes are the classes that ground in a field can have, worst first.
var classes = [...]Class{Treat, Watch, Clear}

// Classes returns the classes that ground in a field can have, worst first.
func Classes() []Class { return classes[:] }

// String returns the word used on maps and in files.
func (c Class) String() string {
	switch c {
	case NoData:
		return "no data"
	case Clear:
		return "clear"
	case Watch:
		return "watch"
	case Treat:
		return "treat"
	}
	return fmt.Sprintf("class %d", uint8(c))
}

// Levels are the two cuts through the surface, in the unit of the counts.
type Levels struct {
	TreatAt float64 // at or above: treat
	WatchAt float64 // at or above, and below TreatAt: watch
}

// Validate reports levels that part nothing.
func (l Levels) Validate() error {
	switch {
	case !(l.TreatAt > 0) || l.TreatAt > maxLevel:
		return fmt.Errorf("treat level %g: want a number above 0", l.TreatAt)
	case !(l.WatchAt > 0) || !(l.WatchAt < l.TreatAt):
		return fmt.Errorf("watch level %g: want a number above 0 and below the treat level %g", l.WatchAt, l.TreatAt)
	}
	return nil
}

// maxLevel keeps sums over levels finite; no count comes near it.
const maxLevel = 1e12

// ClassOf is the class of ground with a value and at a distance in metres from
// the nearest stop, before any patch is judged by its size. A value that is not
// a number has no class.
func (l Levels) ClassOf(value, distance, reach float64) Class {
	switch {
	case value >= l.TreatAt:
		return Treat
	case value >= l.WatchAt || value < l.WatchAt && distance > reach:
		return Watch
	case value < l.WatchAt:
		return Clear
	}
	return NoData
}
