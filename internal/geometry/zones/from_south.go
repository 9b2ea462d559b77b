//go:build !small

package zones

import (
	"cmp"

	"github.com/geocoris/geocoris/internal/sorted"
	"github.com/geocoris/geocoris/interp"
)

// fromSouth are the numbers of stops from south to north.
func fromSouth(stops []interp.Sample) []int {
	type northing struct {
		y    float64
		stop int
	}
	all, order := make([]northing, len(stops)), make([]int, len(stops))
	for i, s := range stops {
		all[i] = northing{s.Y, i}
	}
	sorted.By(all, func(a, b northing) int { return cmp.Compare(a.y, b.y) })
	for k, n := range all {
		order[k] = n.stop
	}
	return order
}
