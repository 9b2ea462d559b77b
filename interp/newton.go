package interp

import "math"

// Newton's descent of a likelihood: how far apart, in logarithms of variance and range,
// slopes and curvatures are taken, how far one step goes, how many there are, how often
// one is halved, and below what gain one is the last: what it leaves is a hundredth of
// that, nothing beside 3.84, the 5 % point of χ² by which models are told apart.
const (
	newtonApart  = 0.1
	newtonReach  = 1
	newtonSteps  = 12
	newtonHalved = 4
	newtonLeast  = 0.1
)

// newton goes down from a place by steps to where the parabola through six values
// is lowest, along the bounds where it comes to them. It is not ok where it ends where
// the likelihood is no bowl, or cannot be worked out. The last step is one whose gain is
// below least.
func (l *likelihood) newton(at []float64, least float64) (lowest []float64, ok bool) {
	value := l.of(at)
	for range newtonSteps {
		p := l.parabola(at, value)
		step, gain, bowl := p.lowest()
		for i := range step {
			if l.atBound(at, i, step[i]) {
				step, gain, bowl = p.lowestAlong(1 - i)
				if l.atBound(at, 1-i, step[1-i]) { // in a corner
					return at, true
				}
				break
			}
		}
		next, below := l.stepped(at, step, value)
		switch {
		case bowl && gain < least && next != nil:
			return next, true
		case bowl && gain < newtonLeast: // rounding
			return at, true
		case next == nil:
			return nil, false
		}
		at, value = next, below
	}
	return nil, false
}

// atBound tells whether a step leads out of bounds on a side.
func (l *likelihood) atBound(at []float64, side int, step float64) bool {
	return at[side] <= l.low[side] && step < 0 || at[side] >= l.high[side] && step > 0
}

// stepped goes by a step, or by less of it where that leads up; nowhere, where less of it
// does too.
func (l *likelihood) stepped(at []float64, step [2]float64, value float64) (next []float64, below float64) {
	times := min(1, newtonReach/math.Hypot(step[0], step[1]))
	for range newtonHalved {
		next = l.clamped([]float64{at[0] + float64(times*step[0]), at[1] + float64(times*step[1])})
		if below = l.of(next); below <= value {
			return next, below
		}
		times /= 2
	}
	return nil, 0
}

// parabola stands for a likelihood near a place, in units of newtonApart.
type parabola struct {
	slope, curvature [2]float64
	twist            float64
}

// parabola looks beyond the bounds too.
func (l *likelihood) parabola(at []float64, value float64) parabola {
	of := func(x, y float64) float64 {
		return l.anywhere([]float64{at[0] + float64(x*newtonApart), at[1] + float64(y*newtonApart)})
	}
	east, west, north, south, corner := of(1, 0), of(-1, 0), of(0, 1), of(0, -1), of(1, 1)
	return parabola{
		slope:     [2]float64{(east - west) / 2, (north - south) / 2},
		curvature: [2]float64{east - 2*value + west, north - 2*value + south},
		twist:     corner - east - north + value,
	}
}

// lowest is the step to where it is lowest, and what that gains. Where it is no bowl but a
// saddle, what bends down is taken to bend up as much, so that the step leads down.
func (p parabola) lowest() (step [2]float64, gain float64, bowl bool) {
	half := math.Hypot((p.curvature[0]-p.curvature[1])/2, p.twist)
	middle := (p.curvature[0] + p.curvature[1]) / 2
	sin, cos := math.Sincos(math.Atan2(2*p.twist, p.curvature[0]-p.curvature[1]) / 2)
	along, across := float64(p.slope[0]*cos)+float64(p.slope[1]*sin), float64(p.slope[1]*cos)-float64(p.slope[0]*sin)
	steep, shallow := math.Abs(middle+half), math.Abs(middle-half)
	u, v := -along/steep*newtonApart, -across/shallow*newtonApart
	step = [2]float64{float64(u*cos) - float64(v*sin), float64(u*sin) + float64(v*cos)}
	return step, (float64(along*along)/steep + float64(across*across)/shallow) / 2, middle > half
}

// lowestAlong is lowest where only one side is free.
func (p parabola) lowestAlong(side int) (step [2]float64, gain float64, bowl bool) {
	slope, bend := p.slope[side], p.curvature[side]
	step[side] = -slope / math.Abs(bend) * newtonApart
	return step, float64(slope*slope) / math.Abs(bend) / 2, bend > 0
}
