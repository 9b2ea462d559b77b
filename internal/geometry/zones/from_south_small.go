//go:build small

package zones

import "github.com/geocoris/geocoris/interp"

// fromSouth are the numbers of stops as they come: a walk has few.
func fromSouth(stops []interp.Sample) []int {
	order := make([]int, len(stops))
	for i := range order {
		order[i] = i
	}
	return order
}
