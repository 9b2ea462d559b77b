package verdict_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/internal/mapping/fieldstats"
)

// intervals tells how often the interval of the mean, of 95 %, and that of the area over
// the level, of 90 %, hold the truth, of fields where they are given.
func intervals(t *testing.T, all []judged) {
	t.Helper()
	row := func(name string, some []judged) {
		mean := of(some, func(f judged) bool { return f.figures.Stats.Interval.Known() })
		t.Logf("%-32s mean's interval holds %.2f, mean above it %.2f (%d); area's holds %.2f (%d)", name,
			share(mean, func(f judged) bool {
				i := f.figures.Stats.Interval
				return i.Low <= f.trueMean && f.trueMean <= i.High
			}), share(mean, func(f judged) bool { return f.trueMean > f.figures.Stats.Interval.High }), len(mean),
			share(some, judged.areaHeld), len(some))
	}
	row("all", all)
	for k, kind := range inventedKinds {
		row(kind.name, of(all, func(f judged) bool { return f.kind == k }))
	}
	for _, n := range inventedStops {
		row(fmt.Sprint(n, " stops"), of(all, func(f judged) bool { return f.stops == n }))
	}
	if len(all) >= 200 {
		assert.Greater(t, share(all, judged.areaHeld), 0.8)
	}
}

// areaHeld reports that the interval of the area over the level holds it.
func (f judged) areaHeld() bool {
	i := fieldstats.AreaOver(f.figures.Over, f.figures.Stats.Stops, 1, f.expectedOver, 0.9)
	return i.Low <= f.shareOver && f.shareOver <= i.High
}
