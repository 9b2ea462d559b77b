package assess

import (
	"cmp"
	"math"
	"slices"

	"github.com/geocoris/geocoris/internal/sorted"
	"github.com/geocoris/geocoris/interp"
)

// Planned are the stops whose mean is the field's: all but the extra ones, which stand
// where more was to be learnt; all where there are no others.
func (f *Field) Planned() []Stop { return planned(f.Stops) }

// ExtraStops is how many stops the mean leaves out.
func (f *Field) ExtraStops() int {
	extra := 0
	for i := range f.Stops {
		if f.Stops[i].Extra {
			extra++
		}
	}
	if extra == len(f.Stops) {
		return 0
	}
	return extra
}

// MarkedExtra is how many of these were marked as extra, and do not stand together with
// others.
func (f *Field) MarkedExtra() int {
	n := f.ExtraStops()
	for _, t := range f.Together {
		n -= len(t.Others)
	}
	return max(0, n)
}

// shared are samples of which those that crowd have one say together: a planned stop and
// the extra ones that stand nearer to it than to any other, and no farther than a third of
// the reach of stops, which is half of their usual spacing. Else a walk round one hot stop
// would carry it over half of the field.
func shared(stops []Stop, samples []interp.Sample, reach float64) []interp.Sample {
	of, crowd := crowds(stops, reach/3), make([]float64, len(stops))
	for _, at := range of {
		crowd[at]++
	}
	out := append([]interp.Sample(nil), samples...)
	for i := range out {
		if n := crowd[of[i]]; n > 1 {
			out[i].Share = 1 / n
		}
	}
	return out
}

// crowds tells each extra stop the planned one that is nearest to it and no farther than
// reach, the later of two as near; any other stop is its own.
func crowds(stops []Stop, reach float64) (of []int) {
	of = make([]int, len(stops))
	var byX []int // of the planned stops, from west to east
	for i, s := range stops {
		of[i] = i
		if !s.Extra {
			byX = append(byX, i)
		}
	}
	sorted.By(byX, func(a, b int) int { return cmp.Compare(stops[a].XY[0], stops[b].XY[0]) })
	for i, s := range stops {
		if s.Extra {
			of[i] = nearestWithin(stops, byX, i, reach)
		}
	}
	return of
}

// nearestWithin looks from as far west as reach to as far east; i where there is none.
func nearestWithin(stops []Stop, byX []int, i int, reach float64) int {
	at, least, wide := stops[i].XY, reach, reach*(1+1e-9)
	nearest := i
	from, _ := slices.BinarySearchFunc(byX, at[0]-wide, func(k int, x float64) int { return cmp.Compare(stops[k].XY[0], x) })
	for _, k := range byX[from:] {
		if stops[k].XY[0] > at[0]+wide {
			break
		}
		d := math.Hypot(stops[k].XY[0]-at[0], stops[k].XY[1]-at[1])
		if d < least || d == least && (nearest == i || k > nearest) {
			nearest, least = k, d
		}
	}
	return nearest
}
