package plan

import (
	"math"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/internal/scouting/layout"
)

// choose picks n places and their gains in m², none of them where a stop was counted as
// long as there are others.
func (b *belief) choose(n int) (places []orb.Point, gains []float64) {
	taken := b.counted(n)
	for range min(n, len(b.places)) {
		best, most := -1, math.Inf(-1)
		for s := range b.places {
			if taken[s] {
				continue
			}
			if gain := b.gain(s); gain > most {
				best, most = s, gain
			}
		}
		taken[best] = true
		places, gains = append(places, b.places[best]), append(gains, most)
		b.condition(best)
	}
	return places, gains
}

// counted are the places where a stop was counted; none where fewer than n others are left.
func (b *belief) counted(n int) []bool {
	at, left := make([]bool, len(b.places)), 0
	for s, p := range b.places {
		if at[s] = crowded(b.stops, p, layout.SamePlace); !at[s] {
			left++
		}
	}
	if left < n {
		return make([]bool, len(b.places))
	}
	return at
}

// newStopVariance is the variance of y at a new stop, its counting error included.
func (b *belief) newStopVariance(s int) float64 {
	mean := math.Exp(b.placeMean[s]) - b.process.Offset
	return b.placeSpread[s] + b.noise(mean, b.units)
}

// gain is the ground in m² that a stop at a place is expected to bring to its
// right side, over all levels.
func (b *belief) gain(s int) (sum float64) {
	found := b.newStopVariance(s)
	for x := range b.cells {
		cov := b.prior(b.cells[x], b.places[s]) - dot(b.cellRows[x], b.placeRows[s])
		part := min(cov*cov/(found*b.cellSpread[x]), 1)
		if part < 1e-3 {
			continue
		}
		sd := math.Sqrt(b.cellSpread[x])
		for _, level := range b.levels {
			sum += misclassificationDrop((b.cellMean[x]-level)/sd, part)
		}
	}
	return sum * b.cellArea
}

// misclassificationDrop is by how much the chance of being on the wrong side of a level falls,
// when a part of the variance is resolved. distance is that of the mean from the level
// in standard deviations. What will be found moves the mean by a normal amount, so
// the chance to come is averaged over it, by Gauss and Hermite's five points
// (Abramowitz & Stegun 1964, table 25.10).
func misclassificationDrop(distance, part float64) float64 {
	if math.Abs(distance) > 5 {
		return 0
	}
	before := tail(math.Abs(distance))
	left := math.Sqrt(max(1-part, 1e-12))
	after := 0.0
	for _, q := range [5][2]float64{{0, 0.945308720483}, {0.958572464614, 0.393619323152}, {-0.958572464614, 0.393619323152},
		{2.020182870456, 0.019953242059}, {-2.020182870456, 0.019953242059}} {
		moved := distance + float64(math.Sqrt(2*part)*q[0])
		after += float64(q[1] / math.Sqrt(math.Pi) * tail(math.Abs(moved)/left))
	}
	return max(before-after, 0)
}

// tail is the normal chance above z.
func tail(z float64) float64 { return math.Erfc(z/math.Sqrt2) / 2 }

// condition takes a stop at a place as counted; the mean to be expected stays.
func (b *belief) condition(s int) {
	sd := math.Sqrt(b.newStopVariance(s))
	row := append([]float64(nil), b.placeRows[s]...)
	extend := func(points []orb.Point, rows [][]float64, spread []float64) {
		for i, p := range points {
			w := (b.prior(p, b.places[s]) - dot(rows[i], row)) / sd
			rows[i] = append(rows[i], w)
			spread[i] = max(spread[i]-float64(w*w), 1e-9*b.process.Variance)
		}
	}
	extend(b.cells, b.cellRows, b.cellSpread)
	extend(b.places, b.placeRows, b.placeSpread)
}
